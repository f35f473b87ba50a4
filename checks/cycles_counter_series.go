package checks

import (
	"cmp"
	"slices"
	"sort"

	"footing/internal/audit"
	"footing/internal/chain"
	"footing/internal/practice"
	"footing/internal/quantity"
)

// cyclesCounter is the series of cycle numbers of one sterilizer.
type cyclesCounter struct {
	x       *audit.Examination
	subject audit.Subject
	clock   chain.Clock
	run     float64          // so many missing in a row are a lapse; more are a run
	day     float64          // so many cycles can run in a day
	runIs   *audit.Criterion // of run
	upkeep  []*practice.Upkeep

	rows       []cyclesCounterRow
	blankLoads int
	shared     int            // tests that ran in a load whose number is written
	blanks     []quantity.Day // of cycles with no number that may be of this sterilizer, and of numbers out of place; rising
	astray     []int          // numbers out of place, rising
	tested     bool           // some test cycle has its number
	holes      []cyclesCounterHole
	numbered   map[int][]*cyclesCounterRow
}

// cyclesCounterRow is one cycle with its number.
type cyclesCounterRow struct {
	number int
	at     quantity.Moment
	on     quantity.Day   // of at; of what is no cycle, its own
	here   audit.Evidence // where its number stands
	load   bool           // else a test, or no cycle
	kept   bool           // its number lies between those before and after it
}

// noted is where its number stands, with a word of what that is.
func (r cyclesCounterRow) noted(note string) audit.Evidence {
	e := r.here
	e.Note = note
	return e
}

// dated is where its time stands.
func (r cyclesCounterRow) dated() audit.Evidence {
	if r.load {
		return audit.At(r.here.Row, "started")
	}
	return audit.At(r.here.Row, "run_at")
}

// cyclesCounterAll gathers the series of each sterilizer of the practice's own, by its
// id. Rows that may be of any count as cycles without a number for each.
func cyclesCounterAll(x *audit.Examination) []*cyclesCounter {
	of := map[string]*cyclesCounter{}
	var stray []quantity.Day
	series := func(id string) *cyclesCounter {
		s, state := x.P.Sterilizer(id)
		switch {
		case id == "" || state == practice.Shared || state == practice.SetAside:
			return nil
		case of[id] == nil && (s == nil || s.OperatedBy != "contractor"):
			of[id] = &cyclesCounter{x: x, subject: audit.Subject{Kind: "sterilizers", ID: id}, upkeep: x.P.UpkeepOf(id)}
		}
		return of[id]
	}
	for _, l := range x.P.LoadsByTime() {
		s, _ := x.P.Sterilizer(l.Sterilizer)
		switch c := series(l.Sterilizer); {
		case c != nil:
			c.load(l)
		case s != nil && s.OperatedBy == "contractor":
			x.Pass()
		default:
			x.Unclear(cyclesSubject(l), "which sterilizer ran the load cannot be told", audit.Field{Kind: "loads", Name: "sterilizer"})
			stray = append(stray, l.Started.Day())
		}
	}
	for i := range x.P.Tests {
		t := &x.P.Tests[i]
		if t.Type != "spore" && t.Type != "air-removal" && t.Type != "leak" {
			continue
		}
		if id := x.P.EquipmentOf(t); of[id] != nil {
			of[id].test(t)
		} else if _, state := x.P.Sterilizer(id); state != practice.One {
			stray = append(stray, t.RunAt.Day())
		}
	}
	all := make([]*cyclesCounter, 0, len(of))
	for _, c := range of {
		c.blanks = append(c.blanks, stray...)
		slices.Sort(c.blanks)
		all = append(all, c)
	}
	slices.SortFunc(all, func(a, b *cyclesCounter) int { return cmp.Compare(a.subject.ID, b.subject.ID) })
	return all
}

func (c *cyclesCounter) load(l *practice.Load) {
	if !l.Counter.Written {
		c.blankLoads++
		c.blanks = append(c.blanks, l.Started.Day())
		return
	}
	c.rows = append(c.rows, cyclesCounterRow{number: int(l.Counter.Value), at: l.Started, on: l.Started.Day(), here: audit.At(&l.Row, "counter"), load: true})
}

// test takes a test cycle up. One that names a load ran in it and shares its number.
func (c *cyclesCounter) test(t *practice.Test) {
	c.tested = c.tested || t.Counter.Written
	if t.Load != "" {
		if l, state := c.x.P.Load(t.Load); state != practice.One || l.Counter.Written || !t.Counter.Written {
			c.shared++
			return
		}
	}
	if !t.Counter.Written {
		c.blanks = append(c.blanks, t.RunAt.Day())
		return
	}
	c.rows = append(c.rows, cyclesCounterRow{number: int(t.Counter.Value), at: t.RunAt, on: t.RunAt.Day(), here: audit.At(&t.Row, "counter")})
}

// unnumbered is how many cycles between two days may have any number.
func (c *cyclesCounter) unnumbered(from, until quantity.Day) int {
	first := sort.Search(len(c.blanks), func(i int) bool { return c.blanks[i] >= from })
	return sort.Search(len(c.blanks), func(i int) bool { return c.blanks[i] > until }) - first
}

func (c *cyclesCounter) byNumber() map[int][]*cyclesCounterRow {
	if c.numbered == nil {
		c.numbered = make(map[int][]*cyclesCounterRow, len(c.rows))
		for i := range c.rows {
			r := &c.rows[i]
			c.numbered[r.number] = append(c.numbered[r.number], r)
		}
	}
	return c.numbered
}

// absent are the stretches between two numbers that no row has, in its place or out of it.
func (c *cyclesCounter) absent(after, before int) (stretches [][]int) {
	add := func(first, last int) {
		if first <= last {
			stretches = append(stretches, []int{first, last})
		}
	}
	for _, n := range c.astray[sort.SearchInts(c.astray, after+1):] {
		if n >= before {
			break
		}
		add(after+1, n-1)
		after = n
	}
	add(after+1, before-1)
	return stretches
}
