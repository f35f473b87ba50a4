package record

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"os"
	"reflect"
	"runtime"
	"slices"
	"strings"
	"sync"
	"time"
	"unsafe"

	"footing/internal/quantity"
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
	r := &reading{ctx: ctx, opt: opt, folder: &folder{root: root, plans: plans, most: opt.MaxBytes}, set: settings{zone: time.UTC}}
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

// record reads one record file. An error ends the whole reading: ctx is done, or a
// schema is broken.
func (r *reading) record(i int, e *entry) error {
	if err := e.plan.compile(); err != nil {
		return err
	}
	b, sum, err := r.folder.read(r.ctx, e, r.progress)
	if err != nil {
		return r.refused(e, err)
	}
	text, encoding, damaged, err := decode(b)
	if err != nil {
		return r.refused(e, err)
	}
	src := &source{name: e.name, plan: e.plan, format: e.form, text: text}
	s := newSheet(r.ctx, src, r.set, src.guessRows())
	s.file = File{Name: e.name, SHA256: sum, Kind: e.plan.kind.Name, Encoding: encoding}
	if e.plan.kind.Name == "practice" {
		s.peek = true
		if err := s.read(); err != nil {
			return r.refused(e, err)
		}
		r.steer(s)
		delim := s.file.Delimiter
		src = &source{name: e.name, plan: e.plan, format: e.form, text: text}
		s = newSheet(r.ctx, src, r.set, 1)
		s.file = File{Name: e.name, SHA256: sum, Kind: e.plan.kind.Name, Encoding: encoding, Delimiter: delim}
	}
	if err := s.read(); err != nil {
		return r.refused(e, err)
	}
	s.damaged(damaged)
	s.close()
	r.sheets[i] = s
	return nil
}

// trace sums up one data-logger file.
func (r *reading) trace(i int, e *entry, buf []byte) error {
	sum, size, err := r.folder.sum(r.ctx, e, buf, r.progress)
	if err != nil {
		return r.refused(e, err)
	}
	r.traces[i] = Trace{Name: e.name, SHA256: sum, Bytes: size}
	return nil
}

// refused lists a file that cannot be read; only a reading that is called off goes further.
func (r *reading) refused(e *entry, err error) error {
	if done := r.ctx.Err(); done != nil {
		return done
	}
	var words *refusal
	if !errors.As(err, &words) {
		words = refuse("unreadable", err.Error())
	}
	r.mu.Lock()
	defer r.mu.Unlock()
	if e.plan == nil {
		r.folder.refuse(e.name, nil, words)
	} else {
		r.folder.refuse(e.name, e.plan.kind, words)
	}
	return nil
}

func (r *reading) progress(n int64) {
	if r.opt.Progress == nil {
		return
	}
	r.mu.Lock()
	defer r.mu.Unlock()
	r.done += n
	r.opt.Progress(r.done, r.total)
}

// read reads the rows by the format of the file.
func (s *sheet) read() error {
	switch s.src.format {
	case formatJSON:
		return s.readJSON()
	case formatLines:
		return s.readLines()
	case formatYAML:
		return s.readYAML()
	}
	return s.readTable()
}

// steer takes from practice how values are written.
func (r *reading) steer(s *sheet) {
	if s.file.Accepted+s.file.SetAside == 0 {
		return
	}
	said := map[string]string{}
	for _, c := range s.plan.cols {
		switch {
		case c.field.Name == "units" && c.holds == holdsObject:
			for _, in := range c.inner {
				said["units."+in.field.Name] = *(*string)(unsafe.Add(s.first, c.offset+in.offset))
			}
		case c.holds == holdsText:
			said[c.field.Name] = *(*string)(unsafe.Add(s.first, c.offset))
		}
	}
	r.set.order, _ = quantity.ParseDateOrder(said["dates"])
	if zone, err := loadZone(said["time_zone"]); err == nil {
		r.set.zone = zone
	}
	if u, _, err := quantity.ParseUnit(said["units.temperature"], quantity.Temperature); err == nil {
		r.set.units.Temperature = u
	}
	if u, ref, err := quantity.ParseUnit(said["units.pressure"], quantity.Pressure); err == nil {
		r.set.units.Pressure, r.set.units.Reference = u, ref
	}
}

// finish puts the rows of all files into the target and makes the intake.
func (r *reading) finish(into reflect.Value) *Intake {
	f := r.folder
	in := &Intake{NotRead: f.notRead, Problems: f.refused, Order: r.set.order, Zone: r.set.zone, Units: r.set.units, ids: map[string]*idIndex{}}
	for _, t := range r.traces {
		if t.Name != "" {
			in.Traces = append(in.Traces, t)
		}
	}
	byKind := map[*plan][]*sheet{}
	for _, s := range r.sheets {
		if s != nil {
			in.Files = append(in.Files, s.file)
			in.Problems = append(in.Problems, s.told...)
			byKind[s.plan] = append(byKind[s.plan], s)
		}
	}
	for _, p := range f.plans {
		fillTarget(into.Field(p.slot), byKind[p])
	}
	in.Problems = append(in.Problems, r.index(in, byKind)...)
	slices.SortStableFunc(in.NotRead, func(a, b NotRead) int { return strings.Compare(a.Name, b.Name) })
	slices.SortStableFunc(in.Problems, func(a, b Problem) int { return strings.Compare(a.File, b.File) })
	return in
}

// fillTarget gives one field of the target the accepted rows of its files.
func fillTarget(field reflect.Value, sheets []*sheet) {
	field.SetZero()
	total := 0
	for _, s := range sheets {
		total += s.file.Accepted
	}
	switch {
	case total == 0:
	case field.Kind() != reflect.Slice:
		field.Set(sheets[0].into.Index(0))
	case len(sheets) == 1:
		field.Set(sheets[0].into.Slice3(0, total, total).Convert(field.Type()))
	default:
		all := reflect.MakeSlice(field.Type(), 0, total)
		for _, s := range sheets {
			all = reflect.AppendSlice(all, s.into.Slice(0, s.file.Accepted).Convert(field.Type()))
		}
		field.Set(all)
	}
}
