package report

import (
	"cmp"
	"slices"
	"strconv"

	"footing/internal/result"
)

// mostMonths is how many months a table or a calendar goes back.
const mostMonths = 24

// monthly prints the newest months with what each load has written, and counts the
// others.
func (p *page) monthly() {
	if len(p.Months) == 0 {
		return
	}
	p.heading(2, titleMonths)
	p.para("Of the loads of each month, how many have their exposure, their indicators and their release written, and whether spore tests were near enough to each day of use.")
	newest := slices.Clone(p.Months)
	slices.SortStableFunc(newest, func(a, b result.Month) int {
		return cmp.Or(cmp.Compare(b.Month, a.Month), cmp.Compare(a.Sterilizer, b.Sterilizer))
	})
	shown := newest[:min(len(newest), mostMonths)]
	slices.Reverse(shown)
	slices.SortStableFunc(shown, func(a, b result.Month) int {
		return cmp.Or(cmp.Compare(a.Month, b.Month), cmp.Compare(a.Sterilizer, b.Sterilizer))
	})
	rows := make([][]md, 0, len(shown))
	for _, m := range shown {
		of := func(n int) md { return text(strconv.Itoa(n) + " of " + strconv.Itoa(m.Loads)) }
		rows = append(rows, []md{text(monthName(m.Month)), text(m.Sterilizer), text(strconv.Itoa(m.Loads)), of(m.Exposure), of(m.Indicators), of(m.Release), text(m.Spore), text(orElse(m.Missing, "nothing"))})
	}
	p.table([]md{"Month", "Sterilizer", "Loads", "Exposure", "Indicators", "Release", "Spore tests in time", "What keeps it from being whole"}, rows)
	rest := newest[len(shown):]
	short := 0
	for _, m := range rest {
		if m.Missing != "" {
			short++
		}
	}
	if len(rest) > 0 {
		p.para(say("%s in audit.json; something is missing in %s of them.", several(len(rest), "earlier row stands", "earlier rows stand"), short))
	}
}
