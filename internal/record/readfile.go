package record

import (
	"errors"
	"unsafe"

	"footing/internal/quantity"
)

// record reads one record file; nil if it is refused. An error ends the whole reading:
// ctx is done, or a schema is broken.
func (r *reading) record(e *entry) (*sheet, error) {
	if err := e.plan.compile(); err != nil {
		return nil, err
	}
	b, sum, err := r.folder.read(r.ctx, e, r.progress)
	if err != nil {
		return nil, r.refused(e, err)
	}
	text, encoding, damaged, err := decode(b)
	if err != nil {
		return nil, r.refused(e, err)
	}
	s, err := r.rows(&source{name: e.name, plan: e.plan, format: e.form, text: text},
		File{Name: e.name, SHA256: sum, Kind: e.plan.kind.Name, Encoding: encoding})
	if err != nil {
		return nil, r.refused(e, err)
	}
	s.damaged(damaged)
	s.close()
	return s, nil
}

// rows reads the rows of a text. Practice is read twice: what it says of how values are
// written holds for its own values too.
func (r *reading) rows(src *source, file File) (*sheet, error) {
	format := src.format
	s := newSheet(r.ctx, src, r.set, src.guessRows())
	s.file = file
	if src.plan.kind.Name == "practice" {
		s.peek = true
		if err := s.read(); err != nil {
			return nil, err
		}
		r.steer(s)
		file.Delimiter = s.file.Delimiter
		s = newSheet(r.ctx, &source{name: src.name, plan: src.plan, format: format, text: src.text, grid: src.grid}, r.set, 1)
		s.file = file
	}
	if err := s.read(); err != nil {
		return nil, err
	}
	return s, nil
}

// layout reads traces/layout.yaml, which is the caller's to understand.
func (r *reading) layout(e *entry) error {
	b, sum, err := r.folder.read(r.ctx, e, func(int64) {})
	if err != nil {
		return r.refused(e, err)
	}
	r.traceLayout = &TraceLayout{Name: e.name, SHA256: sum, Text: b}
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
