package record

import (
	"errors"

	"footing/internal/quantity"
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
