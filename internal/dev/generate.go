package dev

import (
	"fmt"
	"math/rand/v2"
	"os"
	"time"
)

// Plan says how large a practice Generate makes and how it is written.
// A field left at its zero value takes the value of DefaultPlan, but for
// Traces, Clean, Chain and Seed, which mean what they say.
type Plan struct {
	Seed                   int64
	Years                  int       // length of the records
	Days                   int       // calendar days instead of years, for short records
	VisitsPerDay           float64   // mean visits a working day
	SecondsBetweenReadings int       // of each data-logger trace
	Format                 string    // csv, json, jsonl, yaml or mixed
	Start                  time.Time // first day; else the records end on LastDay
	Clean                  bool      // no planted fault; else about one row in a hundred has one
	Traces                 bool      // a trace for each finished load
	Chain                  bool      // the chain from clients to spore tests is broken in places, and nothing else is wrong; neither clean nor with traces
}

// LastDay is the last day of the records when a plan names no start.
var LastDay = time.Date(2026, time.November, 24, 0, 0, 0, 0, time.UTC)

// DefaultPlan is ten clean years: about 83,000 rows, 2,600 loads with a trace of
// about 2,800 readings each, 186 MB.
func DefaultPlan() Plan {
	return Plan{Seed: 1, Years: 10, VisitsPerDay: 7, SecondsBetweenReadings: 1, Format: "mixed", Clean: true, Traces: true}
}

// Span gives the first and the last day of the records of a plan.
func (p Plan) Span() (first, last time.Time) {
	p = p.filled()
	after := func(t time.Time) time.Time { return t.AddDate(p.Years, 0, p.Days) }
	if p.Start.IsZero() {
		first = LastDay.AddDate(-p.Years, 0, 1-p.Days)
	} else {
		first = time.Date(p.Start.Year(), p.Start.Month(), p.Start.Day(), 0, 0, 0, 0, time.UTC)
	}
	return first, after(first).AddDate(0, 0, -1)
}

// slips reports whether a row in a hundred has a slip, and a trace in twenty a flaw.
func (p Plan) slips() bool { return !p.Clean && !p.Chain }

func (p Plan) filled() Plan {
	d := DefaultPlan()
	if p.Years == 0 && p.Days == 0 {
		p.Years = d.Years
	}
	if p.Days != 0 {
		p.Years = 0
	}
	if p.VisitsPerDay == 0 {
		p.VisitsPerDay = d.VisitsPerDay
	}
	if p.SecondsBetweenReadings == 0 {
		p.SecondsBetweenReadings = d.SecondsBetweenReadings
	}
	if p.Format == "" {
		p.Format = d.Format
	}
	return p
}

// Generate writes a practice of the planned size into dir, which must be new or
// empty: complete, consistent in itself, with coverage said for every kind it
// writes. The same plan gives the same bytes. What is wrong with the traces of an
// unclean practice, or with its chain, is listed beside them in a file that no audit
// reads: see PlantedIn. The error says what could not be written, or what in the plan cannot
// be met.
func Generate(dir string, plan Plan) error {
	plan = plan.filled()
	if plan.Years < 0 || plan.Days < 0 || plan.VisitsPerDay < 0 || plan.SecondsBetweenReadings < 0 {
		return fmt.Errorf("a plan holds no negative number: %+v", plan)
	}
	if _, ok := formats[plan.Format]; !ok {
		return fmt.Errorf("format %q: choose csv, json, jsonl, yaml or mixed", plan.Format)
	}
	if plan.Chain && (plan.Clean || plan.Traces) {
		return fmt.Errorf("a plan with breaks of the chain is neither clean nor has it data-logger files")
	}
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return err
	}
	if list, err := os.ReadDir(dir); err != nil {
		return err
	} else if len(list) > 0 {
		return fmt.Errorf("%s is not empty: name a new folder", dir)
	}
	m := &maker{plan: plan, dir: dir, sheets: map[string]*sheet{}, bins: map[binKey]*bin{}}
	m.first, m.last = plan.Span()
	m.repairOn = repairDay(m.first, m.last)
	m.rng = rand.New(rand.NewPCG(uint64(plan.Seed), 1))
	m.faults = rand.New(rand.NewPCG(uint64(plan.Seed), 2))
	m.flaws = rand.New(rand.NewPCG(uint64(plan.Seed), 4))
	m.traces = newTraceWriters(dir, plan.SecondsBetweenReadings)
	if plan.Chain {
		m.breaks = &breaker{maker: m, flaws: chainFlaws, loads: map[string]row{}}
	}
	m.all()
	err := m.traces.wait()
	for _, kind := range m.order {
		if e := m.sheets[kind].close(); err == nil {
			err = e
		}
	}
	if err == nil {
		err = m.failed
	}
	if err == nil && len(m.planted) > 0 {
		err = writePlanted(dir, m.planted)
	}
	return err
}

// maker is the practice as it goes through its days.
type maker struct {
	plan        Plan
	dir         string
	first, last time.Time
	rng, faults *rand.Rand
	flaws       *rand.Rand
	sheets      map[string]*sheet
	order       []string
	failed      error
	traces      *traceWriters
	repairOn    time.Time      // after which three spore tests pass before the next load
	counts      map[string]int // last number of each series of ids

	breaks     *breaker // nil where the chain is whole
	planted    []Planted
	turn       int       // of the next kind of flaw
	sound      int       // number of the last load whose trace has no flaw
	aheadUntil time.Time // until when the data logger's clock is ahead

	staff      []worker
	cohorts    []worker // one student a year
	sterilizer []machine
	products   map[string]string // product name: container in use
	clients    []*client
	due        clientQueue
	shelf      []pack
	soiled     []int     // instrument sets that wait for a load
	renewOn    time.Time // next new containers
	cleaning   row       // of last evening
	out        []string  // packs of today's trip
	owed       float64
	bins       map[binKey]*bin
	binOrder   []binKey
	waste      []container
}

func (m *maker) all() {
	m.counts = map[string]int{}
	m.people()
	m.premises()
	m.papers()
	m.upkeep()
	m.openStock()
	for d := m.first; !d.After(m.last); d = d.AddDate(0, 0, 1) {
		if d.Weekday() != time.Saturday && d.Weekday() != time.Sunday {
			m.day(d)
		}
	}
	m.close()
	m.practice()
}

// fault is true for about one row in a hundred of an unclean practice. It has its
// own numbers, so that clean and unclean practices differ in nothing else.
func (m *maker) fault() bool { return m.plan.slips() && m.faults.IntN(100) == 0 }

// next numbers a series of ids: "V-000001".
func (m *maker) next(series string, digits int) string {
	m.counts[series]++
	return fmt.Sprintf("%s-%0*d", series, digits, m.counts[series])
}

func (m *maker) chance(p float64) bool { return m.rng.Float64() < p }

// between is a whole number from low to high, both included.
func (m *maker) between(low, high int) int { return low + m.rng.IntN(high-low+1) }

func (m *maker) staffIDs(d time.Time) []string {
	var ids []string
	for _, w := range m.staff {
		ids = append(ids, w.id)
	}
	for _, w := range m.cohorts {
		if !d.Before(w.from.AddDate(0, -5, 0)) && !d.After(w.until) {
			ids = append(ids, w.id)
		}
	}
	return ids
}

func day(t time.Time) string    { return t.Format("2006-01-02") }
func moment(t time.Time) string { return t.Format("2006-01-02 15:04") }
func at(d time.Time, minutes int) time.Time {
	return d.Add(time.Duration(minutes) * time.Minute)
}
