package quantity

import (
	"strconv"
	"strings"
	"time"
)

// DateOrder is how a practice writes dates in figures. Year first is read always.
type DateOrder uint8

// The orders.
const (
	ISO DateOrder = iota // year, month, day
	DMY
	MDY
)

// String returns "", "dmy" or "mdy", as practice.dates has it.
func (o DateOrder) String() string { return [...]string{"", "dmy", "mdy"}[o%3] }

// Years outside these are slips of the pen, and the record kinds refuse them too.
const firstYear, lastYear = 1900, 2199

// ParseDay reads a date: 2026-03-31 always; 31/03/2026, 31.3.2026 and 31-03-2026
// in the order o; and 31 Mar 2026 or March 31, 2026, whose order cannot be
// mistaken. The error is an *Error: two figures for a year, no such day, an order
// that nobody stated, a clock beside the date.
func ParseDay(s string, o DateOrder) (Day, error) {
	t := trim(s)
	d, rest, err := scanDay(s, t, o)
	if err != nil {
		return 0, err
	}
	if rest != "" {
		e := &Error{Found: s, Why: "has more after the date", Todo: "write the date alone: " + d.String()}
		if looksLikeClock(rest) {
			e.Why = "has a clock with the date, where a date alone is meant"
		}
		return 0, e
	}
	return d, nil
}

const dateForms = "2026-03-31, or 31/03/2026 where the practice says day or month first"

// scanDay reads the date at the start of t and returns what follows it.
func scanDay(s, t string, o DateOrder) (Day, string, error) {
	refuse := func(why, todo string) (Day, string, error) {
		return 0, "", &Error{Found: s, Why: why, Allowed: dateForms, Todo: todo}
	}
	if t == "" {
		return refuse("is empty", "write a date, or leave it out")
	}
	var f [3]int // the figures, in the order written
	var n [3]int // how many digits each has
	month := -1  // which of them was a name
	i := 0
	var sep byte
	wide := false // more than one mark between two figures
	for k := range f {
		if k > 0 {
			j := i
			for i < len(t) && (t[i] == '-' || t[i] == '/' || t[i] == '.' || t[i] == ',' || t[i] == ' ') {
				i++
			}
			if j == i {
				return refuse("is not a whole date", "write year, month and day, in the form 2026-03-31")
			}
			if k == 1 {
				sep = t[j]
			}
			wide = wide || i-j > 1 || t[j] != sep
		}
		start := i
		for i < len(t) && digit(t[i]) && i-start < 5 {
			f[k] = f[k]*10 + int(t[i]-'0')
			i++
		}
		n[k] = i - start
		if n[k] == 0 {
			m, w := monthNamed(t[i:])
			if m == 0 || k == 2 || month >= 0 {
				return refuse("is not a date that can be read", "write year, month and day, in the form 2026-03-31")
			}
			f[k], month = m, k
			i += w
		}
	}
	if month < 0 && (wide || sep != '-' && sep != '/' && sep != '.') {
		return refuse("is not a date that can be read", "write year, month and day, in the form 2026-03-31")
	}
	if i < len(t) && (digit(t[i]) || t[i] == '-' || t[i] == '/') {
		return refuse("is not a date that can be read", "write year, month and day, in the form 2026-03-31")
	}
	y, m, d, why, todo := order(f, n, month, o)
	if why != "" {
		return refuse(why, todo)
	}
	switch {
	case y < firstYear || y > lastYear:
		return refuse("has a year that cannot be meant", "write a year from 1900 to 2199")
	case m < 1 || m > 12:
		return refuse("has no month of that number", inOrder(n, o))
	case d < 1 || d > daysIn(y, m):
		return refuse("is no day of the calendar", inOrder(n, o))
	}
	return NewDay(y, time.Month(m), d), t[i:], nil
}

// order tells which figure is which.
func order(f, n [3]int, month int, o DateOrder) (y, m, d int, why, todo string) {
	switch {
	case n[0] == 4 && month != 0:
		y, m, d = f[0], f[1], f[2]
		if n[2] > 2 || n[1] > 2 {
			why = "is not a date that can be read"
		}
	case n[2] <= 2 && n[0] <= 2:
		return 0, 0, 0, "has two figures for the year", "write the year with four figures, in the form 2026-03-31"
	case n[2] != 4 || n[0] > 2 || n[1] > 2:
		why = "is not a date that can be read"
	case month == 0:
		y, m, d = f[2], f[0], f[1]
	case month == 1 || o == DMY:
		y, m, d = f[2], f[1], f[0]
	case o == MDY:
		y, m, d = f[2], f[0], f[1]
	default:
		return 0, 0, 0, "could be day or month first", "write year, month and day in the form 2026-03-31, or state dmy or mdy once at dates in practice"
	}
	if why != "" {
		todo = "write year, month and day, in the form 2026-03-31"
	}
	return y, m, d, why, todo
}

// inOrder reminds of the order a date in figures was read in.
func inOrder(n [3]int, o DateOrder) string {
	if n[0] != 4 && n[1] != 0 && n[0] != 0 && o != ISO {
		return "dates are read in the order " + o.String() + " here; write year, month and day in the form 2026-03-31 to be sure"
	}
	return "look at what the paper says, and write year, month and day in the form 2026-03-31"
}

var longMonths = [...]string{"january", "february", "march", "april", "may", "june", "july", "august", "september", "october", "november", "december"}

// monthNamed reads an English month, whole or at least its first three letters.
func monthNamed(s string) (month, width int) {
	for width < len(s) && ('a' <= s[width]|0x20 && s[width]|0x20 <= 'z') {
		width++
	}
	if width < 3 {
		return 0, 0
	}
	for i, name := range longMonths {
		if width > len(name) || (width > 4 && width < len(name)) {
			continue
		}
		same := true
		for j := range width {
			same = same && s[j]|0x20 == name[j]
		}
		if same {
			return i + 1, width
		}
	}
	return 0, 0
}

func looksLikeClock(s string) bool { return strings.Contains(s, ":") }

// ParseDateOrder reads practice.dates: "dmy" or "mdy", or "" for year first only.
func ParseDateOrder(s string) (DateOrder, error) {
	for o := ISO; o <= MDY; o++ {
		if s == o.String() {
			return o, nil
		}
	}
	return ISO, &Error{Found: s, Why: "is not an order of dates", Allowed: strconv.Quote("dmy") + " or " + strconv.Quote("mdy"), Todo: "write which comes first, day or month"}
}
