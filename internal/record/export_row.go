package record

import (
	"cmp"
	"strconv"

	"footing/schemas"
)

// outRow is a row as it is to be written.
type outRow struct {
	members []member
	odd     bool   // it holds what the format cannot: it goes to a file of JSON Lines
	units   string // the headings with units that it needs, by which it has a file of its own
}

// member is one value of a row under the heading that it gets.
type member struct {
	col   *column // nil for what is no field
	clock bool    // of a moment whose day and clock are written apart, the clock
	name  string
	value value
}

// rows makes the rows of one file that are to be written.
type rows struct {
	sheet *sheet
	bench *bench
	names map[*lane]string // of headings that are no fields, and of those that may be second names
}

func newRows(s *sheet, tables bool) *rows {
	r := &rows{sheet: s, bench: newBench(s, tables), names: map[*lane]string{}}
	used := map[string]bool{}
	for _, l := range s.lanes {
		if l.col == nil || l.shared {
			r.names[l] = unique(used, r.strangeName(l))
		}
	}
	return r
}

// strangeName is the heading that is given to what is not read under the heading of a lane.
func (r *rows) strangeName(l *lane) string {
	f, _ := r.sheet.matchHeading(l.written, &lane{})
	if f == nil && clockAlone(l.written) {
		if f, _ = r.sheet.plan.kind.Field(r.sheet.plan.kind.When); f != nil && f.Form != schemas.Moment {
			f = nil
		}
	}
	if f == nil {
		return strangeName(l.written)
	}
	return notReadHeading + trim(l.written)
}

const (
	noHeading      = "no heading"
	notReadHeading = "not read: "
)

// unique makes a name that was not used before.
func unique(used map[string]bool, name string) string {
	free := name
	for n := 2; used[free]; n++ {
		free = name + " " + strconv.Itoa(n)
	}
	used[free] = true
	return free
}

// row makes accepted row i.
func (r *rows) row(i int) (out outRow) {
	s := r.sheet
	fields := make([]*member, len(s.plan.cols))
	clocks := make([]*member, len(s.plan.cols))
	parted := map[*pair]*[2]string{}
	var shared []typed
	var strange []member
	used := map[string]bool{}
	lost := func(name string, t typed) {
		strange = append(strange, member{name: unique(used, name), value: value{t.shape, t.text}})
	}
	fill := func(l *lane, t typed) {
		o := r.bench.outcome(l, t.shape, t.text)
		if o.blank {
			return
		}
		name := l.col.field.Name
		if o.heading != "" {
			name, out.units = o.heading, out.units+o.heading+"\n"
		}
		out.odd = out.odd || o.odd
		fields[l.col.index] = &member{col: l.col, name: name, value: o.value}
	}
	for _, t := range s.typedRow(int(s.rowOf(i).start)) {
		switch l := t.lane; {
		case l == nil || l == s.beyond:
			lost(strangeName(t.name), t)
		case l.shared:
			if !(t.shape == isText && unwritten(trim(t.text))) {
				shared = append(shared, t)
			}
		case l.col == nil:
			lost(r.names[l], t)
		case l.part == whole:
			fill(l, t)
		default:
			if parted[l.pair] == nil {
				parted[l.pair] = &[2]string{}
			}
			parted[l.pair][l.part-dayPart] = trim(t.text)
		}
	}
	join := func(p *pair, day, clock string) {
		at := p.main().col.index
		fields[at], clocks[at] = r.pair(p, day, clock, &out)
	}
	eachField(shared, func(v []typed) {
		at := partner(v)
		for i, t := range v[1:] {
			if i+1 != at {
				lost(r.names[t.lane], t)
			}
		}
		if at < 0 && v[0].lane.part == whole {
			fill(v[0].lane, v[0])
			return
		}
		day, clock := halves(v, at)
		join(&pair{day: day.lane, clock: clock.lane}, trim(day.text), trim(clock.text))
	})
	for p, h := range parted {
		join(p, h[0], h[1])
	}
	for i := range fields {
		for _, m := range []*member{fields[i], clocks[i]} {
			if m != nil {
				out.members = append(out.members, *m)
			}
		}
	}
	for _, m := range strange {
		out.odd = out.odd || r.bench.tables && !(fitsCell(m.name) && len(m.name) <= longestName && fitsCell(m.value.cellText(nil)))
	}
	out.members = append(out.members, strange...)
	return out
}

func strangeName(written string) string { return cmp.Or(trim(written), noHeading) }

// pair writes a moment whose day and clock stood apart as one, where both can be read.
func (r *rows) pair(p *pair, day, clock string, out *outRow) (whole, alone *member) {
	l := p.main()
	if unwritten(day) {
		day = ""
	}
	if unwritten(clock) {
		clock = ""
	}
	c := l.col
	if day != "" {
		text := day
		if clock != "" {
			text += " " + clock
		}
		o := r.bench.outcome(l, isText, text)
		if o.blank {
			return nil, nil
		}
		if o.fault == nil {
			out.odd = out.odd || o.odd
			return &member{col: c, name: c.field.Name, value: o.value}, nil
		}
		whole = &member{col: c, name: c.field.Name, value: value{isText, day}}
	}
	if clock != "" {
		alone = &member{col: c, clock: true, name: c.field.Name + " time", value: value{isText, clock}}
	}
	out.odd = out.odd || r.bench.tables && !(fitsCell(day) && fitsCell(clock))
	return whole, alone
}
