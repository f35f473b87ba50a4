package audit

import (
	"context"
	"fmt"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"

	"footing/internal/practice"
	"footing/internal/result"
	"footing/schemas"
)

// Options steer one run.
type Options struct {
	Tool     string // program and version, as the result prints it
	Seed     int64  // for checks that draw at random
	Workers  int    // 0: a worker a processor
	Progress func(done, total int)
	Reading  func(done, total int64) // bytes of data-logger files read so far and in all; calls never overlap
	For      Occasion                // what the report is to be made for; the zero value leaves it to practice.yaml
}

// Run puts every check of the battery to the practice. The same practice, the
// same battery and criteria give the same result, whatever the workers. A check
// that panics is broken and harms no other. Findings, counts and conclusion are the
// same whatever the occasion. The error is the context's, or one of the occasion: of a
// date that is not written, or what its own question refuses.
func Run(ctx context.Context, p *practice.Practice, battery []Check, criteria *Criteria, opt Options) (*result.Result, error) {
	book := criteria.Choose(p)
	stage := newTracing(ctx, p, book, battery, opt.Reading)
	p, later, err := stage.traced(battery, opt.Workers)
	if err != nil {
		return nil, err
	}
	exams := make([]*examined, len(battery))
	workers := opt.Workers
	if workers <= 0 {
		workers = runtime.GOMAXPROCS(0)
	}
	var next, done atomic.Int64
	var all sync.WaitGroup
	for range min(workers, max(1, len(battery))) {
		all.Go(func() {
			for {
				i := int(next.Add(1)) - 1
				if i >= len(battery) || ctx.Err() != nil {
					return
				}
				exams[i] = examine(p, book, &battery[i], opt.Seed)
				if at, ok := stage.broken[battery[i].ID]; ok {
					exams[i] = &examined{Examination: newExamination(p, book, &battery[i]), broken: at.how}
				}
				if n := int(done.Add(1)); opt.Progress != nil {
					opt.Progress(n, len(battery))
				}
			}
		})
	}
	all.Wait()
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	slices.SortFunc(exams, func(a, b *examined) int {
		if a.check.ID < b.check.ID {
			return -1
		}
		return 1
	})
	r := assemble(p, book, exams, opt)
	listTraces(r, p, later)
	stage.charts(r, p, exams)
	if err := opt.For.put(r, p, book, battery, opt.Seed); err != nil {
		return nil, err
	}
	return r, ctx.Err()
}

// Put lets a command ask what a check computes, by the criteria that the check may
// use and with the data-logger files read as for the whole battery; book is what
// holds for this practice. What is said to the examination goes nowhere. The error is
// the context's, or that of a check that the battery does not have.
func Put(ctx context.Context, p *practice.Practice, battery []Check, criteria *Criteria, opt Options, id string, ask func(*Examination, *Book)) error {
	i := slices.IndexFunc(battery, func(c Check) bool { return c.ID == id })
	if i < 0 {
		return fmt.Errorf("the battery has no check %q", id)
	}
	book := criteria.Choose(p)
	p, _, err := newTracing(ctx, p, book, battery, opt.Reading).traced(battery, opt.Workers)
	if err != nil {
		return err
	}
	x := newExamination(p, book, &battery[i])
	x.seed = opt.Seed
	ask(x, book)
	return ctx.Err()
}

// examined is a check with what it said.
type examined struct {
	*Examination
	broken string
	absent []string // needed kinds without a row that is judged
}

// lost reports whether rows of a kind were typed, though none is left to judge.
func (e *examined) lost(kind string) bool { return e.P.Typed(kind) || e.P.Unread(kind) }

func newExamination(p *practice.Practice, book *Book, c *Check) *Examination {
	return &Examination{P: p, check: c, book: book, tally: map[Subject]*tally{}, missing: map[Field]map[Subject]bool{}, reasons: map[string]int{}}
}

func examine(p *practice.Practice, book *Book, c *Check, seed int64) (e *examined) {
	x := newExamination(p, book, c)
	x.seed = seed
	e = &examined{Examination: x}
	for _, kind := range c.Needs {
		if p.Count(kind) == 0 && !(kind == "practice" || kind == "rules") {
			e.absent = append(e.absent, kind)
		}
	}
	if slices.Contains(e.absent, "traces") && p.NoLogger() {
		e.absent = nil
		x.Nothing("no sterilizer has a data logger, as its row says")
		return e
	}
	if len(e.absent) > 0 {
		return e
	}
	defer func() {
		if r := recover(); r != nil {
			// What it had said until then is half a sentence, and goes.
			e.Examination, e.broken = newExamination(p, book, c), fmt.Sprint(r)
		}
	}()
	c.Run(x)
	if x.Silent() && x.nothing == "" {
		e.broken = "the check said nothing of what it examined"
	}
	return e
}

// Rules lists what the practice's own rules ask for that needs a word.
func (x *Examination) Rules() []Mistake { return x.book.Mistakes }

// outcome is one of the five, by battery.md: broken; nonconforming; conforming
// if anything was assessed; not assessed; not applicable.
func (e *examined) outcome() string {
	switch {
	case e.broken != "":
		return result.Broken
	case len(e.absent) > 0:
		return result.NotAssessed
	case e.counts.notMet > 0:
		return result.Nonconforming
	case e.counts.met > 0:
		return result.Conforming
	case e.counts.unclear > 0:
		return result.NotAssessed
	}
	return result.NotApplicable
}

func (e *examined) missingList() []result.Missing {
	var list []result.Missing
	for _, kind := range e.absent {
		list = append(list, result.Missing{Kind: kind})
	}
	for f, subjects := range e.missing {
		list = append(list, result.Missing{Kind: f.Kind, Field: f.Name, Subjects: len(subjects)})
	}
	slices.SortFunc(list, compareMissing)
	return list
}

func compareMissing(a, b result.Missing) int {
	if a.Kind != b.Kind {
		return kindOrder(a.Kind) - kindOrder(b.Kind)
	}
	if a.Field < b.Field {
		return -1
	}
	if a.Field > b.Field {
		return 1
	}
	return 0
}

// kindOrder is where a kind stands in the order of record kinds.
func kindOrder(kind string) int { return slices.Index(schemas.Kinds(), kind) }

func (e *examined) reasonList() []result.Reason {
	var list []result.Reason
	for text, n := range e.reasons {
		list = append(list, result.Reason{Text: text, Count: n})
	}
	slices.SortFunc(list, func(a, b result.Reason) int {
		if a.Count != b.Count {
			return b.Count - a.Count
		}
		if a.Text < b.Text {
			return -1
		}
		return 1
	})
	return list
}
