package chain

import (
	"slices"
	"strings"

	"footing/internal/practice"
	"footing/internal/quantity"
	"footing/internal/record"
)

// contracted reports whether a load was run by a contractor, whose papers are elsewhere.
func (f *Follower) contracted(l *practice.Load) bool {
	s, state := f.p.Sterilizer(l.Sterilizer)
	return l.Certificate != "" || f.p.Profile.Reprocessing == "contracted" || state == practice.One && s.OperatedBy == "contractor"
}

func (f *Follower) sterilizer(l *practice.Load) *practice.Sterilizer {
	s, state := f.p.Sterilizer(l.Sterilizer)
	if state != practice.One {
		return nil
	}
	return s
}

func (f *Follower) release(l *practice.Load) Link {
	seen := []Seen{{Row: &l.Row, Field: "decision"}}
	switch {
	case l.Decision == "" && f.contracted(l):
		return f.certified(l)
	case l.Decision == "":
		out := f.gap("loads", f.decision[l.Sterilizer], l.Started.Day(), "whether it was released is not written", "no load of the sterilizer has a decision")
		out.Seen = seen
		return out
	case l.Decision == "pending":
		return Link{State: LinkPart, What: "written as waiting for a decision", Seen: seen, Heed: []string{"load " + label(&l.Row) + " is written as waiting for a decision"}}
	}
	what := "written as " + l.Decision
	var heed []string
	if l.Decision == "rejected" {
		heed = []string{"load " + label(&l.Row) + " is written as rejected"}
	}
	if l.ReleasedBy != "" {
		what += " by someone named"
		seen = append(seen, Seen{Row: &l.Row, Field: "released_by"})
	}
	if l.ReleasedAt.Written() {
		what += ", " + l.ReleasedAt.Words()
	}
	return Link{State: LinkFound, What: what, Seen: seen, Heed: heed}
}

// certified is the link of a contractor's load: the certificate stands for its values.
func (f *Follower) certified(l *practice.Load) Link {
	seen := []Seen{{Row: &l.Row, Field: "certificate"}}
	if l.Certificate == "" {
		return Link{State: LinkUnkept, What: "a contractor's load with no certificate written, so it is not judged", Seen: seen}
	}
	return Link{State: LinkFound, What: "the contractor's certificate " + l.Certificate, Seen: seen}
}

func (f *Follower) printed(l *practice.Load) Link {
	day := l.Started.Day()
	var seen []Seen
	unread := ""
	for _, t := range f.p.TracesOf(l) {
		seen = append(seen, Seen{Trace: t, Note: "its data-logger file"})
		if t.Unread != "" || t.Unusable != "" {
			unread = ", which could not be read"
		}
	}
	switch {
	case len(seen) > 0 && unread != "":
		return Link{State: LinkPart, What: "a data-logger file" + unread, Seen: seen}
	case len(seen) > 0:
		return Link{State: LinkFound, What: "a data-logger file", Seen: seen}
	}
	seen = []Seen{{Row: &l.Row, Field: "trace"}}
	here := slices.ContainsFunc(f.p.Intake.Traces, func(t record.Trace) bool { return t.Name == l.Trace || practice.BelowTraces(t.Name) == l.Trace })
	switch {
	case l.Trace != "" && here:
		return Link{State: LinkFound, What: "a data-logger file, by its name", Seen: seen}
	case l.Printout == quantity.IsYes:
		return Link{State: LinkFound, What: "a printout is kept, as written", Seen: []Seen{{Row: &l.Row, Field: "printout"}}}
	case l.Trace != "":
		return Link{State: LinkPart, What: "the log names a data-logger file that is not in the folder", Seen: seen}
	case f.contracted(l):
		return f.certified(l)
	case l.Printout == quantity.IsNo && f.logs(l):
		return Link{State: LinkUnkept, What: "no printout, as written; the sterilizer has a data logger, whose file of the load is not in the folder", Seen: []Seen{{Row: &l.Row, Field: "printout"}}}
	case l.Printout == quantity.IsNo:
		return Link{State: LinkAbsent, What: "no printout, as written, and no data-logger file in the folder", Seen: []Seen{{Row: &l.Row, Field: "printout"}}, Sure: true}
	}
	out := f.gap("loads", f.printout[l.Sterilizer], day, "neither a printout nor a data-logger file is written", "no load of the sterilizer has a printout or data-logger file written")
	out.Seen = []Seen{{Row: &l.Row, Field: "printout"}}
	return out
}

// logs reports whether the sterilizer of a load is written to have a data logger.
func (f *Follower) logs(l *practice.Load) bool {
	s := f.sterilizer(l)
	return s != nil && s.Logger == quantity.IsYes
}

// indicated is the link to the strips of a load, and of those packs of it that the
// visit names; of any pack of it where the visit names none.
func (f *Follower) indicated(l *practice.Load, packs []*practice.Pack) Link {
	own, where := slices.DeleteFunc(slices.Clone(packs), func(k *practice.Pack) bool { return !f.madeIn(k, l) }), " the pack"
	if len(own) == 0 {
		own, where = f.p.PacksOf(practice.Key(&l.Row)), " a pack of it"
	}
	result, failed := false, false
	outside, inside := false, false // none used, as written
	var said []string
	var seen []Seen
	look := func(r *record.Row, field, what, written string, none *bool) {
		if written == "" {
			return
		}
		*none, result, failed = *none || written == "none", result || shows(written), failed || written == "fail"
		if what += ": " + written; written == "none" {
			what += " used"
		}
		seen = append(seen, Seen{Row: r, Field: field})
		if !slices.Contains(said, what) {
			said = append(said, what)
		}
	}
	look(&l.Row, "outside_indicator", "outside", l.OutsideIndicator, &outside)
	look(&l.Row, "inside_indicator", "inside", l.InsideIndicator, &inside)
	for _, k := range own {
		look(&k.Row, "outside_indicator", "outside"+where, k.OutsideIndicator, &outside)
		look(&k.Row, "inside_indicator", "inside"+where, k.InsideIndicator, &inside)
	}
	what := strings.Join(said, ", ")
	switch {
	case failed:
		return Link{State: LinkFound, What: what, Seen: seen, Heed: []string{"an indicator of load " + label(&l.Row) + " is written as failed"}}
	case result:
		return Link{State: LinkFound, What: what, Seen: seen}
	case outside && inside:
		return Link{State: LinkAbsent, What: what + ", as written", Seen: seen, Sure: true}
	case f.contracted(l):
		return f.certified(l)
	}
	out := f.gap("loads", f.indicators[l.Sterilizer], l.Started.Day(), "no result of an indicator is written", "no load of the sterilizer has the result of an indicator")
	if what != "" {
		out.What = what + ", as written; " + out.What
	}
	out.Seen = append(seen, Seen{Row: &l.Row, Field: "inside_indicator"})
	return out
}

// shows reports whether what is written of an indicator is a result.
func shows(written string) bool { return written == "pass" || written == "fail" }

// madeIn reports whether a pack came from a load, by the load's id, or by the number
// that only this load has.
func (f *Follower) madeIn(k *practice.Pack, l *practice.Load) bool {
	if k.Load == practice.Key(&l.Row) {
		return true
	}
	_, state := f.p.Load(k.Load)
	return state == practice.Absent && slices.Contains(f.numbered[numberOf(k.Load)], l)
}

// operated is the link to who ran a load, and to what shows that they were taught to.
func (f *Follower) operated(l *practice.Load) Link {
	if f.contracted(l) {
		return Link{What: "the contractor's, whose staff are not among these records"}
	}
	who, at := l.LoadedBy, "loaded_by"
	if who == "" {
		who, at = l.ReleasedBy, "released_by"
	}
	day := l.Started.Day()
	trained := slices.ContainsFunc(f.p.Credentials, func(c practice.Credential) bool { return c.Type == "reprocessing" }) ||
		slices.ContainsFunc(f.p.Observations, func(o practice.Observation) bool { return o.Skill == "reprocessing" })
	if !trained {
		return Link{State: LinkUnkept, What: "no training in reprocessing is typed for anyone, so it is not judged"}
	}
	if who == "" {
		out := f.gap("loads", f.operator[l.Sterilizer], day, "who ran the load is not written", "no load of the sterilizer says who ran it")
		out.Seen = []Seen{{Row: &l.Row, Field: "loaded_by"}}
		return out
	}
	seen := []Seen{{Row: &l.Row, Field: at, Note: "who ran it"}}
	for _, c := range slices.Backward(f.p.CredentialsOf(who)) {
		about := c.Type == "reprocessing" || c.Type == "education" && c.Equipment.Written && l.Sterilizer != "" && c.Equipment.Has(l.Sterilizer)
		if about && covers(c, day) && c.Status != "suspended" {
			return Link{State: LinkFound, What: "training in reprocessing, " + valid(c), Seen: append(seen, Seen{Row: &c.Row, Note: "in force that day"})}
		}
	}
	var watched *practice.Observation
	for i := range f.p.Observations {
		o := &f.p.Observations[i]
		if o.Person == who && o.Skill == "reprocessing" && o.Outcome == "competent" && o.ObservedOn <= day && (watched == nil || o.ObservedOn > watched.ObservedOn) {
			watched = o
		}
	}
	if watched != nil {
		return Link{State: LinkFound, What: "watched at reprocessing on " + watched.ObservedOn.Words() + ": competent", Seen: append(seen, Seen{Row: &watched.Row, Field: "observed_on"})}
	}
	return Link{State: LinkPart, What: "who ran it is written; no training in reprocessing in force that day is typed for them", Seen: seen,
		Sure: f.p.Whole("credentials", 1, day) && f.p.Whole("observations", 1, day)}
}
