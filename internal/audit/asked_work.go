package audit

import (
	"fmt"

	"footing/internal/practice"
	"footing/internal/quantity"
	"footing/internal/result"
)

// cleaning is how instruments are cleaned before they are processed, by the months in
// which a load was run.
func (a *asking) cleaning() result.AskedFor {
	out := result.AskedFor{Topic: "Cleaning of instruments", Question: "How are instruments cleaned before they are packed, and where is that written?", Things: "months with a load",
		Look: "look in the book beside the cleaner or the sink"}
	from, until := a.year()
	rows := within(a.p.Cleanings, from, until, func(c *practice.Cleaning) quantity.Day { return c.Started.Day() })
	loads := within(a.p.Loads, from, until, func(l *practice.Load) quantity.Day { return l.Started.Day() })
	typed := map[string]bool{}
	for _, c := range rows {
		typed[monthOf(c.Started.Day())] = true
	}
	seen := map[string]bool{}
	var lacks []string
	for _, l := range loads {
		m := monthOf(l.Started.Day())
		if seen[m] {
			continue
		}
		seen[m] = true
		out.Of++
		if typed[m] {
			out.Found++
		} else {
			lacks = append(lacks, m)
		}
	}
	out.Lacks = monthRuns(lacks)
	out.State = standing(out.Found, out.Of)
	if out.Found == 0 && len(rows) > 0 {
		out.State = result.AskedPart
	}
	out.What = fmt.Sprintf("%s of the last twelve months typed, in %d of %s", Plural(len(rows), "cleaning", "cleanings"), out.Found, Plural(out.Of, "month with a load", "months with a load"))
	if len(rows) == 0 {
		out.What = "no cleaning of the last twelve months is typed"
	}
	if a.p.Profile.Reprocessing == "single-use-only" && len(rows) == 0 {
		out.State, out.What, out.Lacks = result.AskedNone, "single-use instruments only, as practice.yaml says", nil
	}
	out.Evidence = firstAndLast(len(rows), func(i int) Evidence { return At(&rows[i].Row, "started") })
	out.KeptAt = keptAt(a.p, "cleanings", entriesOf(rows, func(c *practice.Cleaning) *practice.Entry { return &c.Entry }))
	return out
}

// singleUse is which instruments are thrown away after one use, and the sharps containers.
func (a *asking) singleUse() result.AskedFor {
	out := result.AskedFor{Topic: "Single use and sharps", Question: "Which items do you use once only, and where do blades and needles go?", Things: "instruments",
		Look: "look at the instrument list and the packaging, and at each sharps container"}
	var list []*practice.Instrument
	for _, i := range everyRow(a.p.Instruments) {
		if i.RetiredOn.Written() && i.RetiredOn <= a.p.AsOf {
			continue
		}
		list = append(list, i)
		out.Of++
		if i.Reuse != "" {
			out.Found++
		}
	}
	var sharps []*practice.Waste
	for _, w := range everyRow(a.p.Waste) {
		if w.Type == "sharps" {
			sharps = append(sharps, w)
		}
	}
	visits := 0
	for _, v := range a.p.VisitsByTime() {
		if v.Done() && v.SingleUse.Written {
			visits++
		}
	}
	out.What = fmt.Sprintf("whether it is used again is written for %d of %s; %s typed; %s single-use items", out.Found, Plural(out.Of, "instrument", "instruments"),
		Plural(len(sharps), "sharps container", "sharps containers"), Plural(visits, "visit names", "visits name"))
	if out.Found < out.Of {
		out.Lacks = append(out.Lacks, "whether "+Plural(out.Of-out.Found, "instrument is", "instruments are")+" used again")
	}
	if len(sharps) == 0 {
		out.Lacks = append(out.Lacks, "sharps containers")
	}
	out.State = standing(out.Found, out.Of)
	switch {
	case out.Found == 0 && len(list)+len(sharps)+visits > 0, out.State == result.AskedFound && len(sharps) == 0:
		out.State = result.AskedPart
	}
	out.Evidence = append(firstAndLast(len(list), func(i int) Evidence { return At(&list[i].Row, "reuse") }), firstAndLast(len(sharps), func(i int) Evidence { return At(&sharps[i].Row, "opened_on") })...)
	out.KeptAt = keptAt(a.p, "instruments", entriesOf(list, func(i *practice.Instrument) *practice.Entry { return &i.Entry }))
	return out
}

// waste is whether each container that was closed has its collection written.
func (a *asking) waste() result.AskedFor {
	out := result.AskedFor{Topic: "Waste", Question: "Who takes the sharps and clinical waste away, and where are the slips?", Things: "closed containers",
		Look: "look for the collector's slips and invoices"}
	rows := everyRow(a.p.Waste)
	open := 0
	for _, w := range rows {
		switch {
		case !w.ClosedOn.Written() && !w.CollectedOn.Written():
			open++
			continue
		case w.CollectedOn.Written() || w.Reference != "":
			out.Found++
		default:
			out.Lacks = append(out.Lacks, "the collection of the container closed on "+w.ClosedOn.Words())
		}
		out.Of++
	}
	out.State = standing(out.Found, out.Of)
	if out.Found == 0 && len(rows) > 0 {
		out.State = result.AskedPart
	}
	out.What = fmt.Sprintf("%s typed, %d in use; a collection is written for %d of %d closed", Plural(len(rows), "container", "containers"), open, out.Found, out.Of)
	if len(rows) == 0 {
		out.What = "no container is typed"
	}
	out.Evidence = firstAndLast(len(rows), func(i int) Evidence { return At(&rows[i].Row, "collected_on") })
	out.KeptAt = keptAt(a.p, "waste", entriesOf(rows, func(w *practice.Waste) *practice.Entry { return &w.Entry }))
	return out
}
