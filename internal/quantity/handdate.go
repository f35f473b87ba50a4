package quantity

import (
	"errors"
	"strconv"
	"strings"
	"time"
)

// ReadDay reads a date as it stands in a cell or on paper: all that ParseDay reads, and
// what has one meaning only, though it is written in another way: with the weekday beside
// it (which must be the right one), with 31st, with blanks around the marks, 20260331, and
// with two figures for the year where day, month and year cannot be taken for each
// other: 31-Mar-26, and 31/3/26 in the order o; they are of the years 2000 to 2049. The
// error is that of ParseDay or says more.
func ReadDay(s string, o DateOrder) (Day, error) {
	d, err := ParseDay(s, o)
	if err == nil || len(s) > longestHand {
		return d, err
	}
	t, week := plainDate(Tidy(s), o)
	if d, wrong := ParseDay(t, o); wrong == nil {
		if wrong = rightWeekday(s, d, week); wrong != nil {
			return 0, wrong
		}
		return d, nil
	}
	return 0, lostDate(s, err)
}

// ReadMoment is to ParseMoment what ReadDay is to ParseDay. Of the clock it also reads
// 14h05, 1405, 14:05 h, "at 14:05", a clock before its date, and UTC after it.
func ReadMoment(s string, o DateOrder, loc *time.Location) (Moment, error) {
	m, err := ParseMoment(s, o, loc)
	if err == nil || len(s) > longestHand {
		return m, err
	}
	t := Tidy(s)
	if p := clockFirst.FindStringSubmatch(t); p != nil {
		t = p[2] + " " + p[1]
	}
	t, week := plainDate(t, o)
	d, rest, wrong := scanDay(t, t, o)
	if wrong != nil {
		return Moment{}, lostDate(s, err)
	}
	if wrong := rightWeekday(s, d, week); wrong != nil {
		return Moment{}, wrong
	}
	t = d.String()
	if rest != "" {
		t += plainClock(rest)
	}
	m, again := ParseMoment(t, ISO, loc)
	var e *Error
	if errors.As(again, &e) {
		e.Found = s
		return Moment{}, e
	}
	return m, nil
}

const weekdays = `(mon|tues?|weds?|thu|thurs?|fri|sat|sun|monday|tuesday|wednesday|thursday|friday|saturday|sunday)`

var (
	weekdayFirst = when(`(?i)^` + weekdays + `\b[.,]* *`)
	weekdayLast  = when(`(?i)[ ,(]+` + weekdays + `[.)]*$`)
	clockFirst   = when(`(?i)^(\d{1,2}:\d\d(?::\d\d)?(?: ?[ap]\.?m\.?)?),? (?:on )?(.*\d.*)$`)
	ordinal      = when(`(?i)\b(\d{1,2})(?:st|nd|rd|th)\b(?: of\b)?`)
	monthWord    = when(`(?i)(?:^|[^a-z])(?:jan|feb|mar|apr|may|jun|jul|aug|sep|oct|nov|dec)`)
	allFigures   = when(`^((?:19|20|21)\d\d)(\d\d)(\d\d)($| .*)`)
	spaced       = when(`^(\d{1,4}) ?([/.-]) ?(\d{1,2}) ?([/.-]) ?(\d{1,4})($| .*)`)
	onlySpaced   = when(`^(\d{1,2}|\d{4}) (\d{1,2}) (\d{4}|\d{1,2})($| .*)`)
	shortYear    = when(`^(\d{1,2})([/.])(\d{1,2})([/.])['’]?([0-4]\d)($| .*)`)
	shortNamed   = when(`^(\d{1,2})[ ./-]*([A-Za-z]{3,9})([ .,/-]*['’]?)([0-4]\d)($| .*)`)
	shortMonth   = when(`^([A-Za-z]{3,9})[ .]*(\d{1,2})(?:, ?| )['’]?([0-4]\d)($| .*)`)
	wholeClock   = when(`^$|\d(?:[:.hH]\d\d|\d{3})`)
	longYear     = when(`^(\d{1,2}|\d{4})[ ./-]*([A-Za-z]{3,9})[ .,/-]*(\d{4}|\d{1,2})($| .*)`)
)

// plainDate brings a date to a form that scanDay reads, and tells the weekday that
// stood with it; -1 where none did.
func plainDate(t string, o DateOrder) (string, time.Weekday) {
	week := time.Weekday(-1)
	for _, at := range [...]*pattern{weekdayFirst, weekdayLast} {
		if p := at.FindStringSubmatch(t); p != nil && week < 0 {
			week = weekdayNamed(p[1])
			t = trim(at.ReplaceAllString(t, ""))
		}
	}
	if monthWord.MatchString(t) { // "4/3rd/2026" says which is the day, whatever the order
		t = ordinal.ReplaceAllString(t, "$1")
	}
	if p := allFigures.FindStringSubmatch(t); p != nil {
		return p[1] + "-" + p[2] + "-" + p[3] + p[4], week
	}
	if p := onlySpaced.FindStringSubmatch(t); p != nil && (len(p[1]) == 4) != (len(p[3]) == 4) {
		t = p[1] + "/" + p[2] + "/" + p[3] + p[4]
	}
	if p := spaced.FindStringSubmatch(t); p != nil && p[2] == p[4] {
		t = p[1] + p[2] + p[3] + p[2] + p[5] + p[6]
	}
	if p := shortYear.FindStringSubmatch(t); p != nil && p[2] == p[4] && o != ISO {
		return p[1] + "/" + p[3] + "/20" + p[5] + p[6], week
	}
	// "31 Mar 14 h" may be two o'clock of that day.
	if p := shortNamed.FindStringSubmatch(t); p != nil && (strings.ContainsAny(p[3], "/-'’") || wholeClock.MatchString(p[5])) {
		return p[1] + " " + p[2] + " 20" + p[4] + p[5], week
	}
	if p := shortMonth.FindStringSubmatch(t); p != nil && wholeClock.MatchString(p[4]) {
		return p[1] + " " + p[2] + ", 20" + p[3] + p[4], week
	}
	if p := longYear.FindStringSubmatch(t); p != nil {
		t = p[1] + " " + p[2] + " " + p[3] + p[4]
	}
	return t, week
}

// weekdayNamed takes one of the words of weekdays.
func weekdayNamed(word string) time.Weekday {
	for d := time.Sunday; d <= time.Saturday; d++ {
		if strings.EqualFold(d.String()[:3], word[:3]) {
			return d
		}
	}
	return -1
}

func rightWeekday(s string, d Day, week time.Weekday) error {
	if week < 0 || d.Weekday() == week {
		return nil
	}
	return &Error{Found: s, Why: "has a weekday that is not that of its date",
		Todo: "look which of the two is right: " + d.String() + " was a " + d.Weekday().String()}
}

var (
	clockLead  = when(`(?i)^[ ,]*(?:at|@|-|–)? *`)
	clockOfH   = when(`(?i)^(\d{1,2})h(\d\d)$`)
	clockBare  = when(`(?i)^([01]\d|2[0-3])([0-5]\d) ?(?:h|hrs?|hours)?\.?$`)
	clockHours = when(`(?i)^(\d{1,2}[:.]\d\d(?::\d\d)?) ?(?:h|hrs?|hours|local|\(local\)|local time)\.?$`)
	clockUTC   = when(`(?i)^(\d{1,2}:\d\d(?::\d\d)?) ?(?:utc|\(utc\))$`)
)

// plainClock brings what follows a date to a form that scanClock reads, if it is one
// of those above.
func plainClock(rest string) string {
	t := rest[len(clockLead.FindString(rest)):]
	if p := clockOfH.FindStringSubmatch(t); p != nil {
		return " " + p[1] + ":" + p[2]
	}
	if p := clockBare.FindStringSubmatch(t); p != nil {
		return " " + p[1] + ":" + p[2]
	}
	if p := clockHours.FindStringSubmatch(t); p != nil {
		return " " + p[1]
	}
	if p := clockUTC.FindStringSubmatch(t); p != nil {
		return " " + p[1] + "Z"
	}
	if len(t) < len(rest) && t != "" && digit(t[0]) {
		return " " + t
	}
	return rest
}

// Days of the years 2000 to 2099 as spreadsheets count them, from the end of 1899.
const firstSerial, lastSerial = 36526, 73050

// lostDate says what a number is that a spreadsheet shows for a date; else it is err.
func lostDate(s string, err error) error {
	whole, _, _ := strings.Cut(trim(s), ".")
	if n, e := strconv.Atoi(whole); e == nil && firstSerial <= n && n <= lastSerial {
		return &Error{Found: s, Why: "is a number that a spreadsheet shows where a cell is not set to be a date", Allowed: dateForms,
			Todo: "set the cells of this column to dates and save again, or write the date in the form 2026-03-31"}
	}
	return err
}
