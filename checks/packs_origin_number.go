package checks

import (
	"cmp"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"footing/internal/practice"
	"footing/internal/quantity"
)

// packsNumbers is the numbers in the ids of loads, and those of their counters.
type packsNumbers struct {
	series   map[string][]packsNumbered // by what stands before the number, lowest first
	unsteady map[string]bool            // series in which a later number has an earlier day
	counted  map[int]bool               // numbers of ids and counters
}

type packsNumbered struct {
	number int
	day    quantity.Day
}

// packsNumberOf splits an id into what stands before its last number, without regard
// to capitals and signs, and that number: "L-0412" is "l" and 412. False where the id
// ends in none.
func packsNumberOf(id string) (series string, number int, ok bool) {
	digits := len(id)
	for digits > 0 && id[digits-1] >= '0' && id[digits-1] <= '9' {
		digits--
	}
	number, err := strconv.Atoi(id[digits:])
	return strings.Map(packsNumberSign, strings.ToLower(id[:digits])), number, err == nil
}

// packsNumberSign drops the signs of an id, which people write or leave out.
func packsNumberSign(r rune) rune {
	if unicode.IsLetter(r) || unicode.IsDigit(r) {
		return r
	}
	return -1
}

func packsNumbersOf(p *practice.Practice) packsNumbers {
	n := packsNumbers{series: map[string][]packsNumbered{}, unsteady: map[string]bool{}, counted: map[int]bool{}}
	for _, l := range p.LoadsByTime() {
		n.add(l)
	}
	n.order()
	return n
}

// add notes the numbers of one load; one without an id has its counter alone.
func (n packsNumbers) add(l *practice.Load) {
	if l.Counter.Written {
		n.counted[int(l.Counter.Value)] = true
	}
	if l.Row.ID == "" {
		return
	}
	series, number, ok := packsNumberOf(l.Row.ID)
	if ok {
		n.counted[number] = true
	}
	n.series[series] = append(n.series[series], packsNumbered{number, l.Started.Day()})
}

// order sorts each series by number, and marks those whose days do not rise with it.
func (n packsNumbers) order() {
	for name, s := range n.series {
		slices.SortStableFunc(s, func(a, b packsNumbered) int { return cmp.Compare(a.number, b.number) })
		n.unsteady[name] = !slices.IsSortedFunc(s, func(a, b packsNumbered) int { return cmp.Compare(a.day, b.day) })
	}
}

// spelt reports whether an id that no load has may be another spelling of one: the
// same number in the same series, or a number alone, or in words of its own, that a
// load or its counter has.
func (n packsNumbers) spelt(id string) bool {
	series, number, ok := packsNumberOf(id)
	s, known := n.series[series]
	if !known {
		return ok && n.counted[number]
	}
	_, found := slices.BinarySearchFunc(s, number, func(a packsNumbered, b int) int { return cmp.Compare(a.number, b) })
	return found
}

// alike reports whether an id has the form of those of the log.
func (n packsNumbers) alike(id string) bool {
	series, _, ok := packsNumberOf(id)
	return ok && len(n.series[series]) > 0
}

// before is the day of the load whose number comes before that of an id, in a series
// whose numbers rise with the days; not written where there is none.
func (n packsNumbers) before(id string) quantity.Day {
	series, number, ok := packsNumberOf(id)
	s := n.series[series]
	i, _ := slices.BinarySearchFunc(s, number, func(a packsNumbered, b int) int { return cmp.Compare(a.number, b) })
	if !ok || i == 0 || n.unsteady[series] {
		return 0
	}
	return s[i-1].day
}
