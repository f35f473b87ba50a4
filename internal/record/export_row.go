package record

import (
	"cmp"
	"strconv"

	"footing/internal/quantity"
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
	names map[*lane]string // of headings that are no fields
	twins map[*lane]*lane  // second names of JSON and YAML, with the lane of the first
}

func newRows(s *sheet, tables bool) *rows {
	r := &rows{sheet: s, bench: newBench(s, tables), names: map[*lane]string{}, twins: map[*lane]*lane{}}
	used := map[string]bool{}
	for _, l := range s.lanes {
		if l.col != nil {
			continue
		}
		name, first := r.strangeName(l)
		if first != nil && s.src.format != formatCSV && s.src.format != formatPairs && first.part == whole {
			r.twins[l] = first
		}
		r.names[l] = unique(used, name)
	}
	return r
}

// strangeName is the heading that is given to what is not read under the heading of a
// lane, and the lane that is read in its place, if any.
func (r *rows) strangeName(l *lane) (name string, first *lane) {
	name = trim(l.written)
	f, _ := r.sheet.matchHeading(l.written, &lane{})
	if f == nil && clockAlone(l.written) {
		if f, _ = r.sheet.plan.kind.Field(r.sheet.plan.kind.When); f != nil && f.Form != schemas.Moment {
			f = nil
		}
	}
	if f == nil {
		return strangeName(name), nil
	}
	if c := r.sheet.plan.column(f); c != nil {
		first = r.sheet.byColumn[c.index]
	}
	return notReadHeading + name, first
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
	ref := rowRef{s, i}
	fields := make([]*member, len(s.plan.cols))
	clocks := make([]*member, len(s.plan.cols))
	halves := map[*pair]*[2]string{}
	var twins []typed
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
		case l.col == nil && r.twins[l] != nil:
			twins = append(twins, t)
		case l.col == nil:
			lost(r.names[l], t)
		case l.part == whole:
			fill(l, t)
		default:
			if halves[l.pair] == nil {
				halves[l.pair] = &[2]string{}
			}
			halves[l.pair][l.part-dayPart] = trim(t.text)
		}
	}
	for _, t := range twins {
		if first := r.twins[t.lane]; fields[first.col.index] == nil && !(t.shape == isText && unwritten(trim(t.text))) {
			fill(first, t)
			continue
		}
		lost(r.names[t.lane], t)
	}
	for p, h := range halves {
		c := p.main().col
		if held := ref.field(c); h[0] == "" && (*quantity.Moment)(held).Written() {
			// the row was read when it was not yet known that the other heading would be met
			fill(p.main(), typed{shape: isText, text: c.canonical(held).text})
			continue
		}
		fields[c.index], clocks[c.index] = r.pair(p, h[0], h[1], &out)
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
