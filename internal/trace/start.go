package trace

import (
	"fmt"
	"math"
	"time"

	"footing/internal/quantity"
)

// firstTrusted is the year before which a logger's clock was never set: they begin at
// 1970, 1980 or 2000 when their battery was out (common practice, no source).
const firstTrusted = 2001

// start tells when the first reading was, where a date is known.
func (r *reader) start(s *survey) {
	first := s.times[0]
	switch r.form.clock {
	case Dated:
		at, daily, ok := r.form.seconds(first.stamp, first.day)
		switch {
		case ok && !daily:
			r.t.Start = r.trusted(r.moment(at, &first), s.first)
		case r.table.date >= 0:
			r.noDate(s.first)
		}
	case OfDay:
		if r.table.date >= 0 || first.lost {
			r.noDate(s.first)
			return
		}
		if d, line := r.headerDay(); d != 0 {
			if at, _, ok := r.form.seconds(first.stamp, 0); ok {
				r.t.Start = r.trusted(r.moment(at+float64(d-unixEpoch)*86400, &first), line)
			}
		} else if line > 0 {
			r.noDate(line)
		}
	case Elapsed:
		r.t.Start = r.headerStart()
	}
}

// moment makes one from seconds since 1970, as precise as the clock is written.
func (r *reader) moment(at float64, s *sampled) quantity.Moment {
	if s.dated { // with its own words: it may have an offset
		if m, err := quantity.ParseMoment(withoutPart(s.text), r.form.order, r.opt.Zone); err == nil {
			return m
		}
	}
	layout := "2006-01-02 15:04:05"
	if s.parts == 2 {
		layout = "2006-01-02 15:04"
	}
	m, _ := quantity.ParseMoment(time.Unix(int64(math.Floor(at)), 0).UTC().Format(layout), quantity.ISO, nil)
	return m
}

// trusted drops a moment of a clock that was never set, and says so.
func (r *reader) trusted(m quantity.Moment, line int) quantity.Moment {
	if y, _, _ := m.Day().Date(); m.Written() && y < firstTrusted {
		r.problems.say("clock-unset", line, fmt.Sprintf("%s has the date %s: the logger's clock was never set, so its date is not used.", atLine(line), m.Day()),
			"Set the logger's clock.")
		return quantity.Moment{}
	}
	return m
}

// headerDay is the date of the lines above the table, and its line; without a day,
// the line of a date that cannot be read.
func (r *reader) headerDay() (quantity.Day, int) {
	doubtful := 0
	for i, s := range []string{r.facts.date, r.facts.start} {
		line := []int{r.facts.dateLine, r.facts.startLine}[i]
		if d, err := quantity.ParseDay(s, r.form.order); err == nil {
			return d, line
		}
		if m, err := quantity.ParseMoment(s, r.form.order, nil); err == nil {
			return m.Day(), line
		}
		if doubtful == 0 && dateLike([]byte(s)) {
			doubtful = line
		}
	}
	return 0, doubtful
}

// headerStart is the start as the lines above the table give it: day and clock
// together, or in two lines.
func (r *reader) headerStart() quantity.Moment {
	for _, s := range []string{r.facts.start, r.facts.date, r.facts.date + " " + r.facts.start} {
		if m, err := quantity.ParseMoment(s, r.form.order, r.opt.Zone); err == nil && m.HasClock() {
			return r.trusted(m, max(r.facts.startLine, r.facts.dateLine))
		}
	}
	if d, line := r.headerDay(); d != 0 {
		m, _ := quantity.ParseMoment(d.String(), quantity.ISO, nil)
		return r.trusted(m, line)
	} else if line > 0 {
		r.noDate(line)
	}
	return quantity.Moment{}
}

// noDate says that the dates of the readings cannot be used.
func (r *reader) noDate(line int) {
	r.problems.say("date-order", line, fmt.Sprintf("%s: the date could be day or month first, or is not written in full, so dates are not used.", atLine(line)),
		"Write date_order into traces/layout.yaml, or say dmy or mdy once at dates in practice.")
}
