package trace

import (
	"strings"
	"sync"
	"sync/atomic"
	"unicode"

	"footing/internal/quantity"
)

// heading is one heading of the table, as its words and its unit tell it.
type heading struct {
	Column
	clock  Clock         // of a time: what its words say; 0 where they do not
	each   quantity.Unit // of a time in plain numbers: s, min or h
	two    float64       // of times in two parts: 1 for minutes and seconds, 60 for hours and minutes, 0 where not said
	letter quantity.Unit // of a temperature: a last letter that could be a unit, or one of several sensors
	main   bool          // a pressure that says chamber
	milli  bool          // of a time: thousandths of a second
	vague  bool          // of a temperature: a sensor, of what is not said
	weak   bool          // of a temperature: nothing but a place; read only where a unit says what it is
}

// token is a word of a heading, and whether a bracket, comma or slash parted it from the one before.
type token struct {
	word, low string // as written; in lower case without a number at its end
	apart     bool
}

func tokens(s string) (list []token) {
	apart := false
	for s != "" {
		i := strings.IndexFunc(s, func(r rune) bool { return unicode.IsSpace(r) || strings.ContainsRune("_()[]{},;/|-\"", r) })
		word := s
		if i >= 0 {
			word = s[:i]
		}
		if w := strings.TrimRight(word, ".:"); w != "" {
			low := strings.ToLower(w)
			if low != "pt100" && low != "pt1000" && low != "f0" {
				if cut := strings.TrimRight(low, "0123456789#"); cut != "" {
					low = cut
				}
			}
			list = append(list, token{w, low, apart})
			apart = false
		}
		if i < 0 {
			return list
		}
		apart = apart || strings.IndexByte("([{,/", s[i]) >= 0
		_, s = cutRune(s[i:])
	}
	return list
}

func cutRune(s string) (rune, string) {
	for i, r := range s {
		return r, s[i+len(string(r)):]
	}
	return 0, ""
}

// Files of one logger have the same headings, thousands of times over. The cap is for
// a folder in which each file has its own.
const mostHeadings = 1000

var (
	headings      sync.Map // heading by its text
	headingsCount atomic.Int64
)

// knownHeading is readHeading, remembered.
func knownHeading(b []byte) heading {
	if h, ok := headings.Load(string(b)); ok {
		return h.(heading)
	}
	h := readHeading(text(b))
	if headingsCount.Load() < mostHeadings && len(b) <= 64 {
		headingsCount.Add(1)
		headings.Store(string(b), h)
	}
	return h
}

// readHeading tells what a column holds by its heading.
func readHeading(s string) heading {
	h := heading{Column: Column{Heading: strings.TrimSpace(s)}}
	list := tokens(s)
	if len(list) == 0 || len(list) > 12 {
		return h
	}
	has := func(w words) bool {
		for _, t := range list {
			if w[t.low] {
				return true
			}
		}
		return false
	}
	degrees, _, sureDegrees := unitAmong(list, quantity.Temperature)
	force, ref, _ := unitAmong(list, quantity.Pressure)
	lone := list[0].word == "t" && len(list) <= 2
	switch {
	case has(dateWords) && !has(timeWords):
		h.Role = Date
	case (has(timeWords) || lone && degrees == 0) && !has(notTheTime) && !(has(degreeWords) && !lone):
		h.time(list, has)
	case has(changeWords) || has(timeWords) && !has(degreeWords) && !has(pressureWords):
	case force != 0 && !has(degreeWords) || has(pressureWords) && degrees == 0:
		h.Role, h.Unit, h.Ref = Pressure, force, ref
		h.main = has(wordList("chamber"))
		if h.Ref == quantity.Unsaid && has(gaugeWords) != has(absoluteWords) {
			h.Ref = quantity.Absolute
			if has(gaugeWords) {
				h.Ref = quantity.Gauge
			}
		}
		h.elsewhere(list)
	case has(degreeWords) || has(sensorWords) || has(placeWords) || degrees != 0 && sureDegrees:
		h.Role = Temperature
		h.vague = degrees == 0 && !has(degreeWords)
		h.weak = h.vague && !has(sensorWords)
		if h.Unit = degrees; !sureDegrees {
			h.Unit, h.letter = 0, degrees
		}
		h.elsewhere(list)
	case has(phaseWords):
		h.Role = PhaseName
	}
	return h
}

// time reads what the words say of a time.
func (h *heading) time(list []token, has func(words) bool) {
	h.Role = Time
	if h.milli = has(milliWords); !h.milli && !has(wholeWords) {
		h.each, _, _ = unitAmong(list, quantity.Span)
	}
	switch {
	case has(dateWords):
		h.clock = Dated
	case has(clockWords):
		h.clock = OfDay
	case has(elapsedWords) || h.each != 0 || h.milli:
		h.clock = Elapsed
	}
	h.two = partsAmong(list)
}

// partsAmong tells what times in two parts are, where a word says it: 1 for minutes
// and seconds, 60 for hours and minutes, else 0.
func partsAmong(list []token) float64 {
	for _, t := range list {
		switch {
		case minuteWords[t.low]:
			return 1
		case hourWords[t.low]:
			return 60
		}
	}
	return 0
}

// elsewhere marks what is measured at another place than in the chamber.
func (h *heading) elsewhere(list []token) {
	for i, t := range list {
		if reason := elsewhere[t.low]; reason != "" && (t.low != "atm" || i == 0) {
			h.Ignored = reason
			return
		}
	}
}

// unitAmong looks for a unit among words, the last first, of up to three words. A
// single letter counts only where it stands apart (sure), or, not sure, at the end.
func unitAmong(list []token, d quantity.Dimension) (u quantity.Unit, ref quantity.Reference, sure bool) {
	last := quantity.NoUnit
	for i := len(list) - 1; i >= 0; i-- {
		for n := min(3, len(list)-i); n >= 1; n-- {
			u, ref, ok := unitIn(joined(list[i:i+n]), d)
			if !ok {
				continue
			}
			if d != quantity.Temperature || n > 1 || len(list[i].word) > 1 || list[i].apart {
				if d == quantity.Span && u > quantity.DayU {
					continue
				}
				return u, ref, true
			}
			if i > 0 && i == len(list)-1 {
				last = u
			}
		}
	}
	return last, 0, false
}

// unitAlone reads words that are a unit and nothing else.
func unitAlone(list []token, d quantity.Dimension) (quantity.Unit, quantity.Reference, bool) {
	if len(list) > 4 {
		return 0, 0, false
	}
	return unitIn(joined(list), d)
}

func joined(list []token) string {
	var b strings.Builder
	for i, t := range list {
		if i > 0 {
			b.WriteByte(' ')
		}
		b.WriteString(t.word)
	}
	return b.String()
}

// letters settles whether a last letter is a unit ("Temp C") or names a sensor
// ("Temp A", "Temp B", "Temp C"): a unit where every temperature without another has the same.
func letters(list []heading) {
	var one quantity.Unit
	for _, h := range list {
		if h.Role != Temperature || h.Unit != 0 {
			continue
		}
		if h.letter == 0 || one != 0 && one != h.letter {
			return
		}
		one = h.letter
	}
	for i := range list {
		if h := &list[i]; h.Role == Temperature && h.Unit == 0 {
			h.Unit = h.letter
		}
	}
}
