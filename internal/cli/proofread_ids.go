package cli

import (
	"fmt"
	"slices"
	"strings"
	"unicode"

	"footing/internal/practice"
	"footing/internal/record"
	"footing/internal/result"
)

// apartBudget bounds the pairs of ids that are compared letter by letter.
const apartBudget = 5_000_000

// astray is an id that is on no row, as one field of one file names it.
type astray struct {
	kind, file, field, id string
	kinds                 []string
	row, times            int
	near                  string
}

// joins tells which ids lead to no row, those first that look like slips of the
// keyboard. That the others are not typed says nothing.
func (w *proof) joins(p *practice.Practice) {
	list := strays(p)
	look := &looker{p: p, names: map[string]*namesOf{}, budget: apartBudget}
	var likely, others []string
	type place struct{ file, field string }
	at := map[place][]*astray{}
	var order []place
	for _, s := range list {
		if s.near = look.near(s); s.near != "" {
			w.mend(s.times)
			likely = append(likely, s.words(p.Intake))
			continue
		}
		k := place{s.file, s.field}
		if at[k] == nil {
			order = append(order, k)
		}
		at[k] = append(at[k], s)
	}
	for _, k := range order {
		others = append(others, strangers(p.Intake, at[k]))
	}
	for _, l := range p.Unmet() {
		others = append(others, fmt.Sprintf("%s row %d, trace: the file “%s” is not in the folder traces.", plain(l.Row.File()), l.Row.Number(), plain(l.Trace)))
	}
	if len(likely) > 0 {
		w.heading("Ids that may be a slip of the keyboard")
		w.some(len(likely), func(i int) { w.item(likely[i]) })
	}
	if len(others) > 0 {
		w.heading("Ids that stand on no row")
		w.para("Look only whether one is mistyped. What it names may lie before your records, or may not be typed yet; that is no fault.")
		w.some(len(others), func(i int) { w.item(others[i]) })
	}
}

// strays gathers the ids that are on no row, where rows of their kind are typed.
func strays(p *practice.Practice) (list []*astray) {
	at := map[string]*astray{}
	for i := range p.Dangling {
		d := &p.Dangling[i]
		if d.State != practice.Absent || !slices.ContainsFunc(d.Kinds, func(kind string) bool { return p.Count(kind) > 0 }) {
			continue
		}
		key := d.Row.File() + "\x00" + d.Field + "\x00" + d.ID
		s := at[key]
		if s == nil {
			s = &astray{kind: d.Row.Kind(), file: d.Row.File(), field: d.Field, id: d.ID, kinds: d.Kinds, row: d.Row.Number()}
			at[key] = s
			list = append(list, s)
		}
		s.times++
	}
	return list
}

func (s *astray) shown() string {
	if result.ReadsLikeName(s.kinds[0], plain(s.id)) {
		return notShownName
	}
	return "“" + plain(s.id) + "”"
}

func (s *astray) words(in *record.Intake) string {
	rest := ""
	if s.times > 1 {
		rest = " and " + count(s.times-1, "other place", "other places")
	}
	near := "“" + plain(s.near) + "”"
	if result.ReadsLikeName(s.kinds[0], plain(s.near)) {
		near = notShownName
	}
	return fmt.Sprintf("%s row %d%s: %s under %s is on no row of %s; %s is. If that is meant, write it so.", plain(s.file), s.row, rest, s.shown(), headingIn(in, s.kind, s.file, s.field), strings.Join(s.kinds, " or "), near)
}

// strangers counts the ids of one field of one file that no typed row is near.
func strangers(in *record.Intake, list []*astray) string {
	const most = 3
	first := list[0]
	var names []string
	for _, s := range list[:min(len(list), most)] {
		names = append(names, fmt.Sprintf("%s (row %d)", s.shown(), s.row))
	}
	more := ""
	if len(list) > most {
		more = fmt.Sprintf(" and %s more", thousands(len(list)-most))
	}
	return fmt.Sprintf("%s, %s: %s on no row of %s: %s%s.", plain(first.file), headingIn(in, first.kind, first.file, first.field), count(len(list), "id is", "ids are"), strings.Join(first.kinds, " or "), strings.Join(names, ", "), more)
}

// looker finds the id that a mistyped one may have meant.
type looker struct {
	p      *practice.Practice
	names  map[string]*namesOf
	budget int
}

// namesOf is what the rows of a kind are named by, and the one name of each likeness; ""
// where several are alike.
type namesOf struct {
	all   []string
	lower []string // the same in small letters
	alike map[string]string
}

func (l *looker) of(kind string) *namesOf {
	if n := l.names[kind]; n != nil {
		return n
	}
	n := &namesOf{alike: map[string]string{}}
	n.all = l.p.Names(kind)
	slices.Sort(n.all)
	n.all = slices.Compact(n.all)
	for _, name := range n.all {
		n.lower = append(n.lower, strings.ToLower(name))
		key := likeness(name)
		if _, taken := n.alike[key]; taken {
			name = ""
		}
		n.alike[key] = name
	}
	l.names[kind] = n
	return n
}

// near is the one id that reads alike, or else the only one that is a letter off and
// long enough that this tells something; "" where there is none, or several.
func (l *looker) near(s *astray) string {
	for _, kind := range s.kinds {
		if name := l.of(kind).alike[likeness(s.id)]; name != "" {
			return name
		}
	}
	const least = 4 // letters: of two shorter ids a letter apart is the rule
	if len([]rune(s.id)) < least {
		return ""
	}
	found, id := "", strings.ToLower(s.id)
	for _, kind := range s.kinds {
		known := l.of(kind)
		for i, name := range known.lower {
			if d := len(name) - len(id); d < -1 || d > 1 {
				continue
			}
			if l.budget--; l.budget < 0 {
				return ""
			}
			if !near(id, name) && !swapped(id, name) {
				continue
			}
			if found != "" {
				return "" // in a series of numbers each is near to many
			}
			found = known.all[i]
		}
	}
	if onlyDigit(s.id, found) {
		return ""
	}
	return found
}

// swapped reports whether two words differ only in two neighbours that changed places.
func swapped(a, b string) bool {
	if len(a) != len(b) {
		return false
	}
	i := 0
	for i < len(a) && a[i] == b[i] {
		i++
	}
	return i+1 < len(a) && a[i] == b[i+1] && a[i+1] == b[i] && a[i+2:] == b[i+2:]
}

// likeness is an id without what a hand or an eye mixes up: small and capital letters,
// spaces and hyphens, zeros before a number, O and 0, l, I and 1.
func likeness(id string) string {
	var b strings.Builder
	digits := false
	for _, r := range strings.ToLower(id) {
		switch r {
		case 'o':
			r = '0'
		case 'l', 'i':
			r = '1'
		}
		if r == '0' && !digits {
			continue
		}
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			b.WriteRune(r)
		}
		digits = unicode.IsDigit(r)
	}
	return b.String()
}

// onlyDigit reports whether two ids differ only in a digit: then each may well be a row.
func onlyDigit(a, b string) bool {
	letters := func(s string) string {
		return strings.Map(func(r rune) rune {
			if unicode.IsDigit(r) {
				return -1
			}
			return unicode.ToLower(r)
		}, s)
	}
	return letters(a) == letters(b)
}
