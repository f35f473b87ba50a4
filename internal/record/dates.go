package record

import (
	"errors"
	"fmt"
	"regexp"
	"strconv"
	"sync"

	"footing/internal/quantity"
	"footing/schemas"
)

// toDay takes a date; of a date with a clock it takes the date.
func (l *lane) toDay(dst *quantity.Day, sh shape, text string) *fault {
	if sh != isText {
		return l.refused(plainValue(sh, text), text)
	}
	if l.unsaid(text) {
		return nil
	}
	set := &l.sheet.set
	d, err := quantity.ReadDay(text, set.order)
	if err != nil {
		m, noMoment := quantity.ReadMoment(text, set.order, set.zone)
		if noMoment != nil {
			if f := l.monthOnly(text); f != nil {
				return f
			}
			return l.keepDay(noMoment, text, func(day string) *fault { return l.toDay(dst, sh, day) }, l.unread(err, text))
		}
		d = m.Day()
	}
	if !l.col.judge.word(text) {
		if s := d.String(); !l.col.judge.word(s) {
			return l.refused(s, text)
		}
	}
	*dst = d
	return nil
}

// toMoment takes a date with or without a clock.
func (l *lane) toMoment(dst *quantity.Moment, sh shape, text string) *fault {
	if sh != isText {
		return l.refused(plainValue(sh, text), text)
	}
	if l.unsaid(text) {
		return nil
	}
	set := &l.sheet.set
	m, err := quantity.ReadMoment(text, set.order, set.zone)
	if err != nil {
		return l.keepDay(err, text, func(day string) *fault { return l.toMoment(dst, sh, day) }, l.unread(err, text))
	}
	if !l.col.judge.word(text) {
		if s := m.String(); !l.col.judge.word(s) {
			return l.refused(s, text)
		}
	}
	*dst = m
	return nil
}

// keepDay fills in the day alone where only the clock after it cannot be read, and gives
// the fault of the clock; else it gives whole, the fault of the value.
func (l *lane) keepDay(err error, text string, fill func(day string) *fault, whole *fault) *fault {
	var wrong *quantity.Error
	if !errors.As(err, &wrong) || !wrong.Day.Written() || fill(wrong.Day.String()) != nil {
		return whole
	}
	f := l.unread(err, text)
	f.kept = true
	return f
}

var monthForms = sync.OnceValue(func() [2]*regexp.Regexp {
	return [...]*regexp.Regexp{
		regexp.MustCompile(`^(\d{1,2}|[A-Za-z]{3,9}) ?[/. -] ?((?:20)?[2-9]\d)$`),
		regexp.MustCompile(`^(20\d\d) ?[/. -] ?(\d{1,2})$`),
	}
})

// monthOnly is the fault of a month without its day where something ends: many boxes print
// no more. That it holds to the end of the month is common practice, no source, so it is
// for the person to say.
func (l *lane) monthOnly(text string) *fault {
	f := l.col.field
	if !endsByMonth(f) || len(text) > longestChoice {
		return nil
	}
	month, year := "", ""
	if p := monthForms()[0].FindStringSubmatch(quantity.Tidy(text)); p != nil {
		month, year = p[1], p[2]
	} else if p := monthForms()[1].FindStringSubmatch(quantity.Tidy(text)); p != nil {
		month, year = p[2], p[1]
	}
	if len(year) == 2 {
		year = "20" + year
	}
	if n, err := strconv.Atoi(month); err == nil {
		month = fmt.Sprintf("%02d", n)
	}
	first, err := quantity.ParseDay(year+"-"+month+"-01", quantity.ISO)
	if err != nil {
		return nil
	}
	iso := first.String()
	last := first.AddMonths(1).AddDays(-1).String()
	return l.fault("month-"+iso[:7], text, "is no whole date").do("write " + last + ", the last day of the month, if the box or the paper says " + iso[5:7] + "/" + iso[:4])
}

// endsByMonth is true for the days on which something that was bought or issued ends.
func endsByMonth(f *schemas.Field) bool {
	switch f.Name {
	case "expires_on", "lot_expires_on", "use_by", "valid_until", "discard_on":
		return f.Date == schemas.Deadline
	}
	return false
}
