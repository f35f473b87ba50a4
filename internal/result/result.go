// Package result is the shape of audit.json: one run of the battery over one
// folder of records, whole enough that every report can be made from it alone.
package result

// Format names this shape and its version; a reader refuses any other.
const Format = "footing audit 2"

// Result is one audit. Lists are in the order in which a report prints them.
type Result struct {
	Format   string            `json:"format"`
	Tool     string            `json:"tool"` // program and version
	AsOf     string            `json:"as_of"`
	Purpose  Purpose           `json:"purpose"`
	Practice Practice          `json:"practice"`
	Period   Period            `json:"period"`
	RuleSet  string            `json:"rule_set"` // "" when none was chosen
	Seed     int64             `json:"seed"`
	Grades   map[string]string `json:"grades"` // grade → what it means
	Contacts map[string]string `json:"contacts"`
	Rules    []Rule            `json:"rules"`
	Accepted []Accepted        `json:"accepted"`
	Coverage []Coverage        `json:"coverage"`
	Sources  []Source          `json:"sources"`
	Intake   []File            `json:"intake"`
	NotRead  []NotRead         `json:"not_read"`
	Traces   []Trace           `json:"traces"`

	Conclusion Conclusion `json:"conclusion"`
	Counts     Counts     `json:"counts"`
	Headline   []string   `json:"headline"`

	Checks    []Check    `json:"checks"`
	NextField *NextField `json:"next_field"` // nil when nothing more could be seen
	Findings  []Finding  `json:"findings"`
	Figures   []Figure   `json:"figures"`
	Exhibits  []Exhibit  `json:"exhibits"`
	Undrawn   int        `json:"undrawn"` // data-logger files with a finding that are not among the charts
	Due       []Due      `json:"due"`
	Actions   []Action   `json:"actions"` // rows of actions that name a finding

	Lookback []Lookback `json:"lookback"` // one a sterilizer: as if it failed on the day of the audit
	Trail    *Trail     `json:"trail"`    // nil when no visit was drawn
	Days     []Day      `json:"days"`     // by sterilizer and day
	Gaps     []Gap      `json:"gaps"`
	Months   []Month    `json:"months"`
	Gear     []Gear     `json:"gear"` // by site, item and size

	Declarations []Declaration `json:"declarations"`
	AskedFor     []AskedFor    `json:"asked_for"` // in the order of asking; empty unless an inspection was asked for
	Bundle       *Bundle       `json:"bundle"`    // of a complaint that was asked for; else nil

	Since *Since `json:"since"` // an earlier reading that was named; else nil

	Shared string `json:"shared,omitzero"` // of a copy for someone else: what it says of itself
}

// Purpose says what the audit is for: "renewal", "inspection", "complaint" or
// "self-audit", with the date it looks forward to. Chosen says that it was asked for,
// and the report opens with it.
type Purpose struct {
	Kind      string `json:"kind"`
	On        string `json:"on"`
	Complaint string `json:"complaint"`
	Chosen    bool   `json:"chosen"`
}

// Practice is what the report needs of practice.yaml.
type Practice struct {
	Name         string `json:"name"`
	Regulator    string `json:"regulator"`
	Jurisdiction string `json:"jurisdiction"`
	TimeZone     string `json:"time_zone"`
	RenewalOn    string `json:"renewal_on"`
	InspectionOn string `json:"inspection_on"`
}

// Period is the span from the first to the last event that was read.
type Period struct {
	From  string `json:"from"`
	Until string `json:"until"`
}

// Rule is a criterion that was chosen or changed against the shipped baseline.
type Rule struct {
	Criterion string `json:"criterion"`
	When      string `json:"when"`
	Ours      string `json:"ours"`
	Theirs    string `json:"theirs"`
	Source    string `json:"source"`
	Note      string `json:"note"`
	Looser    bool   `json:"looser"`
}

// Accepted is a finding that the practice has accepted for a time, with its reason.
type Accepted struct {
	Finding string `json:"finding"`
	Reason  string `json:"reason"`
	By      string `json:"by"`
	Until   string `json:"until"`
	State   string `json:"state"` // AcceptedInForce …
}

// Source is a text that a criterion rests on.
type Source struct {
	ID      string `json:"id"`
	Title   string `json:"title"`
	Body    string `json:"body"`
	Edition string `json:"edition"`
	Year    string `json:"year"`
	Kind    string `json:"kind"` // "published" or "common practice"
	Read    string `json:"read"` // day last read; "" when from memory
}

// File is one record file and where its rows went: rows = accepted + set aside;
// later is the part of accepted that lies after the audit date.
type File struct {
	File      string        `json:"file"`
	SHA256    string        `json:"sha256"`
	Kind      string        `json:"kind"`
	Encoding  string        `json:"encoding"`
	Delimiter string        `json:"delimiter"`
	Rows      int           `json:"rows"`
	Accepted  int           `json:"accepted"`
	SetAside  int           `json:"set_aside"`
	Later     int           `json:"later"`
	Corrected int           `json:"corrected"` // accepted rows that a later row corrects
	Headings  []HeadingPair `json:"headings"`
}

// HeadingPair is a heading as written and the field it was matched to ("" if none).
type HeadingPair struct {
	Written string `json:"written"`
	Field   string `json:"field"`
	Near    string `json:"near"` // for a heading that is not known: the field it may have meant
}

// NotRead is a file that holds no record, or could not be read, and why.
type NotRead struct {
	File string `json:"file"`
	Why  string `json:"why"`
}

// Trace is a data-logger file: where its lines went, and the load it was paired
// with. Lines = heading + readings + aside.
type Trace struct {
	File       string `json:"file"`
	SHA256     string `json:"sha256"`
	Bytes      int64  `json:"bytes"`
	Lines      int    `json:"lines"`
	Heading    int    `json:"heading"`  // lines that are no part of the table of readings
	Readings   int    `json:"readings"` // lines that gave a temperature at a time
	Aside      int    `json:"aside"`    // lines of the table that gave none
	Layout     string `json:"layout"`   // what of traces/layout.yaml was used; "" for nothing
	Start      string `json:"start"`    // of the first reading; "" where the file gives no date
	Sterilizer string `json:"sterilizer"`
	Program    string `json:"program"`
	Load       string `json:"load"` // "" where none was found
	By         string `json:"by"`   // how it was found: "name", "counter" or "start"
	Why        string `json:"why"`  // without a load, why; of a file not judged, why
	Judged     bool   `json:"judged"`
}

// Conclusion answers two questions: does anything written say stop, and what could not be seen.
type Conclusion struct {
	Stop     bool     `json:"stop"`
	Sentence string   `json:"sentence"`
	Unseen   string   `json:"unseen"`
	Stops    []string `json:"stops"` // fingerprints of the findings that say stop
}

// Counts sums the checks by outcome and the findings by grade.
type Counts struct {
	Checks        int `json:"checks"`
	Conforming    int `json:"conforming"`
	Nonconforming int `json:"nonconforming"`
	NotAssessed   int `json:"not_assessed"`
	NotApplicable int `json:"not_applicable"`
	Broken        int `json:"broken"`
	Critical      int `json:"critical"`
	Major         int `json:"major"`
	Minor         int `json:"minor"`
	Observation   int `json:"observation"`
	Rows          int `json:"rows"`
	Accepted      int `json:"accepted"`
	SetAside      int `json:"set_aside"`
	Later         int `json:"later"`
}

// Check outcomes.
const (
	Conforming    = "conforming"
	Nonconforming = "nonconforming"
	NotAssessed   = "not assessed"
	NotApplicable = "not applicable"
	Broken        = "broken"
)

// Grades, lowest first.
const (
	Observation = "observation"
	Minor       = "minor"
	Major       = "major"
	Critical    = "critical"
)

// Drawn is the kind of an exhibit that has a chart.
const Drawn = "trace"

// Check is one question of the battery and how it came out.
type Check struct {
	ID       string      `json:"id"`
	Title    string      `json:"title"`
	Why      string      `json:"why"`
	Thing    string      `json:"thing"`  // what was examined, singular
	Things   string      `json:"things"` // plural
	Fix      []string    `json:"fix"`
	Verify   string      `json:"verify"`
	Grades   []string    `json:"grades"`
	Outcome  string      `json:"outcome"`
	Counts   CheckCounts `json:"counts"`
	Criteria []string    `json:"criteria"`
	Missing  []Missing   `json:"missing"`
	Reason   string      `json:"reason"` // for not assessed, not applicable and broken
	Reasons  []Reason    `json:"reasons"`
}

// CheckCounts counts the things a check examined:
// examined = conforming + nonconforming + not assessed.
type CheckCounts struct {
	Examined      int `json:"examined"`
	Conforming    int `json:"conforming"`
	Nonconforming int `json:"nonconforming"`
	NotAssessed   int `json:"not_assessed"`
	NotApplicable int `json:"not_applicable"`
}

// Missing is a record kind, or one field of it, whose lack left things unassessed.
type Missing struct {
	Kind     string `json:"kind"`
	Field    string `json:"field"` // "" when the whole kind, or its coverage, is missing
	Subjects int    `json:"subjects"`
}

// Reason is one cause why things were not assessed, with how many.
type Reason struct {
	Text  string `json:"text"`
	Count int    `json:"count"`
}

// NextField is the record or column that, kept from today on, would let most be seen.
type NextField struct {
	Kind   string   `json:"kind"`
	Field  string   `json:"field"`
	Checks []string `json:"checks"`
	Why    string   `json:"why"`
}

// Finding is one grouped finding: all that one check found at one grade about one subject and matter.
type Finding struct {
	Fingerprint string       `json:"fingerprint"`
	Check       string       `json:"check"`
	Grade       string       `json:"grade"`
	Subject     Subject      `json:"subject"`
	Matter      string       `json:"matter"`
	Summary     string       `json:"summary"` // "what was found; what is needed"
	Extent      Extent       `json:"extent"`
	FirstSeen   string       `json:"first_seen"`
	Criterion   *Criterion   `json:"criterion"`
	Verdicts    []SetVerdict `json:"verdicts"` // by rule set, where they differ
	Evidence    []Evidence   `json:"evidence"`
	Steps       []string     `json:"steps"`
	Verify      string       `json:"verify"`
	Accepted    bool         `json:"accepted"`
}

// Subject names whom or what a finding is about.
type Subject struct {
	Kind string `json:"kind"`
	ID   string `json:"id"`
}

// Extent is "n of N", with the first and last date.
type Extent struct {
	N     int    `json:"n"`
	Of    int    `json:"of"`
	First string `json:"first"`
	Last  string `json:"last"`
}

// Criterion is what the finding was compared with.
type Criterion struct {
	ID      string `json:"id"`
	When    string `json:"when"`
	Value   string `json:"value"`
	Unit    string `json:"unit"`
	Set     string `json:"set"`
	Source  string `json:"source"` // a Source id
	Section string `json:"section"`
	Known   string `json:"known"` // read, computed, memory or local
	Level   string `json:"level"` // must or should
	Text    string `json:"text"`
}

// SetVerdict is how one rule set judges the same records.
type SetVerdict struct {
	Set     string `json:"set"`
	Verdict string `json:"verdict"` // "met", "not met", "cannot be told", "silent"
	Value   string `json:"value"`
	Source  string `json:"source"`
	N       int    `json:"n"` // how many of the grouped things are not met under it
}

// Evidence is one place in the records. Line and column count from 1, in characters; 0 when the place is a whole file.
type Evidence struct {
	Kind      string `json:"kind"`
	ID        string `json:"id"`
	Field     string `json:"field"`
	Heading   string `json:"heading"` // the column as written
	Value     string `json:"value"`
	Private   bool   `json:"private"`
	File      string `json:"file"`
	Line      int    `json:"line"`
	Column    int    `json:"column"`
	EndColumn int    `json:"end_column"`
	Row       int    `json:"row"`
	Sheet     string `json:"sheet"`
	Cell      string `json:"cell"`
	Note      string `json:"note"`
}

// Figure is a number that a check computed, with its range where it has one.
type Figure struct {
	Check string   `json:"check"`
	Name  string   `json:"name"`
	Value float64  `json:"value"`
	Unit  string   `json:"unit"`
	Low   *float64 `json:"low"`
	High  *float64 `json:"high"`
}

// Exhibit is a table or series that a check shows beside its findings.
type Exhibit struct {
	ID      string     `json:"id"`
	Kind    string     `json:"kind"` // "table", or "trace" for one with a chart
	Check   string     `json:"check"`
	Title   string     `json:"title"`
	Columns []string   `json:"columns"`
	Rows    [][]string `json:"rows"`
	Chart   *Chart     `json:"chart"` // of a trace; nil for a table
}

// Chart is what a data-logger file shows, thinned to at most 1,000 points that lose
// no dip, and one in each gap of which nothing is known. The series have one value a point.
type Chart struct {
	File       string   `json:"file"`
	Load       string   `json:"load"`
	Sterilizer string   `json:"sterilizer"`
	Start      string   `json:"start"`      // of the first reading, as written; "" where not known
	Findings   []string `json:"findings"`   // fingerprints of the findings that rest on it
	Conforming string   `json:"conforming"` // "most" or "least" for the best and worst conforming one, else ""

	Time         Series `json:"time"`          // s from the first reading
	Temperature  Series `json:"temperature"`   // °C, the coldest sensor
	Warmest      Series `json:"warmest"`       // °C, the warmest; empty with one sensor
	Pressure     Series `json:"pressure"`      // kPa; empty without pressure
	PressureFrom string `json:"pressure_from"` // "absolute", "gauge" or "" for not said
	Saturation   Series `json:"saturation"`    // °C of saturated steam at the pressure; empty where not known

	Set    *float64     `json:"set"`  // °C; nil where no set temperature is known
	Band   *float64     `json:"band"` // °C, the top of the band; nil where none
	Hold   *Hold        `json:"hold"` // the plateau; nil where none
	Phases []ChartPhase `json:"phases"`
}

// Stretch is a part of a chart's time, in s.
type Stretch struct {
	From  float64 `json:"from"`
	Until float64 `json:"until"`
}

// Hold is a stretch with its bounds, in s: what it surely lasted, and what it may have
// lasted at most.
type Hold struct {
	Stretch
	Least float64 `json:"least"`
	Most  float64 `json:"most"`
}

// ChartPhase is a stretch with a name, as the file names it.
type ChartPhase struct {
	Name string `json:"name"`
	Stretch
}

// Due is something that runs out, with its day.
type Due struct {
	ID     string `json:"id"`
	On     string `json:"on"`
	Kind   string `json:"kind"`
	Record string `json:"record"`
	What   string `json:"what"`
	State  string `json:"state"` // "runs out", "overdue"
}

// Declaration is a statement the practitioner will sign and what the records say of the kinds it rests on.
type Declaration struct {
	Text    string    `json:"text"`
	Rests   []string  `json:"rests"`
	State   string    `json:"state"` // in words
	Level   string    `json:"level"` // supported, in part, nothing in the folder
	Support []Support `json:"support"`
}
