package practice

import (
	"math"
	"path"
	"slices"
	"strings"
	"time"

	"footing/internal/quantity"
	"footing/internal/trace"
	"footing/schemas"
)

// Pairing finds the load that a data-logger file belongs to: the one that names
// it; else the load of the same sterilizer with the counter in its header or its
// name; else one that started within ten minutes. It is made once and may be
// asked by several goroutines.
type Pairing struct {
	p         *Practice
	named     map[string][]*Load // by path or base name as a load has it, folded
	bases     map[string]int     // how many files have a base name
	counted   map[countedKey][]*Load
	sterilize []*Sterilizer
	programs  map[string][]*Program
}

type countedKey struct {
	sterilizer string
	counter    int64
}

const (
	nearStart   = 10 * 60      // s: a load that began so near may be the file's
	nearCounter = 24 * 60 * 60 // s: farther off, a counter is another count's
	nearNumber  = 3 * 60 * 60  // s: farther off, a number in a file's name is no counter
)

// Pairing makes the pairing of the files with these paths below traces/.
func (p *Practice) Pairing(files []string) *Pairing {
	g := &Pairing{p: p, named: map[string][]*Load{}, bases: map[string]int{}, counted: map[countedKey][]*Load{}, programs: map[string][]*Program{}}
	for _, f := range files {
		g.bases[stem(path.Base(plainPath(f)))]++
	}
	for _, l := range p.LoadsByTime() {
		if name := plainPath(l.Trace); name != "" {
			g.named[stem(name)] = append(g.named[stem(name)], l)
		}
		if l.Counter.Written && l.Counter.Value == math.Trunc(l.Counter.Value) {
			key := countedKey{l.Sterilizer, int64(l.Counter.Value)}
			g.counted[key] = append(g.counted[key], l)
		}
	}
	for i := range p.Sterilizers {
		g.sterilize = append(g.sterilize, &p.Sterilizers[i])
	}
	for i := range p.Programs {
		g.programs[p.Programs[i].Sterilizer] = append(g.programs[p.Programs[i].Sterilizer], &p.Programs[i])
	}
	return g
}

// plainPath is a path as people write it, brought to one form: below traces/,
// forward slashes, small letters.
func plainPath(name string) string {
	name = strings.ToLower(strings.ReplaceAll(strings.TrimSpace(name), `\`, "/"))
	return strings.TrimPrefix(strings.TrimPrefix(name, "./"), "traces/")
}

// stem is a path without the ending of a data-logger file, which people leave out.
func stem(name string) string {
	switch ext := path.Ext(name); ext {
	case ".csv", ".txt", ".tsv", ".log", ".dat":
		return strings.TrimSuffix(name, ext)
	}
	return name
}

// Naming is the sterilizer of the one load that names a file; "" where none does.
func (g *Pairing) Naming(file string) string {
	if loads := g.naming(file); len(loads) == 1 {
		return loads[0].Sterilizer
	}
	return ""
}

func (g *Pairing) naming(file string) []*Load {
	name := stem(plainPath(file))
	if loads := g.named[name]; len(loads) > 0 {
		return loads
	}
	if base := path.Base(name); base != name && g.bases[base] == 1 {
		return g.named[base]
	}
	return nil
}

// Pair finds the load, sterilizer and program of a file by its header, and says
// in the Traced how, or why not.
func (g *Pairing) Pair(t *Traced, h *trace.Header) {
	could := g.sterilizersOf(t.Name, h)
	t.Load, t.By, t.Why = g.load(t.Name, h, could)
	switch {
	case t.Load != nil:
		t.Sterilizer, _ = g.p.Sterilizer(t.Load.Sterilizer)
	case len(could) == 1:
		t.Sterilizer = could[0]
	}
	t.Program = g.program(t, h)
}

func (g *Pairing) load(file string, h *trace.Header, could []*Sterilizer) (l *Load, by, why string) {
	switch loads := g.naming(file); len(loads) {
	case 0:
	case 1:
		return loads[0], "name", ""
	default:
		return nil, "", "several loads name it, and only one can be meant"
	}
	if len(g.p.LoadsByTime()) == 0 {
		return nil, "", "no load is typed"
	}
	if len(could) == 0 {
		could = g.sterilize
	}
	at := g.local(h.Start)
	numbers, within := h.NameCounters, int64(nearNumber)
	if h.Counter >= 0 {
		numbers, within = []int64{h.Counter}, nearCounter
	}
	for _, n := range numbers {
		if l := g.byCounter(n, at, could, within); l != nil {
			return l, "counter", ""
		}
	}
	if !at.HasClock() {
		return nil, "", "no load names it or has its counter, and it does not say when it began"
	}
	l, several := g.byStart(at, could)
	switch {
	case several:
		return nil, "", "several loads began within ten minutes of it"
	case l == nil:
		return nil, "", "no load names it, has its counter, or began within ten minutes of it"
	}
	return l, "start", ""
}

// local is a logger's clock read as that of the practice.
func (g *Pairing) local(m quantity.Moment) quantity.Moment {
	if g.p.Zone == time.UTC || !m.Written() {
		return m
	}
	if there, err := quantity.ParseMoment(m.String(), quantity.ISO, g.p.Zone); err == nil {
		return there
	}
	return m
}

// byCounter is the one load with that counter on one of the sterilizers, the
// nearest where there are several; none that lies farther off than so many seconds.
func (g *Pairing) byCounter(n int64, at quantity.Moment, could []*Sterilizer, within int64) (best *Load) {
	least, several := int64(math.MaxInt64), false
	for _, s := range could {
		for _, l := range g.counted[countedKey{Key(&s.Row), n}] {
			away := int64(0)
			if at.Written() {
				away = apart(at, l.Started)
			}
			switch {
			case away > within || away > least:
			case away == least:
				several = true
			default:
				best, least, several = l, away, false
			}
		}
	}
	if several {
		return nil
	}
	return best
}

// byStart is the load of one of the sterilizers that began nearest, within ten
// minutes. A load that names another file is not asked.
func (g *Pairing) byStart(at quantity.Moment, could []*Sterilizer) (best *Load, several bool) {
	loads := g.p.LoadsByTime()
	// A bare date begins its day, so the search goes a day further back.
	i, _ := slices.BinarySearchFunc(loads, at.First()-nearStart-2*nearCounter, func(l *Load, t int64) int { return int(min(1, max(-1, l.Started.First()-t))) })
	least := int64(math.MaxInt64)
	for ; i < len(loads) && loads[i].Started.First() <= at.Last()+nearStart; i++ {
		l := loads[i]
		if !l.Started.HasClock() || l.Trace != "" || !slices.ContainsFunc(could, func(s *Sterilizer) bool { return Key(&s.Row) == l.Sterilizer }) {
			continue
		}
		switch away := apart(at, l.Started); {
		case away > nearStart || away > least:
		case away == least:
			several = true
		default:
			best, least, several = l, away, false
		}
	}
	if several {
		return nil, true
	}
	return best, false
}

// apart are the seconds between two moments; 0 where they may be the same.
func apart(a, b quantity.Moment) int64 {
	return max(0, a.First()-b.Last(), b.First()-a.Last())
}

// sterilizersOf are those that a file may be of: the one that its header or its
// path names; the only one there is; else none, which means any.
func (g *Pairing) sterilizersOf(file string, h *trace.Header) []*Sterilizer {
	if len(g.sterilize) == 1 {
		return g.sterilize
	}
	said := schemas.Fold(h.Sterilizer)
	var found []*Sterilizer
	for _, s := range g.sterilize {
		if id := schemas.Fold(s.ID); id != "" && id == said {
			return []*Sterilizer{s}
		}
	}
	parts := strings.FieldsFunc(plainPath(stem(file)), func(r rune) bool { return strings.ContainsRune("/-_. ", r) })
	for _, s := range g.sterilize {
		if id := strings.ToLower(s.ID); id != "" && (slices.Contains(parts, id) || strings.Contains("/"+plainPath(file), "/"+id+"-") || strings.Contains("/"+plainPath(file), "/"+id+"_")) {
			found = append(found, s)
		}
	}
	if len(found) == 1 {
		return found
	}
	return nil
}

// program is the one that the load names, by id or by the name on the display;
// without a load, or where the load names none, the one that the header names.
func (g *Pairing) program(t *Traced, h *trace.Header) *Program {
	key := ""
	if t.Sterilizer != nil {
		key = Key(&t.Sterilizer.Row)
	}
	said := h.Program
	if t.Load != nil && t.Load.Program != "" {
		said = t.Load.Program
	}
	if strings.TrimSpace(said) == "" {
		return nil
	}
	if q, state := g.p.Program(said); state == One && (q.Sterilizer == "" || q.Sterilizer == key) {
		return q
	} else if state != Absent {
		return nil
	}
	var found *Program
	for _, q := range g.programs[key] {
		if strings.EqualFold(strings.TrimSpace(q.Name), strings.TrimSpace(said)) {
			if found != nil {
				return nil
			}
			found = q
		}
	}
	return found
}
