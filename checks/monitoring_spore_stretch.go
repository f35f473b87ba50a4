package checks

import (
	"slices"
	"sort"
	"time"

	"footing/internal/audit"
	"footing/internal/chain"
	"footing/internal/practice"
	"footing/internal/quantity"
)

// monitoringStretch is the use of a sterilizer from one spore test that counts to the
// next, or from the first record of it, or to the last.
//
// A test counts where it passed and nothing written takes the pass away
// (chain.AssayOf), or where it failed: then the sterilizer was tested, and what the
// failure means is told elsewhere. A test without a result may count.
type monitoringStretch struct {
	before, after *practice.Test // the tests that count; nil where none is
	maybe         []*practice.Test
	spoiled       []*practice.Test // passes that do not count
	days          []monitoringDay  // of use, from that of before up to and without that of after
	installed     quantity.Day     // from which the interval runs where no test is before
}

// monitoringCounts says of a spore test whether it counts as one that was run.
func monitoringCounts(t *practice.Test) quantity.Tri {
	switch {
	case t.Result == "fail" || chain.AssayOf(t).Worth >= chain.Lenient:
		return quantity.Yes
	case t.Result == "pass":
		return quantity.No
	}
	return quantity.Unsure
}

// monitoringStretches cuts the days of use of one sterilizer at its spore tests, both
// by time. Stretches in which it was not used are left out.
func monitoringStretches(days []monitoringDay, tests []*practice.Test) (all []monitoringStretch) {
	var s monitoringStretch
	used := 0
	upTo := func(end func(quantity.Day) bool) {
		from := used
		for used < len(days) && end(days[used].on) {
			used++
		}
		if s.days = days[from:used]; len(s.days) > 0 {
			all = append(all, s)
		}
	}
	for _, t := range tests {
		switch monitoringCounts(t) {
		case quantity.Unsure:
			s.maybe = append(s.maybe, t)
		case quantity.No:
			s.spoiled = append(s.spoiled, t)
		default:
			s.after = t
			upTo(func(d quantity.Day) bool { return d < t.RunAt.Day() })
			s = monitoringStretch{before: t}
		}
	}
	upTo(func(quantity.Day) bool { return true })
	return all
}

// late are the days of use that no test of the stretch covers, under one interval: a
// day is covered by a test of that day, or of one not further back than the interval.
// Days that a test without a result would cover are in open.
//
// Only days of use are asked, so that a closed fortnight is no gap; and since nothing
// before a break longer than the interval can cover the first day after it, that day
// itself must hold a test, or one that was run in the break. A sterilizer that is new is
// due within the interval of its installation.
func (s *monitoringStretch) late(interval quantity.Quantity) (late, open []monitoringDay) {
	past, from := s.days, s.installed
	if s.before != nil {
		from = s.before.RunAt.Day()
	}
	if from.Written() {
		due := from.Add(interval)
		past = s.days[sort.Search(len(s.days), func(i int) bool { return s.days[i].on > due }):]
	}
	if len(s.maybe) == 0 || len(past) == 0 {
		return past, nil
	}
	at := -1 // the last test without a result that is not after the day
	for _, d := range past {
		for at+1 < len(s.maybe) && s.maybe[at+1].RunAt.Day() <= d.on {
			at++
		}
		if at >= 0 && d.on <= s.maybe[at].RunAt.Day().Add(interval) {
			open = append(open, d)
		} else {
			late = append(late, d)
		}
	}
	return late, open
}

// monitoringBack is the first day on which a test would still cover a day of use.
func monitoringBack(d quantity.Day, interval quantity.Quantity) quantity.Day {
	from := d.AddDays(int(d) - int(d.Add(interval)))
	for from < d && from.Add(interval) < d {
		from = from.AddDays(1)
	}
	for from > 1 && from.AddDays(-1).Add(interval) >= d {
		from = from.AddDays(-1)
	}
	return from
}

// sure are the late days of which all tests that could cover them are in the folder.
func (m monitoringTyped) sure(late []monitoringDay, interval quantity.Quantity) (sure []monitoringDay) {
	for _, d := range late {
		if m.whole(monitoringBack(d.on, interval), d.on) {
			sure = append(sure, d)
		}
	}
	return sure
}

// rested says for how many days nothing was run before the first late day, where that
// is longer than the interval: then it is a first day of use after a break.
func (s *monitoringStretch) rested(first quantity.Day, interval quantity.Quantity) (days int, ok bool) {
	at, _ := slices.BinarySearchFunc(s.days, first, func(d monitoringDay, on quantity.Day) int { return int(d.on) - int(on) })
	var ran quantity.Day
	if s.before != nil {
		ran = s.before.RunAt.Day()
	}
	if at > 0 {
		ran = max(ran, s.days[at-1].on)
	}
	for _, t := range slices.Concat(s.maybe, s.spoiled) {
		if on := t.RunAt.Day(); on < first {
			ran = max(ran, on)
		}
	}
	days = int(first-ran) - 1
	return days, ran.Written() && days > 0 && interval.Value > 0 && first > ran.Add(interval)
}

// weekly reports whether the week of each late day, from Monday to Sunday, holds the test
// after, and the week before it the test before.
func (s *monitoringStretch) weekly(late []monitoringDay) bool {
	if s.after == nil {
		return false
	}
	week := monitoringWeek(s.after.RunAt.Day())
	first, last := late[0].on, late[len(late)-1].on
	return monitoringWeek(first) == week && monitoringWeek(last) == week &&
		s.before != nil && monitoringWeek(s.before.RunAt.Day()) >= monitoringWeek(week.AddDays(-1))
}

// monitoringOneEach reports whether a rule asks for a test each week, and each of some
// days lies in a week, from Monday to Sunday, that holds one, as the week before does.
func monitoringOneEach(by audit.Ruling, tests []*practice.Test, days []monitoringDay) bool {
	if by.Verdict != audit.Fail || by.Depends {
		return false
	}
	if interval, limited := by.Criterion.Limit(); !limited || !monitoringIsWeek(interval) {
		return false
	}
	weeks := map[quantity.Day]bool{}
	for _, t := range tests {
		weeks[monitoringWeek(t.RunAt.Day())] = true
	}
	return !slices.ContainsFunc(days, func(d monitoringDay) bool {
		week := monitoringWeek(d.on)
		return !weeks[week] || !weeks[monitoringWeek(week.AddDays(-1))]
	})
}

// monitoringWeek is the Monday of a day's week.
func monitoringWeek(d quantity.Day) quantity.Day {
	for d > 1 && d.Weekday() != time.Monday {
		d = d.AddDays(-1)
	}
	return d
}
