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
	Day   quantity.Day // of At; for what has only a day, that day; 0 for NoProof
	Assay *Assay       // of a spore test
	// Unsaid is true where the row does not say how it went: a service that has no
	// result written is taken to have gone well.
	Unsaid bool
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
	// Whole says whether each pack of a load has a row. Nil: of no load that can be told.
	Whole func(*practice.Load) bool
	// Logged says whether each load from one day until another has a row. Nil: of no
	// time that can be told.
	Logged func(from, until quantity.Day) bool
}

// Ends is how many spore tests passed in a row end the wide window of an event: the
// repeats after a test that failed; one after a load in doubt, of which nobody knows
// that anything but that load was wrong, as long as no spore test failed in that window.
func (t Terms) Ends(e Event) int {
	if e.Test == nil {
		return min(t.Repeats, 1)
	}
	return t.Repeats
}

// Event is what may have gone wrong with a sterilizer: a test of it that failed, or a
// load in doubt; with neither, a failure that shows at the end of the audit day.
type Event struct {
	Test *practice.Test
	Load *practice.Load
}

// Window is the time that one failure could have reached, with the loads in it.
type Window struct {
	From  Proof            // the last evidence before the event that it worked; NoProof where nothing of it is written by then
	Until Proof            // the first after it; NoProof where none is
	Loads []*practice.Load // without rejected ones of which no pack was used, by their start; shared with other windows, so not to be changed
	// Unplaced counts those of Loads that name no sterilizer, or one that has no row:
	// they may be of this one.
	Unplaced int
	// Unbegun is true where the first record of the sterilizer, for want of better, is of the
	// event's own day, so that nothing says how far back it reaches; for Around alone.
	Unbegun bool
	// Days are whole days from the day of From to that of Until, else to the audit
	// day, or to the day asked about; -1 where From is NoProof.
	Days int
}

// Reach is whom and what the packs of some loads could have met.
type Reach struct {
	Loads      []*practice.Load
	Packs      []Fate
	Unnumbered int // packs made, by the loads' counts, beyond those that have rows
	Uncounted  int // loads that do not count their packs, and may have made more than have rows
	// Visits took place and name a pack or load of these. Possible took place, do not
	// tell where all their packs came from, and could have had a pack of these: an
	// upper limit. Both by time.
	Visits, Possible []*practice.Visit
	// Clients are those of Visits; MostClients those of Visits and Possible. Sorted.
	Clients, MostClients []string
}

// Narrowing is one record that, if it were written, would make a look-back smaller.
type Narrowing struct {
	Kind, Field string      // of record: "tests", "control"
	Row         *record.Row // nil where it is not one row
	What        string      // in words, as a thing to look for: "the control's result of the spore test run on 27 Oct 2026"
	// Window and Reach are the wide window and whom it reaches as they would be then,
	// at best. Both are zero where it cannot be said beforehand: for reports of tests
	// that may exist and are not typed.
	Window Window
	Reach  Reach
}
