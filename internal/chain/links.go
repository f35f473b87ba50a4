package chain

import (
	"footing/internal/practice"
	"footing/internal/quantity"
	"footing/internal/record"
)

// LinkState is what the records hold of one link of a chain.
type LinkState uint8

// States of a link.
const (
	LinkNone   LinkState = iota // does not apply to this visit
	LinkUnkept                  // no row or cell of it is in the folder for that time, so it is not judged
	LinkAbsent                  // kept for others, and not found for this one
	LinkPart                    // something of it is found, or it cannot be told which row is meant
	LinkFound
)

// String is the state in words: "found", "in part", "not found", "never typed", "does not apply".
func (s LinkState) String() string {
	return [...]string{"does not apply", "never typed", "not found", "in part", "found"}[s]
}

// Seen is one place in the records that a link rests on: a row, or a data-logger file.
type Seen struct {
	Row   *record.Row
	Field string // "" for the whole row
	Note  string // what it is: "the pack it names", "its load"
	Trace *practice.Traced
}

// Link is one step of the chain behind a visit.
type Link struct {
	Name  string // "allergy screen"; one of LinkNames
	State LinkState
	What  string // "asked 2 Feb 2026; latex: no". It names no client
	Seen  []Seen // newest evidence first where there are several
	// Heed is what is written that is to be looked at before anything else: "load L-9 is
	// written as rejected". Each names what it is about, so that it is told once.
	Heed []string
	// Sure says of a link that is not found or in part that the gap is one of the
	// records themselves: rows of its kind are said to be all here, or its column is
	// filled before and after. Without it the link may only not be typed.
	Sure bool
	// Guessed says that the visit names no pack and no load, so that the link is told
	// for the last loads that could have supplied it.
	Guessed bool
}

// Names of the links, in the order of the chain.
const (
	LinkPerson    = "person and certificate"
	LinkHistory   = "health history"
	LinkScreen    = "allergy screen"
	LinkConsent   = "consent"
	LinkGloves    = "gloves"
	LinkPack      = "pack"
	LinkLoad      = "load"
	LinkRelease   = "release"
	LinkTrace     = "printout or data-logger file"
	LinkIndicator = "indicators"
	LinkSpore     = "spore tests around the load"
	LinkService   = "service and validation"
	LinkTraining  = "operator and training"
	LinkEvents    = "incident and referral"
)

// LinkNames lists the links in the order of the chain.
func LinkNames() []string {
	return []string{LinkPerson, LinkHistory, LinkScreen, LinkConsent, LinkGloves, LinkPack, LinkLoad, LinkRelease, LinkTrace, LinkIndicator, LinkSpore, LinkService, LinkTraining, LinkEvents}
}

// TrailLinks lists those that a visit is to be followed to for its chain to be whole;
// the others are told beside them.
func TrailLinks() []string {
	return []string{LinkHistory, LinkScreen, LinkConsent, LinkPack, LinkLoad, LinkTrace, LinkIndicator, LinkSpore, LinkService, LinkTraining}
}

// LinkTerms are the judgements that a chain is followed by.
type LinkTerms struct {
	Clock Clock
	// Needs says whether a visit called for instruments that were sterilized; nil: Unsure of all.
	Needs func(*practice.Visit) quantity.Tri
	// Lead is how many days before a client's first visit their histories, screens and
	// consents are to be all here, for the lack of one to say something.
	Lead int
	// Share is how many of the visits that need a pack, 0 to 1, are to name one for the
	// lack of a name to say something.
	Share float64
}

// Follower follows visits backwards. It may be used by one goroutine at a time.
type Follower struct {
	p     *practice.Practice
	terms LinkTerms

	histories map[string][]*practice.History
	consents  map[string][]*practice.Consent
	incidents map[string][]*practice.Incident // by visit, or by client and day
	referrals map[string][]*practice.Referral // by visit

	person, gloves                 stretch                 // of visits that fill these columns
	naming                         map[string]stretch      // of those that name a pack or load, by site
	sparse                         map[string]bool         // sites at which few do
	since                          map[string]quantity.Day // the first day that a kind has a row of
	numbered                       map[string][]*practice.Load
	packLoad                       stretch // of visits one of whose packs names its load
	decision, printout, indicators map[string]stretch
	operator                       map[string]stretch // of loads that name who ran them
	spent                          map[*practice.Load]bool
}

// Follow makes ready to follow the visits of a practice; it costs one pass over its rows.
func Follow(p *practice.Practice, terms LinkTerms) *Follower {
	f := &Follower{p: p, terms: terms, spent: map[*practice.Load]bool{}, numbered: map[string][]*practice.Load{}}
	f.group()
	f.columns()
	return f
}

// Behind is everything behind one visit, a link each, in the order of LinkNames.
func (f *Follower) Behind(v *practice.Visit) []Link {
	return append(f.ofClient(v), f.ofInstruments(v)...)
}
