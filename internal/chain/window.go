package chain

import (
	"footing/internal/practice"
	"footing/internal/quantity"
	"footing/internal/record"
)

// ProofKind is what sort of evidence shows that a sterilizer worked, in the order in
// which it is taken: a spore test before a technician's word before its first day.
type ProofKind uint8

// Kinds of proof.
const (
	NoProof   ProofKind = iota // for the end of a window: none yet, it reaches the audit day
	Begun                      // nothing: the first record of the sterilizer, taken for want of better
	Installed                  // its installation
	Examined                   // a passed validation or service
	Cycled                     // a load with passed indicators and trace: narrow windows only
	Spores                     // a passed spore test
)

// Proof is one piece of evidence that a sterilizer worked.
type Proof struct {
	Kind  ProofKind
	Row   *record.Row // nil for NoProof
	Field string      // the field of Row that dates it
	At    quantity.Moment
	Day   quantity.Day // of At; for what has only a day, that day
	Assay *Assay       // of a spore test
}

// Terms are the thresholds and judgements that a look-back is made by; nothing in
// this package chooses them.
type Terms struct {
	Clock   Clock
	Repeats int // spore tests passed in a row that end a failure
	// Good says whether a load shows by itself that it worked: all indicators that are
	// written passed, at least one is, and its data-logger file is there and was held.
	Good func(*practice.Load) quantity.Tri
	// Needs says whether a visit called for instruments that were sterilized.
	Needs func(*practice.Visit) quantity.Tri
}

// Event is what may have gone wrong with a sterilizer: a test of it that failed, or a
// load in doubt; with neither, a failure that shows at the end of the audit day.
type Event struct {
	Test *practice.Test
	Load *practice.Load
}

// Window is the time that one failure could have reached, with the loads in it.
type Window struct {
	From  Proof // the last evidence before the event that it worked
	Until Proof // the first after it; NoProof where none is
	Loads []*practice.Load
	Days  int // from the day of From to the event, or to the day of Until, or the audit day
}

// Reach is whom and what the packs of some loads could have met.
type Reach struct {
	Loads      []*practice.Load
	Packs      []Fate
	Unnumbered int // packs made, by the loads' counts, beyond those that have rows
	Uncounted  int // loads that neither count their packs nor have rows of packs
	// Visits took place and name a pack or load of these. Possible took place, name no
	// pack and no load, and could have had a pack of these: an upper limit.
	Visits, Possible []*practice.Visit
	// Clients are those of Visits; MostClients those of Visits and Possible. Sorted.
	Clients, MostClients []string
}

// Narrowing is one record that, if it were written, would make a look-back smaller.
type Narrowing struct {
	Kind, Field string // of record: "tests", "control"
	Row         *record.Row
	What        string // in words, as a thing to look for: "the control's result of the spore test run on 27 Oct 2026"
	Window      Window // the wide window as it would be then
	Reach       Reach
}
