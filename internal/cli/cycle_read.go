package cli

import (
	"context"
	"fmt"
	"io"
	"os"
	"sync"

	"footing/internal/audit"
	"footing/internal/report"
	"footing/internal/result"
	"footing/internal/trace"
)

// workers read files, each with a buffer of its own; on a disk more are no faster.
const workers = 2

// mostPoints of a file are drawn.
const mostPoints = 1000

// sitting is one call of cycle: the files, what is asked, and what came of it.
type sitting struct {
	*question
	ctx      context.Context
	files    []loggerFile
	shelf    *shelf // nil where nothing is written
	progress func(done int)

	told   []told  // of each file that could be read, in order
	kept   []int   // of these, the ones that have their tables and charts
	unread []error // of each other
}

// reading is what a worker hands on.
type reading struct {
	told
	svg []byte
	err error
}

// read reads every file, two at a time, and takes what came of them in their order.
func (s *sitting) read() error {
	type job struct {
		file loggerFile
		done chan reading
	}
	jobs, order := make(chan job), make(chan job, 2*workers)
	ctx, stop := context.WithCancel(s.ctx)
	defer stop()
	go func() {
		defer close(jobs)
		defer close(order)
		for _, f := range s.files {
			j := job{f, make(chan reading, 1)}
			select {
			case order <- j:
			case <-ctx.Done():
				return
			}
			jobs <- j // the workers live until it is closed
		}
	}()
	var wait sync.WaitGroup
	defer wait.Wait()
	for range workers {
		wait.Go(func() {
			buffer := make([]byte, 256<<10)
			for j := range jobs {
				j.done <- s.one(ctx, j.file, buffer)
			}
		})
	}
	done := 0
	for j := range order {
		if err := s.take(<-j.done); err != nil {
			stop()
			return err
		}
		done++
		s.progress(done)
	}
	return s.ctx.Err()
}

// one reads one file.
func (s *sitting) one(ctx context.Context, f loggerFile, buffer []byte) reading {
	if f.err != nil {
		return reading{err: f.err}
	}
	if err := openable(f.path); err != nil {
		return reading{err: unreadable(f.shown, err, "check that you may open it, and that it is a file")}
	}
	in, err := os.Open(f.path)
	if err != nil {
		return reading{err: unreadable(f.shown, err, "check that you may open it")}
	}
	defer in.Close()
	points := 0
	if s.shelf != nil {
		points = mostPoints
	}
	t, err := trace.Read(until{ctx, in}, trace.Options{Name: f.name, Layouts: f.layout, Look: s.look, Points: points, Buffer: buffer})
	if err != nil {
		return reading{err: unreadable(f.shown, err, "look whether it can be opened in another program, and copy it again")}
	}
	return s.digest(f, t)
}

// digest keeps of a file what is told of it.
func (s *sitting) digest(f loggerFile, t *trace.Trace) (r reading) {
	if f.layout != nil && f.layout.Entries > 0 && t.Layout == "" {
		noEntry(t)
	}
	hold, how := s.plateau(&t.Cycle)
	x := audit.ShowTrace(t, hold, noBand)
	r.name = f.shown
	r.rows = s.rows(t, x.Rows, hold, how)
	r.line = s.summary(t, hold)
	for _, p := range t.Problems {
		r.notes = append(r.notes, note(p))
		r.grave = r.grave || p.Grave
	}
	if t.Unusable != "" {
		r.err = unusable(r.name, t.Unusable)
		return r
	}
	if s.hold.Written() {
		r.word, _ = s.verdict(hold)
	}
	if s.shelf != nil && len(t.Points) > 0 {
		var err error
		if r.svg, err = draw(&x, f); err != nil {
			r.err = err
		}
		r.shown = &x
	}
	return r
}

// draw makes the chart, under the name by which the file is told.
func draw(x *result.Exhibit, f loggerFile) ([]byte, error) {
	x.Title = "Data-logger file " + f.shown
	x.Chart.File = f.shown
	svg, err := report.Chart(x)
	if err != nil {
		return nil, fmt.Errorf("the chart of %s could not be drawn: %w", f.shown, err)
	}
	return svg, nil
}

// take keeps what came of the next file, and puts its chart on the shelf.
func (s *sitting) take(r reading) error {
	if err := s.ctx.Err(); err != nil {
		return err
	}
	if r.err != nil {
		s.unread = append(s.unread, r.err)
		if r.name == "" {
			return nil
		}
	}
	if r.svg != nil {
		name, err := s.shelf.chart(r.name, r.svg)
		if err != nil {
			return err
		}
		r.told.chart = name
	}
	s.told = append(s.told, r.told)
	s.keep()
	return nil
}

// readable counts the files that could be judged.
func (s *sitting) readable() (n int) {
	for i := range s.told {
		if s.told[i].line.unusable == "" {
			n++
		}
	}
	return n
}

// until is a reader that ends with its context.
type until struct {
	ctx context.Context
	io.Reader
}

func (u until) Read(b []byte) (int, error) {
	if err := u.ctx.Err(); err != nil {
		return 0, err
	}
	return u.Reader.Read(b)
}
