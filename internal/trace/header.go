package trace

import (
	"bytes"
	"strconv"
	"strings"

	"footing/internal/quantity"
	"footing/schemas"
)

// fact is what a line before the table can say.
type fact uint8

const (
	factNone fact = iota
	factSterilizer
	factCounter
	factCycle // a counter, if it is a number, else a program
	factProgram
	factDate
	factStart
	factDegrees
	factPressure
)

// facts are what the lines before the table have said; of two, the first counts.
type facts struct {
	sterilizer, program string
	counter             int64
	date, start         string // as written
	dateLine, startLine int
	degrees, force      quantity.Unit
	ref                 quantity.Reference
}

// read takes one line: "key, value", "key: value" or "key=value", several of them
// with any delimiter between.
func (f *facts) read(line []byte, number int) {
	before := *f
	s := strings.TrimLeft(text(line), "#*%/ \t\"")
	if key, value, ok := keyed(s); ok && (key == factDate || key == factStart) {
		f.set(key, value)
	}
	cells := strings.FieldsFunc(s, func(r rune) bool { return r == rune(loosest(line)) })
	for i := 0; i < len(cells); i++ {
		if key, value, ok := keyed(cells[i]); ok {
			f.set(key, value)
			continue
		}
		if key := keyOf(cells[i]); key != factNone && i+1 < len(cells) && keyOf(cells[i+1]) == factNone {
			i++
			f.set(key, cells[i])
		}
	}
	if f.date != before.date {
		f.dateLine = number
	}
	if f.start != before.start {
		f.startLine = number
	}
}

// loosest is the delimiter of a line of the header: the first of tab, semicolon, bar, comma that it has.
func loosest(line []byte) byte {
	for _, d := range delimiters {
		if bytes.IndexByte(line, d) >= 0 {
			return d
		}
	}
	return '\t'
}

// keyed cuts "key: value" and "key = value" where the key is known.
func keyed(s string) (fact, string, bool) {
	i := strings.IndexAny(s, ":=")
	if i < 0 {
		return factNone, "", false
	}
	key := keyOf(s[:i])
	return key, s[i+1:], key != factNone
}

func keyOf(s string) fact {
	if len(s) > 60 {
		return factNone
	}
	return headerKeys[strings.TrimRight(schemas.Fold(strings.Trim(s, "\" \t")), ".:#?")]
}

const mostValue = 100 // characters kept of what a header line says

func (f *facts) set(key fact, value string) {
	value = strings.Trim(value, "\" \t\u00a0,;|")
	if r := []rune(value); len(r) > mostValue {
		value = string(r[:mostValue])
	}
	if value == "" {
		return
	}
	first := func(s *string) {
		if *s == "" {
			*s = value
		}
	}
	switch key {
	case factSterilizer:
		first(&f.sterilizer)
	case factCounter, factCycle:
		if n, ok := counter(value); ok {
			if f.counter < 0 {
				f.counter = n
			}
		} else if key == factCycle {
			first(&f.program)
		}
	case factProgram:
		first(&f.program)
	case factDate:
		first(&f.date)
	case factStart:
		first(&f.start)
	case factDegrees:
		f.degrees, _, _ = unitIn(value, quantity.Temperature)
	case factPressure:
		f.force, f.ref, _ = unitIn(value, quantity.Pressure)
	}
}

// counter reads "00341", "#341", "No. 341": one number of at most nine digits.
func counter(s string) (int64, bool) {
	low := strings.ToLower(s)
	for _, p := range []string{"#", "number", "no.", "nr.", "no", "nr"} {
		if cut, ok := strings.CutPrefix(low, p); ok {
			low = strings.TrimSpace(cut)
			break
		}
	}
	if len(low) == 0 || len(low) > 9 || strings.Trim(low, "0123456789") != "" {
		return 0, false
	}
	n, err := strconv.ParseInt(low, 10, 64)
	return n, err == nil
}
