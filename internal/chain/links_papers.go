package chain

import (
	"slices"
	"strconv"
	"strings"

	"footing/internal/practice"
	"footing/internal/quantity"
)

// spores is the link to the spore tests around a load: the last before it that passed,
// the first after it that did, and any since the one and until the other that did not.
// A test of the load itself stands before it.
func (f *Follower) spores(l *practice.Load) Link {
	if f.contracted(l) {
		return Link{What: "the contractor's, whose tests are not among these records"}
	}
	switch {
	case !slices.ContainsFunc(f.p.Tests, isSpore):
		return Link{State: LinkUnkept, What: "no spore test is typed, so it is not judged"}
	case l.Sterilizer == "":
		return f.untold(l)
	}
	var before, after *practice.Test
	var others []*practice.Test
	for _, t := range f.p.TestsOf(l.Sterilizer) {
		if !isSpore(*t) || after != nil {
			continue
		}
		own := t.Load != "" && t.Load == practice.Key(&l.Row)
		switch passed := AssayOf(t).Worth >= Lenient; {
		case !passed:
			others = append(others, t)
		case own, t.RunAt.First() <= l.Started.Last():
			before, others = t, nil
		default:
			after = t
		}
	}
	return f.sporesSaid(l, before, after, others)
}

func isSpore(t practice.Test) bool { return t.Type == "spore" }

// sporesSaid is the link of the spore tests found around a load.
func (f *Follower) sporesSaid(l *practice.Load, before, after *practice.Test, others []*practice.Test) Link {
	var said []string
	var seen []Seen
	tell := func(t *practice.Test, what, note string) {
		said = append(said, what+" "+t.RunAt.Day().Words()+apartBy(int(l.Started.Day()-t.RunAt.Day())))
		seen = append(seen, Seen{Row: &t.Row, Field: "run_at", Note: note})
	}
	if before != nil {
		tell(before, "passed", "passed before it")
	}
	if after != nil {
		tell(after, "next passed", "passed after it")
	}
	for _, t := range others {
		tell(t, otherwise(t), "around it, and not one that shows that it passed")
	}
	// A test that does not say of which sterilizer it was may be one of this.
	adrift := slices.ContainsFunc(f.p.Tests, func(t practice.Test) bool { return isSpore(t) && f.p.EquipmentOf(&t) == "" })
	whole := func(until *practice.Test) bool {
		day := f.p.AsOf
		if until != nil {
			day = l.Started.Day()
		}
		return !adrift && len(others) == 0 && f.wholeOf("tests", f.sterilizer(l), day)
	}
	out := Link{State: LinkPart, Seen: seen, Heed: failedOf(others)}
	switch {
	case before != nil && after == nil:
		out.State, said = LinkFound, slices.Insert(said, 1, "none that passed after it is typed yet")
	case before != nil:
		out.State = LinkFound
	case after != nil:
		said, out.Sure = slices.Insert(said, 0, "none that passed before it is typed"), whole(after)
	case len(others) > 0:
		said = slices.Insert(said, 0, "none that passed is typed, before or after")
	case adrift:
		said = []string{"a spore test is typed that does not say of which sterilizer it was"}
	case whole(nil):
		return Link{State: LinkAbsent, What: "no spore test of the sterilizer that passed is typed, before or after", Sure: true}
	default:
		return Link{State: LinkUnkept, What: "no spore test of the sterilizer is typed, so it is not judged"}
	}
	out.What = listed(said)
	return out
}

func failedOf(tests []*practice.Test) (heed []string) {
	for _, t := range tests {
		if t.Result == "fail" {
			heed = append(heed, "spore test "+label(&t.Row)+" of "+t.RunAt.Day().Words()+", around a load behind it, is written as failed")
		}
	}
	return heed
}

// otherwise is how a spore test that does not show that it passed came out.
func otherwise(t *practice.Test) string {
	switch t.Result {
	case "fail":
		return "failed"
	case "pass":
		return "passed, but with something written against it:"
	}
	return "no result yet of the one of"
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

// servicing is the upkeep that a sterilizer's papers are asked for.
var servicing = []string{"service", "calibration", "validation"}

// serviced is the link to the last service, calibration and validation before a load.
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
	out := Link{State: LinkPart}
	var said []string
	for _, task := range servicing {
		u := lastUntil(slices.DeleteFunc(slices.Clone(f.p.UpkeepOf(l.Sterilizer)), func(u *practice.Upkeep) bool { return u.Task != task }), day, doneOn)
		switch {
		case u == nil:
			continue
		case u.Result == "fail":
			said = append(said, task+" "+u.DoneOn.Words()+": failed, as written")
		default:
			out.State, said = LinkFound, append(said, task+" "+u.DoneOn.Words())
		}
		out.Seen = append(out.Seen, Seen{Row: &u.Row, Field: "done_on", Note: "last " + task + " before it"})
	}
	adrift := slices.ContainsFunc(f.p.Upkeep, func(u practice.Upkeep) bool { return u.Equipment == "" && slices.Contains(servicing, u.Task) })
	switch out.What = strings.Join(said, "; "); {
	case len(said) > 0:
		return out
	case adrift:
		return Link{State: LinkPart, What: "upkeep is typed that does not say of which sterilizer it was"}
	case f.wholeOf("upkeep", f.sterilizer(l), day):
		return Link{State: LinkAbsent, What: "no service, calibration or validation before it is typed", Sure: true}
	}
	return Link{State: LinkUnkept, What: "no service, calibration or validation of the sterilizer of that day or earlier is typed, so it is not judged"}
}

func doneOn(u *practice.Upkeep) quantity.Day { return u.DoneOn }
