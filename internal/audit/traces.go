package audit

import (
	"cmp"
	"context"
	"fmt"
	"io"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"
	"time"

	"footing/internal/practice"
	"footing/internal/quantity"
	"footing/internal/record"
	"footing/internal/steam"
	"footing/internal/trace"
)

// tracing is the stage of a run that reads every data-logger file once: pairs it
// with its load, asks the checks what they want measured, and keeps the summary.
type tracing struct {
	ctx      context.Context
	p        *practice.Practice
	pairing  *practice.Pairing
	watchers []*watcher
	progress func(done, total int64)

	mu          sync.Mutex
	done, total int64
	broken      map[string]panicked // by check
}

// panicked is how the Watch of a check did so, at the first file by name of those at
// which it did: which one a worker met first must not show.
type panicked struct{ file, how string }

// watcher is a check that wants something measured, as one worker asks it.
type watcher struct {
	check *Check
	book  *Book
}

// wantsTraces reports whether any check of the battery looks at data-logger files.
func wantsTraces(battery []Check) bool {
	return slices.ContainsFunc(battery, func(c Check) bool { return c.Watch != nil || slices.Contains(c.Needs, "traces") })
}

func newTracing(ctx context.Context, p *practice.Practice, book *Book, battery []Check, progress func(done, total int64)) *tracing {
	s := &tracing{ctx: ctx, p: p, progress: progress}
	for i := range battery {
		if battery[i].Watch != nil {
			s.watchers = append(s.watchers, &watcher{&battery[i], book})
		}
	}
	var names []string
	for _, t := range p.Intake.Traces {
		s.total += t.Bytes
		names = append(names, practice.BelowTraces(t.Name))
	}
	s.pairing = p.Pairing(names)
	return s
}

// traced is the practice with its data-logger files read, where the battery looks at
// any, and the files that lie after the day of the audit.
func (s *tracing) traced(battery []Check, workers int) (*practice.Practice, []*practice.Traced, error) {
	if !wantsTraces(battery) {
		return s.p, nil, nil
	}
	list, later, err := s.read(workers)
	if err != nil {
		return nil, nil, err
	}
	return s.p.WithTraces(list), later, nil
}

// read reads the files, a worker a processor. Files that lie after the day of the
// audit are in later and not in list; both are by name.
func (s *tracing) read(workers int) (list, later []*practice.Traced, err error) {
	files := s.p.Intake.Traces
	all := make([]*practice.Traced, len(files))
	if workers <= 0 {
		workers = runtime.GOMAXPROCS(0)
	}
	var next atomic.Int64
	var wait sync.WaitGroup
	for range min(workers, len(files)) {
		wait.Go(func() {
			w := s.worker()
			defer w.Close()
			for i := int(next.Add(1)) - 1; i < len(files) && s.ctx.Err() == nil; i = int(next.Add(1)) - 1 {
				all[i] = w.file(files[i], 0)
				s.tell(files[i].Bytes)
			}
		})
	}
	wait.Wait()
	if err := s.ctx.Err(); err != nil {
		return nil, nil, err
	}
	for _, t := range all {
		if t.After {
			later = append(later, t)
		} else {
			list = append(list, t)
		}
	}
	return list, later, nil
}

func (s *tracing) tell(n int64) {
	if s.progress == nil {
		return
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	s.done += n
	s.progress(s.done, s.total)
}

// traceWorker reads files one after the other, with a buffer, a series and examinations
// of its own; it is to be closed.
type traceWorker struct {
	*tracing
	*record.Opener
	buf    []byte
	series steam.Series
	exams  []*Examination
}

func (s *tracing) worker() *traceWorker {
	w := &traceWorker{tracing: s, Opener: s.p.Intake.Opener(), buf: make([]byte, 256<<10)}
	for _, c := range s.watchers {
		w.exams = append(w.exams, newExamination(s.p, c.book, c.check))
	}
	return w
}

// file reads one file; points are kept for a chart.
func (w *traceWorker) file(f record.Trace, points int) *practice.Traced {
	name := practice.BelowTraces(f.Name)
	t := &practice.Traced{File: f.Name, Trace: unread(name, f.Bytes)}
	in, err := w.Open(f)
	if err == nil {
		defer in.Close()
		units := w.p.Intake.Units
		t.Trace, err = trace.Read(stoppable{w.ctx, in}, trace.Options{Name: name, Layouts: w.p.Layouts, Sterilizer: w.pairing.Naming(name), Order: w.p.Intake.Order, Zone: w.zone(),
			Temperature: units.Temperature, Pressure: units.Pressure, Reference: units.Reference, Points: points, Buffer: w.buf, Series: &w.series,
			Look: func(h *trace.Header) trace.Look {
				t.Trace = &trace.Trace{Name: name, Header: *h}
				w.pairing.Pair(t, h)
				return w.look(t)
			}})
	}
	switch {
	case err != nil:
		t.Trace, t.Unread = unread(name, f.Bytes), err.Error()
	case t.Bytes != f.Bytes:
		t.Trace, t.Unread = unread(name, f.Bytes), "its length changed while it was read; close it in other programs and run again"
	}
	if t.By == "" && t.Why == "" { // nothing of it could be asked
		w.pairing.Pair(t, &t.Header)
	}
	return t
}

// unread is a file of which no more is known than its name and length.
func unread(name string, bytes int64) *trace.Trace {
	return &trace.Trace{Name: name, Bytes: bytes, Header: trace.Header{Counter: -1}}
}

// zone is the practice's where it names one; a time with its offset stays as written otherwise.
func (w *traceWorker) zone() *time.Location {
	if w.p.Profile.TimeZone == "" {
		return nil
	}
	return w.p.Zone
}

// look joins what the checks want measured.
func (w *traceWorker) look(t *practice.Traced) (l trace.Look) {
	if height, ok := w.p.AltitudeOf(t.Sterilizer); ok {
		l.Altitude, l.AltitudeKnown = height.In(quantity.Metre), true
	}
	for i, c := range w.watchers {
		want := w.ask(c.check, w.exams[i], t)
		l.Levels, l.Over, l.Apart = append(l.Levels, want.Levels...), append(l.Over, want.Over...), append(l.Apart, want.Apart...)
		l.Below, l.Above = max(l.Below, want.Below), max(l.Above, want.Above)
		if want.Scale != (steam.Scale{}) {
			l.Scale = want.Scale
		}
	}
	for _, list := range []*[]float64{&l.Levels, &l.Over, &l.Apart} {
		slices.Sort(*list)
		*list = slices.Compact(*list)
	}
	return l
}

// ask asks one check; a panic breaks that check alone.
func (w *traceWorker) ask(c *Check, x *Examination, t *practice.Traced) (want steam.Setting) {
	defer func() {
		if r := recover(); r != nil {
			w.mu.Lock()
			defer w.mu.Unlock()
			if w.broken == nil {
				w.broken = map[string]panicked{}
			}
			if before, known := w.broken[c.ID]; !known || t.File < before.file {
				w.broken[c.ID] = panicked{t.File, fmt.Sprint(r)}
			}
			want = steam.Setting{}
		}
	}()
	return c.Watch(x, t)
}

// stoppable is a reader that ends with its context.
type stoppable struct {
	ctx context.Context
	io.Reader
}

func (s stoppable) Read(b []byte) (int, error) {
	if err := s.ctx.Err(); err != nil {
		return 0, err
	}
	return s.Reader.Read(b)
}

// drawn is a data-logger file with the weight of what was found of it.
type drawn struct {
	trace       *practice.Traced
	grade       Grade
	weight      float64
	check       string
	fingerprint string
}

// mostDrawn is how many charts a report has: two of them are kept for conforming files.
const mostDrawn = 24

// worstFirst orders the files that findings rest on, each once with all of its
// findings: by grade, then how far off, then check and name.
func worstFirst(all []drawn) (order []*practice.Traced, of map[*practice.Traced][]drawn) {
	slices.SortStableFunc(all, func(a, b drawn) int {
		return cmp.Or(cmp.Compare(b.grade, a.grade), cmp.Compare(b.weight, a.weight), cmp.Compare(a.check, b.check), cmp.Compare(a.trace.Name, b.trace.Name))
	})
	of = map[*practice.Traced][]drawn{}
	for _, d := range all {
		if of[d.trace] == nil {
			order = append(order, d.trace)
		}
		if !slices.ContainsFunc(of[d.trace], func(e drawn) bool { return e.fingerprint == d.fingerprint }) {
			of[d.trace] = append(of[d.trace], d)
		}
	}
	return order, of
}
