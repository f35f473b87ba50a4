package result

import (
	"cmp"
	"slices"
)

// Since is what an audit keeps of an earlier reading of the same practice: how each of
// its own findings stood then, and what is no longer found.
type Since struct {
	AsOf     string     `json:"as_of"` // day of the earlier reading
	Tool     string     `json:"tool"`  // that made it
	Sentence string     `json:"sentence"`
	Unseen   string     `json:"unseen"`
	Counts   Counts     `json:"counts"`
	Findings []Followed `json:"findings"` // one for each finding of this audit, in their order
	Closed   []Gone     `json:"closed"`   // found in the earlier reading and not in this one
	Earlier  []Gone     `json:"earlier"`  // gone in a reading before that, and not found again
	Limits   []Limit    `json:"limits"`   // what keeps the two from being compared
}

// What became of a finding.
const (
	Fresh = "new"         // in no earlier reading that is known
	Again = "found again" // in an earlier reading, then not, now again
	Still = "still open"
)

// Followed is a finding of this audit, as it stood in the earlier reading.
type Followed struct {
	Finding string `json:"finding"` // with the grade it names one finding
	Grade   string `json:"grade"`
	State   string `json:"state"`
	From    string `json:"from"`    // day of the first reading of those in a row that found it
	GoneOn  string `json:"gone_on"` // of what was found again: the reading that did not find it; else ""
	Was     *Was   `json:"was"`     // nil but for what is still open
	Unseen  bool   `json:"unseen"`  // of what is new: its check did not look in the earlier reading
	Rule    bool   `json:"rule"`    // its check goes by another rule now
}

// Was is a finding as the earlier reading gave it.
type Was struct {
	Grade    string `json:"grade"`
	N        int    `json:"n"`
	Of       int    `json:"of"`
	Accepted bool   `json:"accepted"`
}

// Gone is a finding that is no longer found. Where Unseen or Rule is set that may have
// another cause than that it was mended.
type Gone struct {
	Finding   string  `json:"finding"`
	Check     string  `json:"check"`
	Grade     string  `json:"grade"`
	Subject   Subject `json:"subject"`
	Summary   string  `json:"summary"`
	Accepted  bool    `json:"accepted"`
	FirstSeen string  `json:"first_seen"` // day of the first reading that found it
	LastSeen  string  `json:"last_seen"`  // of the last
	GoneOn    string  `json:"gone_on"`    // of the first that did not
	Unseen    bool    `json:"unseen"`     // its check sees less now, or rows that it rested on are fewer
	Rule      bool    `json:"rule"`       // its check goes by another rule now
}

// Follow is after with what it keeps of before, an earlier reading of the same practice
// or one of the same day: Since, and the day on which each finding was first seen.
// It changes neither.
func Follow(before, after *Result) *Result {
	out := *after
	out.Findings = slices.Clone(after.Findings)
	f := newFollower(before, after)
	s := &Since{AsOf: before.AsOf, Tool: before.Tool, Sentence: before.Conclusion.Sentence, Unseen: before.Conclusion.Unseen, Counts: before.Counts}
	partner := pairs(before.Findings, after.Findings)
	for i := range out.Findings {
		followed, first := f.follow(&after.Findings[i], partner[i])
		s.Findings = append(s.Findings, followed)
		out.Findings[i].FirstSeen = first
	}
	changes := Compare(before, after)
	for i := range changes.Closed {
		s.Closed = append(s.Closed, f.gone(&changes.Closed[i]))
	}
	s.Earlier = f.left()
	s.Limits = limits(before, after)
	out.Since = s
	return &out
}

// follower follows the findings of one reading from an earlier one.
type follower struct {
	before, after *Result
	ruled, looked map[string]bool // checks that go by other rules now; that looked in the earlier reading
	was, is       map[named]*Followed
	memory        []Gone           // what was gone before the earlier reading
	at            map[string][]int // fingerprint → places in memory that were not found again
}

// named is one finding of one reading.
type named struct{ fingerprint, grade string }

func newFollower(before, after *Result) *follower {
	f := &follower{before: before, after: after, ruled: concerned(before, after), looked: looking(before),
		was: followed(before.Since), is: followed(after.Since), at: map[string][]int{}}
	if s := before.Since; s != nil {
		f.memory = slices.Concat(s.Closed, s.Earlier)
	}
	for i, g := range f.memory {
		f.at[g.Finding] = append(f.at[g.Finding], i)
	}
	return f
}

func followed(s *Since) map[named]*Followed {
	out := map[named]*Followed{}
	if s != nil {
		for i := range s.Findings {
			out[named{s.Findings[i].Finding, s.Findings[i].Grade}] = &s.Findings[i]
		}
	}
	return out
}

// follow tells how a finding stood, and when it was first seen. was is its place among the
// earlier findings, -1 where it is not there.
func (f *follower) follow(is *Finding, was int) (Followed, string) {
	out := Followed{Finding: is.Fingerprint, Grade: is.Grade, Rule: f.ruled[is.Check]}
	known := f.is[named{is.Fingerprint, is.Grade}]
	if was >= 0 {
		w := &f.before.Findings[was]
		out.State, out.From = Still, f.since(w)
		out.Was = &Was{Grade: w.Grade, N: w.Extent.N, Of: w.Extent.Of, Accepted: w.Accepted}
		if known != nil && known.State == Again && known.GoneOn > f.before.AsOf { // gone and back between the two
			out.State, out.From, out.GoneOn = Again, known.From, known.GoneOn
		}
		return out, cmp.Or(w.FirstSeen, f.before.AsOf)
	}
	out.From = f.after.AsOf
	if known != nil && known.From > f.before.AsOf {
		out.From = known.From
	}
	if gone, is := f.recall(is); is {
		out.State, out.GoneOn = Again, gone.GoneOn
		return out, gone.FirstSeen
	}
	out.State, out.Unseen = Fresh, !f.looked[is.Check]
	first := out.From
	if is.FirstSeen != "" && is.FirstSeen < f.before.AsOf { // the later reading was followed from one before both
		first = is.FirstSeen
		if !out.Unseen {
			out.State, out.GoneOn = Again, f.before.AsOf
		}
	}
	return out, first
}

// since is the day from which an earlier finding was found without a break.
func (f *follower) since(w *Finding) string {
	if known := f.was[named{w.Fingerprint, w.Grade}]; known != nil {
		return known.From
	}
	return cmp.Or(w.FirstSeen, f.before.AsOf)
}

// recall takes a finding out of what is remembered as gone: that of its grade, else of
// another.
func (f *follower) recall(is *Finding) (Gone, bool) {
	places := f.at[is.Fingerprint]
	if len(places) == 0 {
		return Gone{}, false
	}
	n := max(0, slices.IndexFunc(places, func(i int) bool { return f.memory[i].Grade == is.Grade }))
	gone := f.memory[places[n]]
	f.at[is.Fingerprint] = slices.Delete(places, n, n+1)
	return gone, true
}

// left is what of the memory was not found again.
func (f *follower) left() (out []Gone) {
	for i, g := range f.memory {
		if slices.Contains(f.at[g.Finding], i) {
			out = append(out, g)
		}
	}
	return out
}

func (f *follower) gone(c *Closed) Gone {
	return Gone{Finding: c.Fingerprint, Check: c.Check, Grade: c.Grade, Subject: c.Subject, Summary: c.Summary, Accepted: c.Accepted,
		FirstSeen: cmp.Or(c.FirstSeen, f.before.AsOf), LastSeen: f.before.AsOf, GoneOn: f.after.AsOf,
		Unseen: c.Unseen, Rule: f.ruled[c.Check]}
}

// looking are the checks of a reading that looked, or that nothing fell under.
func looking(r *Result) map[string]bool {
	looked := map[string]bool{}
	for _, c := range r.Checks {
		looked[c.ID] = c.Outcome == Conforming || c.Outcome == Nonconforming || c.Outcome == NotApplicable
	}
	return looked
}
