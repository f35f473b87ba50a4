package practice

import (
	"cmp"
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
	counted   map[int64][]*Load
	later     map[*Load]bool // those after the day of the audit
	sterilize []*Sterilizer
	programs  map[string][]*Program
}

const (
	nearStart   = 10 * 60      // s: a load that began so near may be the file's
	nearCounter = 24 * 60 * 60 // s: farther off, a counter is another count's
	nearNumber  = 3 * 60 * 60  // s: farther off, a number in a file's name is no counter
)

// Pairing makes the pairing of the files with these paths below traces/.
func (p *Practice) Pairing(files []string) *Pairing {
	g := &Pairing{p: p, named: map[string][]*Load{}, bases: map[string]int{}, counted: map[int64][]*Load{}, later: map[*Load]bool{}, programs: map[string][]*Program{}}
	for _, f := range files {
		g.bases[stem(path.Base(plainPath(f)))]++
	}
	for _, l := range p.LoadsByTime() {
		g.know(l)
	}
	for i := range p.laterLoads {
		g.later[&p.laterLoads[i]] = true
		g.know(&p.laterLoads[i])
	}
	for i := range p.Sterilizers {
		g.sterilize = append(g.sterilize, &p.Sterilizers[i])
	}
	for i := range p.Programs {
		g.programs[p.Programs[i].Sterilizer] = append(g.programs[p.Programs[i].Sterilizer], &p.Programs[i])
	}
	return g
}

// know notes how a file may name a load.
func (g *Pairing) know(l *Load) {
	if name := plainPath(l.Trace); name != "" {
		g.named[stem(name)] = append(g.named[stem(name)], l)
	}
	if l.Counter.Written && l.Counter.Value == math.Trunc(l.Counter.Value) {
		n := int64(l.Counter.Value)
		g.counted[n] = append(g.counted[n], l)
	}
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

// Naming is the sterilizer that a file is of, as far as that is known before it is
// read: that of the one load that names it, that which its path names, or the only
// one; "" where none is.
func (g *Pairing) Naming(file string) string {
	if loads := g.naming(file); len(loads) == 1 && loads[0].Sterilizer != "" {
		return loads[0].Sterilizer
	}
	if could := g.sterilizersOf(file, &trace.Header{}); len(could) == 1 {
		return Key(&could[0].Row)
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
	t.After = t.Load == nil && g.local(h.Start).Day() > g.p.AsOf
	if g.later[t.Load] {
		t.Load, t.By, t.Why, t.After = nil, "", "its load lies after the day of the audit", true
	}
	t.OfTest = t.Why == ofTest
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
	if len(g.p.LoadsByTime())+len(g.later) == 0 {
		return nil, "", "no load is typed"
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
	l, several := g.byStart(file, at, could)
	switch {
	case g.test(h.Counter, at, could, l):
		return nil, "", ofTest
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
	for _, l := range g.counted[n] {
		away := int64(0)
		if at.Written() {
			away = apart(at, l.Started)
		}
		switch {
		case !fits(l, could) || away > within || away > least:
		case away == least:
			several = true
		default:
			best, least, several = l, away, false
		}
	}
	if several {
		return nil
	}
	return best
}

// fits reports whether a load can be of one of the sterilizers; with none, and where
// its row names none, of any.
func fits(l *Load, could []*Sterilizer) bool {
	return len(could) == 0 || l.Sterilizer == "" || slices.ContainsFunc(could, func(s *Sterilizer) bool { return Key(&s.Row) == l.Sterilizer })
}

// loadsAround are the loads of which one may have begun within ten minutes of some
// seconds since 1970.
func (p *Practice) loadsAround(first, last int64) []*Load {
	loads := p.LoadsByTime()
	before := func(l *Load, t int64) int { return cmp.Compare(l.Started.First(), t) }
	// A bare date begins its day, so the search goes a day further back.
	from, _ := slices.BinarySearchFunc(loads, first-nearStart-2*nearCounter, before)
	until, _ := slices.BinarySearchFunc(loads, last+nearStart+1, before)
	return loads[from:max(from, until)]
}

// byStart is the load of one of the sterilizers that began nearest, within ten
// minutes. A load that names another file is not asked, but one that names files of two
// folders is.
func (g *Pairing) byStart(file string, at quantity.Moment, could []*Sterilizer) (best *Load, several bool) {
	least := int64(math.MaxInt64)
	var near *Load
	for _, l := range g.p.loadsAround(at.First(), at.Last()) {
		if !l.Started.HasClock() || l.Trace != "" && stem(plainPath(l.Trace)) != stem(path.Base(plainPath(file))) || !fits(l, could) {
			continue
		}
		away := apart(at, l.Started)
		if away > nearStart {
			continue
		}
		if len(could) == 0 && near != nil && near.Sterilizer != l.Sterilizer {
			return nil, true // which sterilizer the file is of is not known
		}
		near = l
		switch {
		case away > least:
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
	for _, s := range g.sterilize {
		if inPath(plainPath(file), strings.ToLower(s.ID)) {
			found = append(found, s)
		}
	}
	if len(found) == 1 {
		return found
	}
	return nil
}

// inPath reports whether a path names a sterilizer: as a folder, before the rest of a
// name, or, if its id is no bare number, as a word anywhere.
func inPath(file, id string) bool {
	if id == "" {
		return false
	}
	for _, end := range []string{"/", "-", "_"} {
		if strings.Contains("/"+file, "/"+id+end) {
			return true
		}
	}
	words := strings.FieldsFunc(stem(file), func(r rune) bool { return strings.ContainsRune("/-_. ", r) })
	return strings.Trim(id, "0123456789") != "" && slices.Contains(words, id)
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
