package audit

import (
	"fmt"
	"slices"

	"footing/internal/practice"
	"footing/internal/quantity"
	"footing/internal/result"
)

// asking answers what an inspector may ask for, from the practice and what it says of
// its coverage. What is not typed is said to be that, and never to be not done.
type asking struct {
	p    *practice.Practice
	book *Book
}

// all are the questions in the order in which they are asked: the sterilizer's log and
// its tests, one pack and one client drawn, then the papers, then the cards.
func (a *asking) all(w Walks) []result.AskedFor {
	list := []result.AskedFor{a.log(), a.spores(), a.pack(w), a.visit(w), a.certificates(), a.training(), a.policies(), a.maintenance(),
		a.cleaning(), a.singleUse(), a.waste(), a.allergies(), a.consents(), a.incidents(), a.complaints()}
	for i, kind := range []string{"loads", "tests", "packs", "visits", "credentials", "credentials", "policies", "upkeep", "cleanings", "instruments", "waste", "screens", "consents", "incidents", "complaints"} {
		a.aside(&list[i], kind)
		if list[i].State == result.AskedFound || list[i].State == result.AskedNone {
			list[i].Look = ""
		}
	}
	return list
}

// aside says how many rows of a kind could not be used. They are typed, so that where
// there is nothing else the answer is a part.
func (a *asking) aside(out *result.AskedFor, kind string) {
	n := 0
	for _, f := range a.p.Intake.Files {
		if f.Kind == kind {
			n += f.SetAside
		}
	}
	if n == 0 {
		return
	}
	if out.State == result.AskedUntyped {
		out.State = result.AskedPart
	}
	out.What = fmt.Sprintf("set aside: %s of %s; apart from that, %s", Plural(n, "row", "rows"), kind, out.What)
}

// year is the time that most questions are about: the month of the audit and the eleven
// before it, in the question's own words the last twelve months.
func (a *asking) year() (from, until quantity.Day) {
	y, m, _ := a.p.AsOf.Date()
	return quantity.NewDay(y, m, 1).AddMonths(-11), a.p.AsOf
}

// standing is how much is typed: found where it is all, or where nothing says how much
// there should be.
func standing(found, of int) string {
	switch {
	case found == 0:
		return result.AskedUntyped
	case found < of:
		return result.AskedPart
	}
	return result.AskedFound
}

// log is the sterilizer's log of the last twelve months. A month counts that has a load,
// or of which all loads are said to be here.
func (a *asking) log() result.AskedFor {
	out := result.AskedFor{Topic: "The sterilizer log", Question: "Show me the sterilizer's log of the last twelve months.", Things: "months",
		Look: "look into the log book, and at the printouts and the data logger's files of these months"}
	from, until := a.year()
	loads := within(a.p.Loads, from, until, func(l *practice.Load) quantity.Day { return l.Started.Day() })
	if a.p.Profile.Reprocessing == "single-use-only" && len(loads) == 0 {
		out.State, out.What = result.AskedNone, "single-use instruments only, as practice.yaml says"
		return out
	}
	typed := map[string]bool{}
	for _, l := range loads {
		typed[monthOf(l.Started.Day())] = true
	}
	var lacks []string
	months, said := monthsOf(max(from, a.installed()), until), 0
	for _, m := range months {
		switch {
		case typed[m]:
			out.Found++
		case a.covered("loads", m):
			out.Found++
			said++
		default:
			lacks = append(lacks, m)
		}
	}
	out.Of, out.Lacks = len(months), monthRuns(lacks)
	out.State = standing(out.Found, out.Of)
	out.What = fmt.Sprintf("%s typed, in %d of %s", Plural(len(loads), "load", "loads"), out.Found-said, Plural(out.Of, "month", "months"))
	if said > 0 {
		out.What += fmt.Sprintf("; for %d more the folder is said to hold every load, and none was run", said)
	}
	if contracted := a.p.Profile.Reprocessing == "contracted"; contracted {
		out.What += "; another firm processes, so its certificates stand for the log"
	}
	out.Evidence = firstAndLast(len(loads), func(i int) Evidence { return At(&loads[i].Row, "started") })
	out.KeptAt = keptAt(a.p, "loads", entriesOf(loads, func(l *practice.Load) *practice.Entry { return &l.Entry }))
	return out
}

// installed is the first day of the first sterilizer; 0 where one has none written.
func (a *asking) installed() (first quantity.Day) {
	for i := range a.p.Sterilizers {
		d := a.p.Sterilizers[i].InstalledOn
		if !d.Written() {
			return 0
		}
		if !first.Written() || d < first {
			first = d
		}
	}
	return first
}

// covered reports whether all rows of a kind of one month are said to be in the folder.
func (a *asking) covered(kind, month string) bool {
	d, err := quantity.ParseDay(month+"-01", quantity.ISO)
	return err == nil && a.p.Whole(kind, d, min(d.AddMonths(1).AddDays(-1), a.p.AsOf))
}

// spores are the spore tests, by the weeks in which their sterilizer ran a load. A week
// is what is counted, and no rule: which interval holds is another question.
func (a *asking) spores() result.AskedFor {
	out := result.AskedFor{Topic: "Spore tests", Question: "Show me the reports of the spore tests.", Things: "weeks with a load",
		Look: "look in the laboratory's e-mails, then on the strips and in the log book"}
	type week struct {
		sterilizer string
		monday     quantity.Day
	}
	from, until := a.year()
	loads := within(a.p.Loads, from, until, func(l *practice.Load) quantity.Day { return l.Started.Day() })
	tests := within(a.p.Tests, from, until, func(t *practice.Test) quantity.Day { return t.RunAt.Day() })
	tests = slices.DeleteFunc(tests, func(t *practice.Test) bool { return t.Type != "spore" })
	if a.p.Profile.Reprocessing == "single-use-only" && len(loads)+len(tests) == 0 {
		out.State, out.What = result.AskedNone, "single-use instruments only, as practice.yaml says"
		return out
	}
	tested, seen, of := map[week]bool{}, map[week]bool{}, map[string]bool{}
	count := map[string]int{}
	for _, t := range tests {
		tested[week{a.p.EquipmentOf(t), weekOf(t.RunAt.Day())}] = true
		count[t.Result]++
	}
	for _, l := range loads {
		of[l.Sterilizer] = true
	}
	for _, l := range loads {
		w := week{l.Sterilizer, weekOf(l.Started.Day())}
		if seen[w] {
			continue
		}
		seen[w] = true
		out.Of++
		if tested[w] {
			out.Found++
			continue
		}
		name := "the week of " + w.monday.Words()
		if len(of) > 1 && w.sterilizer != "" {
			name += ", " + w.sterilizer
		}
		out.Lacks = append(out.Lacks, name)
	}
	out.State = standing(out.Found, out.Of)
	if out.Of == 0 && len(tests) > 0 {
		out.State = result.AskedPart
	}
	if out.State == result.AskedUntyped && len(tests) > 0 {
		out.State = result.AskedPart
	}
	out.What = fmt.Sprintf("%s typed", Plural(len(tests), "spore test", "spore tests"))
	if out.Of > 0 {
		out.What += fmt.Sprintf(", in %d of %s; your own interval may be another", out.Found, Plural(out.Of, "week with a load", "weeks with a load"))
	}
	for _, r := range []struct{ result, words string }{{"fail", "written as failed"}, {"pending", "still waited for"}, {"", "without a result"}} {
		if n := count[r.result]; n > 0 {
			out.What += fmt.Sprintf("; %d %s", n, r.words)
		}
	}
	out.Evidence = firstAndLast(len(tests), func(i int) Evidence { return At(&tests[i].Row, "run_at") })
	out.KeptAt = keptAt(a.p, "tests", entriesOf(tests, func(t *practice.Test) *practice.Entry { return &t.Entry }))
	return out
}
