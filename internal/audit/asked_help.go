package audit

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"footing/internal/practice"
	"footing/internal/quantity"
)

// keptAt is where the originals, or the rest, of a kind are kept: as coverage says, and
// where it says nothing, as the rows do, each place once, and a count of too many.
func keptAt(p *practice.Practice, kind string, rows []*practice.Entry) (places []string) {
	add := func(s string) {
		if s != "" && !slices.Contains(places, s) {
			places = append(places, s)
		}
	}
	for _, c := range p.Profile.Coverage {
		if c.Kind == kind {
			add(c.KeptAt)
		}
	}
	if len(places) > 0 {
		return places
	}
	for _, e := range rows {
		add(e.KeptAt)
	}
	const most = 3
	if len(places) > most { // tabs and pages of one binder are one place
		all := places
		places = nil
		for _, s := range all {
			if i := strings.LastIndex(s, ", "); i > 0 {
				s = s[:i]
			}
			add(s)
		}
	}
	if more := len(places) - most; more > 0 {
		places = append(places[:most:most], fmt.Sprintf("and %s, as its rows say", Plural(more, "other place", "other places")))
	}
	return places
}

// firstAndLast locates the first and the last of some rows, each once.
func firstAndLast(n int, at func(int) Evidence) (list []Located) {
	if n > 0 {
		list = append(list, evidence(at(0)))
	}
	if n > 1 {
		list = append(list, evidence(at(n-1)))
	}
	return list
}

// monthOf is the month of a day as 2026-06.
func monthOf(d quantity.Day) string { return d.String()[:len("2006-01")] }

// monthsOf are the months from one day to another.
func monthsOf(from, until quantity.Day) (list []string) {
	y, m, _ := from.Date()
	for d := quantity.NewDay(y, m, 1); d <= until; d = d.AddMonths(1) {
		list = append(list, monthOf(d))
	}
	return list
}

// monthWords is 2026-06 as June 2026.
func monthWords(month string) string {
	t, err := time.Parse("2006-01", month)
	if err != nil {
		return month
	}
	return t.Format("January 2006")
}

// monthRuns writes months as a sentence does: three or more that follow on by their ends.
func monthRuns(months []string) (list []string) {
	for i := 0; i < len(months); {
		last := i
		for last+1 < len(months) && follows(months[last], months[last+1]) {
			last++
		}
		if last-i < 2 {
			last = i
			list = append(list, monthWords(months[i]))
		} else {
			list = append(list, monthWords(months[i])+" to "+monthWords(months[last]))
		}
		i = last + 1
	}
	return list
}

// follows reports whether a month is the one after another.
func follows(month, next string) bool {
	t, err := time.Parse("2006-01", month)
	return err == nil && t.AddDate(0, 1, 0).Format("2006-01") == next
}

// weekOf is the Monday of a day's week.
func weekOf(d quantity.Day) quantity.Day { return d.AddDays(-int((d.Weekday() + 6) % 7)) }

// byDay orders rows by a day.
func byDay[T any](rows []*T, day func(*T) quantity.Day) []*T {
	slices.SortStableFunc(rows, func(a, b *T) int { return cmp.Compare(day(a), day(b)) })
	return rows
}

// within gives pointers to the rows of a time, by day.
func within[T any](rows []T, from, until quantity.Day, day func(*T) quantity.Day) (list []*T) {
	for i := range rows {
		if d := day(&rows[i]); d.Written() && d >= from && d <= until {
			list = append(list, &rows[i])
		}
	}
	return byDay(list, day)
}

// entriesOf are what every row has, of some rows.
func entriesOf[T any](rows []*T, entry func(*T) *practice.Entry) (list []*practice.Entry) {
	for _, r := range rows {
		list = append(list, entry(r))
	}
	return list
}

// everyRow points to all rows.
func everyRow[T any](rows []T) (list []*T) {
	for i := range rows {
		list = append(list, &rows[i])
	}
	return list
}
