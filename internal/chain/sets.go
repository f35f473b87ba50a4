package chain

import (
	"regexp"
	"strconv"

	"footing/internal/practice"
)

// SetCount is how many packs of one set a load held. Set is folded: small letters,
// single blanks.
type SetCount struct {
	Set   string
	Count float64
}

// How people write a set with its number. Nine digits at most, as everywhere.
var (
	setThenCount  = regexp.MustCompile(`^(.*\S)(?:\s+x|\s*[×*:=])\s*(\d{1,9})$`)
	setInBrackets = regexp.MustCompile(`^(.*\S)\s*\((?:[x×*]\s*)?(\d{1,9})\)$`)
	countThenSet  = regexp.MustCompile(`^(\d{1,9})(?:\s+x\s+|\s*[×*]\s*|\s+)(\S.*)$`)
	openEnd       = regexp.MustCompile(`(?:\d\s*\)?|[×*:=(]|\bx)$`)
	openStart     = regexp.MustCompile(`^(?:\d|[×*:=)]|x\b)`)
)

// SetsOf reads loads.sets: which sets a load held, and how many packs of each, in
// the order written; a set that is named twice is added up, one without a number
// counts once. False where the list is not written, or where an entry can be read in
// two ways, as "kit 2", which may be the name of a set or two of them.
func SetsOf(l *practice.Load) (sets []SetCount, ok bool) {
	if !l.Sets.Written || l.Sets.All {
		return nil, false
	}
	at := map[string]int{}
	for _, entry := range l.Sets.Items {
		c, ok := setCount(entry)
		if !ok {
			return nil, false
		}
		i, seen := at[c.Set]
		if !seen {
			i = len(sets)
			at[c.Set] = i
			sets = append(sets, SetCount{Set: c.Set})
		}
		sets[i].Count += c.Count
	}
	return sets, true
}

// setCount reads one entry: "nail x 6", "nail × 6", "nail: 6", "nail (6)", "6 nail",
// "6 x nail", "nail".
func setCount(entry string) (SetCount, bool) {
	name, digits := fold(entry), "1"
	for _, form := range []*regexp.Regexp{setThenCount, setInBrackets} {
		if m := form.FindStringSubmatch(name); m != nil {
			return setNamed(m[1], m[2])
		}
	}
	if m := countThenSet.FindStringSubmatch(name); m != nil {
		digits, name = m[1], m[2]
	}
	return setNamed(name, digits)
}

// setNamed refuses a name that begins or ends with what may be a number of packs.
func setNamed(name, digits string) (SetCount, bool) {
	n, err := strconv.Atoi(digits)
	if err != nil || name == "" || openStart.MatchString(name) || openEnd.MatchString(name) {
		return SetCount{}, false
	}
	return SetCount{Set: name, Count: float64(n)}, true
}

// Making is where the number of packs that a load made is written.
type Making uint8

// Makings.
const (
	MadeUnknown Making = iota // nowhere
	MadeCounted               // packs_made
	MadeSets                  // the sum of sets
	MadeRows                  // the rows of packs that name the load: at least so many
)

// MadeBy is how many packs a load made, and where that is written: packs_made, else
// the sum of its sets, else the packs that name it. 0 with MadeUnknown. Packs that
// name an id which several loads share are of neither.
func MadeBy(p *practice.Practice, l *practice.Load) (n int, how Making) {
	if n, ok := Made(l); ok {
		if l.PacksMade.Written {
			return n, MadeCounted
		}
		return n, MadeSets
	}
	key := practice.Key(&l.Row)
	if _, state := p.Load(key); state != practice.One {
		return 0, MadeUnknown
	}
	if n = len(p.PacksOf(key)); n > 0 {
		return n, MadeRows
	}
	return 0, MadeUnknown
}
