package record

import (
	"cmp"
	"context"
	"fmt"
	"os"
	"runtime"
	"slices"
	"sync"
)

// Fill reads the records in dir into target: a pointer to a struct with a field for each
// kind, tagged `kind:"loads"`, that is a slice of structs, or one struct for practice and
// rules. Those structs embed Row and tag their fields `field:"started"`. Rows stand in the
// order of the files' names and of the rows in each. The error says that the folder
// cannot be read at all, that target does not agree with the schemas, or that ctx is done;
// all else is told in the Intake.
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
	ctx    context.Context
	opt    Options
	folder *folder
	set    settings
	sheets []*sheet // by name of file; nil for a file refused
	traces []Trace

	mu          sync.Mutex
	done, total int64
	failed      error
}

func (r *reading) readAll() error {
	f := r.folder
	for _, e := range slices.Concat(f.records, f.traces) {
		r.total += e.info.Size()
	}
	r.sheets = make([]*sheet, len(f.records))
	r.traces = make([]Trace, len(f.traces))
	var tasks []task
	for i, e := range f.records {
		if e.plan.kind.Name == "practice" { // how it says values are written steers the rest
			if err := r.record(i, e); err != nil {
				return err
			}
			continue
		}
		tasks = append(tasks, task{e.info.Size() * 8, func([]byte) error { return r.record(i, e) }})
	}
	for i, e := range f.traces {
		tasks = append(tasks, task{e.info.Size(), func(buf []byte) error { return r.trace(i, e, buf) }})
	}
	slices.SortStableFunc(tasks, func(a, b task) int { return cmp.Compare(b.weight, a.weight) })
	r.run(tasks)
	return cmp.Or(r.failed, r.ctx.Err())
}

// task is one file to read; the heaviest are begun first.
type task struct {
	weight int64
	do     func(buf []byte) error
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
			buf := make([]byte, 64<<10)
			for t := range queue {
				if err := t.do(buf); err != nil {
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
