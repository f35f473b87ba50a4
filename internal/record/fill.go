package record

import (
	"cmp"
	"context"
	"fmt"
	"os"
	"runtime"
	"slices"
	"strings"
	"sync"
)

// Fill reads the records in dir into target: a pointer to a struct with a field for each
// kind, tagged `kind:"loads"`, that is a slice of structs, or one struct for practice and
// rules. Those structs embed Row and tag their fields `field:"started"`. Rows stand in the
// order of the files' names, of the sheets in a workbook, and of the rows in each. The
// error says that the folder cannot be read at all, that target does not agree with the
// schemas, or that ctx is done; all else is told in the Intake.
func Fill(ctx context.Context, dir string, target any, opt Options) (*Intake, error) {
	into, plans, err := bind(target)
	if err != nil {
		return nil, err
	}
	root, err := os.OpenRoot(dir)
	if err != nil {
		return nil, fmt.Errorf("the folder %s cannot be read: %w", dir, plainError(err))
	}
	r := &reading{ctx: ctx, opt: opt, folder: &folder{root: root, plans: plans, most: opt.MaxBytes}, set: settings{}}
	defer r.folder.close()
	if r.folder.most <= 0 {
		r.folder.most = DefaultMaxBytes
	}
	if err := r.folder.list(); err != nil {
		return nil, err
	}
	if opt.Rules != "" {
		if err := r.folder.useRules(opt.Rules); err != nil {
			return nil, err
		}
	}
	if err := r.readAll(); err != nil {
		return nil, err
	}
	return r.finish(into), nil
}

// reading is one run of Fill.
type reading struct {
	ctx         context.Context
	opt         Options
	folder      *folder
	set         settings
	traceLayout *TraceLayout
	sheets      []*sheet // all that was read; by finish
	slots       []*slot  // by name of file, and in the order of the sheets of a workbook

	mu          sync.Mutex
	done, total int64
	failed      error
}

func (r *reading) readAll() error {
	f := r.folder
	for _, e := range f.records {
		r.total += e.info.Size()
		r.slots = append(r.slots, &slot{name: e.name, plan: e.plan, entry: e})
	}
	for _, b := range f.books {
		r.total += b.entry.info.Size()
	}
	if err := r.books(); err != nil {
		return err
	}
	slices.SortStableFunc(r.slots, func(a, b *slot) int { return strings.Compare(a.file(), b.file()) })
	var tasks []task
	for _, s := range r.slots {
		if s.plan.kind.Name == "practice" { // how it says values are written steers the rest
			if err := r.read(s); err != nil {
				return err
			}
			continue
		}
		tasks = append(tasks, task{s.weight(), func() error { return r.read(s) }})
	}
	if f.layout != nil {
		if err := r.layout(f.layout); err != nil {
			return err
		}
	}
	slices.SortStableFunc(tasks, func(a, b task) int { return cmp.Compare(b.weight, a.weight) })
	r.run(tasks)
	r.tooMuch()
	return cmp.Or(r.failed, r.ctx.Err())
}

// task is one file to read; the heaviest are begun first.
type task struct {
	weight int64
	do     func() error
}

// run does the tasks with as many workers as Options allows.
func (r *reading) run(tasks []task) {
	workers := r.opt.Workers
	if workers <= 0 {
		workers = runtime.GOMAXPROCS(0)
	}
	queue := make(chan task, len(tasks))
	for _, t := range tasks {
		queue <- t
	}
	close(queue)
	var wait sync.WaitGroup
	for range min(workers, len(tasks)) {
		wait.Go(func() {
			for t := range queue {
				if err := t.do(); err != nil {
					r.mu.Lock()
					r.failed = cmp.Or(r.failed, err)
					r.mu.Unlock()
					return
				}
			}
		})
	}
	wait.Wait()
}
