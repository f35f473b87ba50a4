package chain

import (
	"slices"
	"strconv"
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
		return Link{State: LinkPart, What: "written as waiting for a decision", Seen: seen}
	}
	what := "written as " + l.Decision
	if l.ReleasedBy != "" {
		what += " by someone named"
		seen = append(seen, Seen{Row: &l.Row, Field: "released_by"})
	}
	if l.ReleasedAt.Written() {
		what += ", " + l.ReleasedAt.Words()
	}
	return Link{State: LinkFound, What: what, Seen: seen}
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
	case l.Printout == quantity.IsNo:
		return Link{State: LinkAbsent, What: "no printout, as written, and no data-logger file in the folder", Seen: []Seen{{Row: &l.Row, Field: "printout"}}, Sure: true}
	}
	out := f.gap("loads", f.printout[l.Sterilizer], day, "neither a printout nor a data-logger file is written", "no load of the sterilizer has a printout or data-logger file written")
	out.Seen = []Seen{{Row: &l.Row, Field: "printout"}}
	return out
}

// indicated is the link to the strips of a load, and of those packs of it that the visit names.
func (f *Follower) indicated(l *practice.Load, packs []*practice.Pack) Link {
	var said []string
	var seen []Seen
	none := false
	look := func(s Seen, what, written string) {
		switch written {
		case "":
			return
		case "none":
			none = true
			what += ": none used"
		default:
			what += ": " + written
			s.Note = ""
		}
		said, seen = append(said, what), append(seen, s)
	}
	look(Seen{Row: &l.Row, Field: "outside_indicator"}, "outside", l.OutsideIndicator)
	look(Seen{Row: &l.Row, Field: "inside_indicator"}, "inside", l.InsideIndicator)
	for _, k := range packs {
		if k.Load == practice.Key(&l.Row) {
			look(Seen{Row: &k.Row, Field: "outside_indicator"}, "outside the pack", k.OutsideIndicator)
			look(Seen{Row: &k.Row, Field: "inside_indicator"}, "inside the pack", k.InsideIndicator)
		}
	}
	switch result := slices.ContainsFunc(said, func(s string) bool { return !strings.HasSuffix(s, "none used") }); {
	case result:
		return Link{State: LinkFound, What: strings.Join(said, ", "), Seen: seen}
	case none:
		return Link{State: LinkAbsent, What: strings.Join(said, ", ") + ", as written", Seen: seen, Sure: true}
	case f.contracted(l):
		return f.certified(l)
	}
	out := f.gap("loads", f.indicators[l.Sterilizer], l.Started.Day(), "no result of an indicator is written", "no load of the sterilizer has the result of an indicator")
	out.Seen = []Seen{{Row: &l.Row, Field: "inside_indicator"}}
	return out
}

// spores is the link to the last spore test before a load that shows something, and
// the first after it. A test of the load itself is both.
func (f *Follower) spores(l *practice.Load) Link {
	if f.contracted(l) {
		return Link{What: "the contractor's, whose tests are not among these records"}
	}
	switch {
	case !slices.ContainsFunc(f.p.Tests, func(t practice.Test) bool { return t.Type == "spore" }):
		return Link{State: LinkUnkept, What: "no spore test is typed, so it is not judged"}
	case l.Sterilizer == "":
		return f.untold(l)
	}
	var before, after *practice.Test
	for _, t := range f.p.TestsOf(l.Sterilizer) {
		if t.Type != "spore" || AssayOf(t).Worth < Lenient {
			continue
		}
		switch own := t.Load != "" && t.Load == practice.Key(&l.Row); {
		case own, t.RunAt.First() <= l.Started.Last():
			before = t
		case after == nil:
			after = t
		}
	}
	var said []string
	var seen []Seen
	tell := func(t *practice.Test, note, word string) {
		days := int(l.Started.Day() - t.RunAt.Day())
		said = append(said, word+" "+t.RunAt.Day().Words()+apartBy(days))
		seen = append(seen, Seen{Row: &t.Row, Field: "run_at", Note: note})
	}
	if before != nil {
		tell(before, "passed before it", "passed")
	}
	if after != nil {
		tell(after, "passed after it", "next passed")
	}
	day := l.Started.Day()
	switch {
	case before != nil && after == nil:
		return Link{State: LinkFound, What: said[0] + "; none that passed after it is typed yet", Seen: seen}
	case before != nil:
		return Link{State: LinkFound, What: strings.Join(said, "; "), Seen: seen}
	case after != nil:
		return Link{State: LinkPart, What: "none that passed before it is typed; " + said[0], Seen: seen, Sure: f.wholeOf("tests", f.sterilizer(l), day)}
	}
	return Link{State: LinkAbsent, What: "no spore test of the sterilizer that passed is typed, before or after", Sure: f.wholeOf("tests", f.sterilizer(l), f.p.AsOf)}
}

// apartBy says how many days lie between a load and something else: ", 3 d before".
func apartBy(days int) string {
	switch {
	case days > 0:
		return ", " + strconv.Itoa(days) + " d before"
	case days < 0:
		return ", " + strconv.Itoa(-days) + " d after"
	}
	return ", the same day"
}

// untold is the link of a load that does not say which sterilizer ran it.
func (f *Follower) untold(l *practice.Load) Link {
	return Link{State: LinkUnkept, What: "which sterilizer ran the load is not written, so it is not judged", Seen: []Seen{{Row: &l.Row, Field: "sterilizer"}}}
}

func (f *Follower) serviced(l *practice.Load) Link {
	if f.contracted(l) {
		return Link{What: "the contractor's, whose upkeep is not among these records"}
	}
	switch {
	case len(f.p.Upkeep) == 0:
		return Link{State: LinkUnkept, What: "nothing is typed for upkeep, so it is not judged"}
	case l.Sterilizer == "":
		return f.untold(l)
	}
	day := l.Started.Day()
	out := Link{State: LinkFound}
	var said []string
	for _, task := range []string{"service", "calibration", "validation"} {
		for _, u := range slices.Backward(f.p.UpkeepOf(l.Sterilizer)) {
			if u.Task == task && u.DoneOn <= day && u.Result != "fail" {
				said = append(said, task+" "+u.DoneOn.Words())
				out.Seen = append(out.Seen, Seen{Row: &u.Row, Field: "done_on", Note: "last " + task + " before it"})
				break
			}
		}
	}
	if out.What = strings.Join(said, "; "); len(said) > 0 {
		return out
	}
	return Link{State: LinkAbsent, What: "no service, calibration or validation before it is typed", Sure: f.wholeOf("upkeep", f.sterilizer(l), day)}
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
		return Link{State: LinkAbsent, What: "who ran the load is not written", Seen: []Seen{{Row: &l.Row, Field: "loaded_by"}}, Sure: f.operators(l, day)}
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

// operators reports whether the log names who ran loads before and after a day.
func (f *Follower) operators(l *practice.Load, day quantity.Day) bool {
	var s stretch
	for _, o := range f.p.LoadsOf(l.Sterilizer) {
		if o.LoadedBy != "" || o.ReleasedBy != "" {
			s = s.with(o.Started.Day())
		}
	}
	return s.holds(day)
}
