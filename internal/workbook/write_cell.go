package workbook

import (
	"fmt"
	"strconv"
	"strings"
	"time"
)

// dayNought is the day that the format counts from. It takes 1900 for a leap year, so
// days before 1 March 1900 have no number that every program reads alike.
var (
	dayNought = time.Date(1899, 12, 30, 0, 0, 0, 0, time.UTC)
	firstDay  = time.Date(1900, 3, 1, 0, 0, 0, 0, time.UTC)
)

const secondsADay = 86_400

// value is what is stored for a cell, and which format shows it. What would not come
// back as it is written is stored as text.
func (c Cell) value() (any, look) {
	switch c.Kind {
	case Number:
		if n, ok := exact(c.Text); ok {
			return n, lookNumber
		}
	case Day:
		if t, ok := whenWritten(c.Text, "2006-01-02"); ok {
			return daysOf(t), lookDay
		}
	case Moment:
		// Midnight has the number of its day, and would come back as a day without a clock.
		if t, ok := whenWritten(c.Text, "2006-01-02 15:04"); ok && secondsOf(t) > 0 {
			return float64(daysOf(t)) + secondsOf(t)/secondsADay, lookMoment
		}
		// Seconds of nought are written out by none: they would not come back.
		if t, ok := whenWritten(c.Text, "2006-01-02 15:04:05"); ok && t.Second() != 0 {
			return float64(daysOf(t)) + secondsOf(t)/secondsADay, lookSecond
		}
	case Clock:
		if t, err := time.Parse("15:04", c.Text); err == nil && t.Format("15:04") == c.Text {
			return secondsOf(t) / secondsADay, lookClock
		}
		if t, err := time.Parse("15:04:05", c.Text); err == nil && t.Format("15:04:05") == c.Text && t.Second() != 0 {
			return secondsOf(t) / secondsADay, lookClockSecond
		}
	}
	return marked(c.Text), lookText
}

// exact gives the number of a text that a number alone keeps as it is: no nought that
// would be lost, at most 15 digits.
func exact(text string) (float64, bool) {
	n, err := strconv.ParseFloat(text, 64)
	if err != nil || strconv.FormatFloat(n, 'f', -1, 64) != text {
		return 0, false
	}
	digits := 0
	for _, c := range text {
		if c > '0' && c <= '9' || c == '0' && digits > 0 {
			digits++
		}
	}
	return n, digits <= 15 && len(text) <= 30 && text != "-0"
}

func whenWritten(text, layout string) (time.Time, bool) {
	t, err := time.Parse(layout, text)
	return t, err == nil && t.Format(layout) == text && !t.Before(firstDay)
}

// daysOf counts in seconds: a time.Duration ends after 292 years.
func daysOf(t time.Time) int { return int((t.Unix() - dayNought.Unix()) / secondsADay) }

func secondsOf(t time.Time) float64 {
	h, m, s := t.Clock()
	return float64(h*3600 + m*60 + s)
}

// The library would write a control character as a question mark, and escape our own
// escape of it. So it is given marks, two characters that no text of people's has
// (Unicode keeps them for the inside of programs), and these become _x0001_ at the end.
const (
	markBegin = '\uFDD0'
	markEnd   = '\uFDD1'
)

// marked is the text with what XML cannot hold between marks.
func marked(text string) string {
	if !strings.ContainsFunc(text, needsMark) {
		return text
	}
	var b strings.Builder
	for _, r := range text {
		if needsMark(r) {
			fmt.Fprintf(&b, "%c%04X%c", markBegin, r, markEnd)
		} else {
			b.WriteRune(r)
		}
	}
	return b.String()
}

func needsMark(r rune) bool {
	return r < ' ' && r != '\t' && r != '\n' || r == markBegin || r == markEnd || r == '\uFFFE' || r == '\uFFFF'
}
