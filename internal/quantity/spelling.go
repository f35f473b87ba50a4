package quantity

import (
	"strings"
	"unicode/utf8"
)

// ParseUnit reads the name of a unit of dimension d in the spellings people
// write: "°C", "deg C", "psig", "psi gauge", "kPa abs", "bar(g)", "mins",
// "mbar per minute". A pressure without gauge or absolute leaves it Unsaid.
// The error is an *Error that lists what can be read.
func ParseUnit(s string, d Dimension) (Unit, Reference, error) {
	t := trim(s)
	if t == "" {
		return 0, 0, &Error{Found: s, Why: "names no unit", Allowed: allowed[d]}
	}
	u, r, ok := unitOf(t, d)
	if ok && u == NoUnit && d == Temperature {
		t = "°"
	}
	if !ok || u == NoUnit {
		return 0, 0, unknownUnit(s, t, "", d)
	}
	return u, r, nil
}

var allowed = [...]string{
	Plain: "a number without a unit", Temperature: "°C, °F or K", Difference: "K, °C or °F",
	Pressure:     "kPa, bar, mbar, psi, hPa, Pa, MPa or atm, each with gauge or absolute",
	PressureRate: "mbar/min, kPa/min, bar/min, psi/min and the like",
	Span:         "s, min, h, d, weeks, months or years", Length: "m, km or ft", Percent: "%",
}

// example is what a number stands in when a message shows how to write it.
var example = [...]string{
	Temperature: " °C", Difference: " K", Pressure: " kPa gauge", PressureRate: " mbar/min",
	Span: " min", Length: " m", Percent: " %", Plain: "",
}

const pressureTodo = "write the unit, and gauge or absolute as the dial shows, in the form 1.05 bar gauge"

func unknownUnit(found, unit, number string, d Dimension) error {
	e := &Error{Found: found, Allowed: allowed[d]}
	if number == "" {
		number = "30"
	}
	switch {
	case d == Plain:
		e.Why, e.Todo = "is not a number alone", "write "+number+" and nothing after it"
	case d == Span && (unit == "m" || unit == "M"):
		e.Why, e.Todo = "has m, which could be minutes or months", "write "+number+" min or "+number+" months"
	case d == Pressure && strings.HasPrefix(strings.ToLower(unit), "mpa"):
		e.Why, e.Todo = "could be megapascal or millipascal", "write MPa or kPa, with these capitals"
	case d == Temperature && unit == "°":
		e.Why, e.Todo = "does not say degrees of what", "write "+number+" °C or "+number+" °F"
	case d == Pressure:
		e.Why, e.Todo = "has a unit not known for a "+d.String(), pressureTodo
	default:
		e.Why, e.Todo = "has a unit not known for a "+d.String(), "look at the paper, and write one number with its unit, in the form 1"+example[d]
	}
	return e
}

const longestUnit = 40

// unitOf reads a trimmed unit. A degree sign alone, or "gauge" alone, is known
// but names no unit: it returns NoUnit and true.
func unitOf(s string, d Dimension) (Unit, Reference, bool) {
	var buf [longestUnit]byte
	key, ok := foldUnit(buf[:0], s)
	if !ok {
		return 0, 0, false
	}
	switch d {
	case Temperature, Difference:
		u, ok := temperatureUnit(key)
		if d == Difference && u != NoUnit {
			u = asDifference(u)
		}
		return u, 0, ok
	case Pressure:
		return pressureUnit(key, s)
	case PressureRate:
		u, ok := rateUnit(key, s)
		return u, 0, ok
	case Span:
		u, ok := spanUnit(key)
		return u, 0, ok
	case Length:
		u, ok := lengthUnit(key)
		return u, 0, ok
	case Percent:
		switch string(key) {
		case "%", "percent", "pct":
			return PercentU, 0, true
		}
	}
	return 0, 0, false
}

func asDifference(u Unit) Unit {
	switch u {
	case Celsius:
		return CelsiusD
	case Fahrenheit:
		return FahrenheitD
	case KelvinT:
		return KelvinD
	}
	return u
}

// foldUnit appends s in lower case without spaces, brackets and dots, every
// degree sign as an asterisk. It fails on what no unit is written with.
func foldUnit(b []byte, s string) ([]byte, bool) {
	for i := 0; i < len(s); {
		if len(b)+2 > longestUnit {
			return nil, false
		}
		c := s[i]
		if c < utf8.RuneSelf {
			i++
			switch {
			case 'a' <= c && c <= 'z', c == '%', c == '/', c == '\'', c == '"':
				b = append(b, c)
			case 'A' <= c && c <= 'Z':
				b = append(b, c+'a'-'A')
			case c == ' ', c == '\t', c == '.', c == '(', c == ')', c == '[', c == ']':
			case (c == '-' || c == ',') && i < len(s): // "psi-gauge", "psi, gauge"
				if n := trimLeft(s[i:]); n == "" || digit(n[0]) || n[0] == '-' {
					return nil, false
				}
			default:
				return nil, false
			}
			continue
		}
		r, n := utf8.DecodeRuneInString(s[i:])
		i += n
		switch r {
		case '°', 'º', '˚':
			b = append(b, '*')
		case '℃':
			b = append(b, '*', 'c')
		case '℉':
			b = append(b, '*', 'f')
		case '\u212a': // the sign for kelvin
			b = append(b, 'k')
		case '′', '’':
			b = append(b, '\'')
		case '″', '”':
			b = append(b, '"')
		case '％':
			b = append(b, '%')
		default:
			if !blank(r) {
				return nil, false
			}
		}
	}
	return b, len(b) > 0
}
