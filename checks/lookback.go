package checks

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"footing/internal/audit"
	"footing/internal/chain"
	"footing/internal/practice"
	"footing/internal/quantity"
)

// LookbackQuestion is what a look-back is asked about: one record, by its kind and
// id. Since and Until, 0 where not given, bound the loads of a sterilizer, the use
// of an instrument or the visits of a client; other kinds leave them aside.
type LookbackQuestion struct {
	Kind, ID     string // Kind: sterilizers, tests, loads, packs, instruments, visits, clients or complaints
	Since, Until quantity.Day
}

// LookbackRefusal is the error of a question to which the records hold no answer.
type LookbackRefusal struct {
	Kind, ID string
	State    practice.State // how the id is known; One where the row is there, and What says what keeps it from an answer
	What     string
	Next     string // what to do instead
}

// Error is what keeps the question from an answer.
func (r *LookbackRefusal) Error() string {
	if r.What != "" {
		return r.What
	}
	return fmt.Sprintf("no single row of %s has the id %q", r.Kind, r.ID)
}

// LookbackCheck is the check that computes what a look-back of a kind of record does,
// and by whose criteria it is made: see audit.Put.
func LookbackCheck(kind string) string {
	switch kind {
	case "visits", "clients", "complaints":
		return "records/trail"
	}
	return "monitoring/exposed"
}

// Lookback answers how far back a failure could reach and whom, or what stands
// behind visits. The examination is of the check that LookbackCheck names. What names
// the program and the rules chosen is for the caller to add. The error is a
// *LookbackRefusal.
func Lookback(x *audit.Examination, q LookbackQuestion) (audit.Answer, error) {
	r := lookbackBegin(x)
	r.q = q
	r.open()
	answers := map[string]func() error{
		"sterilizers": r.ofSterilizer, "tests": r.ofTest, "loads": r.ofLoad, "packs": r.ofPack, "instruments": r.ofInstrument,
		"visits": r.ofVisit, "clients": r.ofClient, "complaints": r.ofComplaint,
	}
	answer := answers[q.Kind]
	if answer == nil {
		return r.a, r.refuse(practice.One, fmt.Sprintf("no look-back starts from a row of %s", q.Kind), "")
	}
	if LookbackCheck(q.Kind) == LookbackCheck("sterilizers") {
		r.forwards()
	}
	err := answer()
	return r.a, err
}

// lookbackRun is one look-back, or one run of monitoring/exposed, at work.
type lookbackRun struct {
	*audit.Examination
	q         LookbackQuestion
	a         audit.Answer
	terms     chain.Terms
	good      map[*practice.Load]quantity.Tri
	histories map[*practice.Sterilizer]*chain.History
	behind    map[*practice.Visit][]chain.Link
	out       map[string]*practice.Trip // by pack: the trip from which no return of it is written
}

func lookbackBegin(x *audit.Examination) *lookbackRun {
	r := &lookbackRun{Examination: x, good: map[*practice.Load]quantity.Tri{}, histories: map[*practice.Sterilizer]*chain.History{}, behind: map[*practice.Visit][]chain.Link{}}
	r.terms.Needs = packsNeeds(x)
	r.terms.Clock = monitoringClock(x)
	return r
}

// forwards adds the terms by which windows are made.
func (r *lookbackRun) forwards() *lookbackRun {
	r.terms.Good, r.terms.Whole, r.terms.Logged = r.isGood, r.whole, r.logged
	if c, ok := r.Criterion("monitoring.repeats", nil); ok {
		r.terms.Repeats = int(math.Ceil(c.Number()))
	}
	return r
}

func (r *lookbackRun) history(s *practice.Sterilizer) *chain.History {
	if r.histories[s] == nil {
		r.histories[s] = chain.HistoryOf(r.P, s, r.terms)
	}
	return r.histories[s]
}

// open fills in what every answer begins with.
func (r *lookbackRun) open() {
	a := &r.a
	a.AsOf, a.RuleSet = r.P.AsOf.String(), r.P.Profile.RuleSet
	a.Practice, a.Period, a.Contacts = audit.Whose(r.P)
	a.Asked.Kind, a.Asked.ID, a.Asked.Since, a.Asked.Until = r.q.Kind, r.q.ID, r.q.Since.String(), r.q.Until.String()
}

func (r *lookbackRun) says(format string, words ...any) {
	r.a.Says = append(r.a.Says, fmt.Sprintf(format, words...))
}

func (r *lookbackRun) missing(format string, words ...any) {
	if line := fmt.Sprintf(format, words...); !slices.Contains(r.a.Missing, line) {
		r.a.Missing = append(r.a.Missing, line)
	}
}

func (r *lookbackRun) limit(format string, words ...any) {
	r.a.Limits = append(r.a.Limits, fmt.Sprintf(format, words...))
}

// lookbackThe is the row that was asked for, or why it cannot be had.
func lookbackThe[T any](r *lookbackRun, row *T, state practice.State) (*T, error) {
	if state != practice.One {
		return nil, r.refuse(state, "", "")
	}
	return row, nil
}

func (r *lookbackRun) refuse(state practice.State, what, next string) error {
	return &LookbackRefusal{Kind: r.q.Kind, ID: r.q.ID, State: state, What: what, Next: next}
}

// lookbackByID finds a row of a kind that no other row refers to.
func lookbackByID[T any](r *lookbackRun, rows []T, key func(*T) string) (found *T, state practice.State) {
	for i := range rows {
		if key(&rows[i]) != r.q.ID {
			continue
		}
		if found != nil {
			return nil, practice.Shared
		}
		found, state = &rows[i], practice.One
	}
	if found == nil && r.P.Intake.StateOf(r.q.Kind, r.q.ID) != 0 {
		state = practice.SetAside
	}
	return found, state
}

// lookbackSterilizer names a sterilizer in a sentence, one without an id by its place.
func lookbackSterilizer(s *practice.Sterilizer) string {
	if strings.TrimSpace(s.ID) == "" {
		return "the sterilizer in " + practice.Key(&s.Row)
	}
	return "sterilizer " + practice.Key(&s.Row)
}

// lookbackThing names a row by its id in a sentence, but never by what reads like a
// person's name.
func lookbackThing(kind, what, id string) string {
	if audit.ReadsLikeName(kind, id) {
		return what + " (a name, kept out of this sentence)"
	}
	return what + " " + id
}

// lookbackWords is a day in a sentence.
func lookbackWords(d quantity.Day) string {
	if !d.Written() {
		return "a day that is not written"
	}
	return d.Words()
}
