package quantity

import "strconv"

// Error says why a written value could not be read. Its parts are for callers
// who lay out their own message; Error puts them into one sentence.
type Error struct {
	Found   string // the text as written
	Why     string // what is wrong with it, to follow the text: "has no unit"
	Allowed string // what can be read: "°C, °F or K"; may be empty
	Todo    string // what to write instead: "write the unit with it"
	Day     Day    // that can be read, where only the clock after it cannot
}

// Error returns one lower-case sentence: what was found, what can be read, what to do.
func (e *Error) Error() string {
	s := strconv.Quote(shorten(e.Found)) + " " + e.Why
	if e.Allowed != "" {
		s += "; what can be read: " + e.Allowed
	}
	if e.Todo != "" {
		s += "; " + e.Todo
	}
	return s
}

const longestQuoted = 60

func shorten(s string) string {
	b := make([]rune, 0, longestQuoted+1)
	for _, r := range s {
		if len(b) == longestQuoted {
			return string(append(b, '…'))
		}
		if blank(r) {
			r = ' ' // else shown as a code
		}
		b = append(b, r)
	}
	return string(b)
}
