package report

import "footing/internal/result"

// Markdown writes the report of r. The HTML page is made from exactly this text.
// The same result gives the same bytes.
func Markdown(r *result.Result) []byte {
	return newIndex(forPage(r)).markdown()
}

func (ix *index) markdown() []byte {
	p := &page{index: ix}
	p.opening()
	p.sharedNote(p.Shared)
	p.lead()
	p.waits()
	p.kept()
	p.afterThese()
	p.whatThisIs()
	p.failedToday()
	p.sinceSection()
	p.findings()
	p.notJudged()
	p.calendarSection()
	p.monthly()
	p.drawnAtRandom()
	p.loggers()
	if !p.leads() {
		p.due()
	}
	p.gear()
	if !p.leads() {
		p.declared()
	}
	p.conforming()
	p.numbers()
	p.notApplicable()
	p.broken()
	p.rules()
	p.accepted()
	p.files()
	p.words()
	p.sources()
	p.gradesDefined()
	p.closing()
	return p.b.Bytes()
}

// section is how a second-level heading behaves on the page.
type section struct {
	id   string
	fold bool // can be folded
	open bool // stands open at first
}

// Titles of the sections. The page finds each by its title.
const (
	titleWhat       = "What this is"
	titleShort      = "In short"
	titleKept       = "What you may be asked for"
	titleWaits      = "What waits for no report"
	titleAfter      = "After these"
	titleGear       = "Gloves and gowns"
	titleFindings   = "Findings"
	titleFailed     = "If a sterilizer failed today"
	titleUnseen     = "Not judged"
	titleCalendar   = "Calendar"
	titleMonths     = "Month by month"
	titleTrail      = "Visits drawn at random"
	titleLoggers    = "What the data loggers show"
	titleDue        = "What runs out"
	titleDeclared   = "What you are asked to declare"
	titleConforming = "What conforms"
	titleNumbers    = "Numbers and tables"
	titleNot        = "What does not apply"
	titleBroken     = "Checks that failed to run"
	titleRules      = "Rules chosen or changed"
	titleAccepted   = "Findings accepted for a time"
	titleFiles      = "Files and rows"
	titleWords      = "Words"
	titleSources    = "Sources"
	titleGrades     = "What the grades mean"
	titleClosing    = "What comes before this report"
)

// Titles of the list of actions, by what the audit is for.
const (
	titleBeforeOpening    = "Before you open"
	titleBeforeInspection = "Before the inspection"
	titleBeforeRenewal    = "Before the renewal"
	titleToday            = "Today"
)

var sections = map[string]section{
	titleWhat:             {id: "what", fold: true, open: true},
	titleKept:             {id: "kept", fold: true, open: true},
	titleWaits:            {id: "waits"},
	titleAfter:            {id: "after", fold: true, open: true},
	titleGear:             {id: "gear", fold: true, open: true},
	titleShort:            {id: "short"},
	titleBeforeOpening:    {id: "first"},
	titleBeforeInspection: {id: "first"},
	titleBeforeRenewal:    {id: "first"},
	titleToday:            {id: "first"},
	titleFindings:         {id: "findings"},
	titleFailed:           {id: "failed", fold: true, open: true},
	titleUnseen:           {id: "unseen", fold: true, open: true},
	titleCalendar:         {id: "calendar", fold: true, open: true},
	titleMonths:           {id: "months", fold: true, open: true},
	titleTrail:            {id: "trail", fold: true, open: true},
	titleLoggers:          {id: "loggers", fold: true, open: true},
	titleDue:              {id: "due", fold: true, open: true},
	titleDeclared:         {id: "declared", fold: true, open: true},
	titleConforming:       {id: "conforming", fold: true},
	titleNumbers:          {id: "numbers", fold: true},
	titleNot:              {id: "not-applicable", fold: true},
	titleBroken:           {id: "broken", fold: true, open: true},
	titleRules:            {id: "rules", fold: true, open: true},
	titleAccepted:         {id: "accepted", fold: true, open: true},
	titleFiles:            {id: "files", fold: true},
	titleWords:            {id: "words", fold: true},
	titleSources:          {id: "sources", fold: true},
	titleGrades:           {id: "grades", fold: true, open: true},
	titleClosing:          {id: "closing"},

	titleNow:       {id: "now"},
	titleDecides:   {id: "decides"},
	titlePull:      {id: "pull"},
	titleTelephone: {id: "telephone"},
	titleWindows:   {id: "windows"},
	titleNarrowing: {id: "narrowing"},
	titleLoads:     {id: "loads", fold: true, open: true},
	titleVisits:    {id: "visits", fold: true, open: true},
	titleClients:   {id: "clients", fold: true, open: true},
	titleChains:    {id: "chains", fold: true, open: true},
	titleOthers:    {id: "others"},
	titleMissing:   {id: "missing"},
	titleLimits:    {id: "limits"},

	titleAsked:    {id: "asked", fold: true, open: true},
	titleTouching: {id: "touching", fold: true, open: true},
	titleEvidence: {id: "evidence", fold: true, open: true},
}
