package workbook

import (
	"bytes"
	"strconv"
	"time"
)

// cellReader is room that the cells of a sheet use one after the other.
type cellReader struct {
	kind   []byte // the type as written: "s", "str" …
	raw    []byte
	digits []byte
}

// read reads the cell that opened; what its text is goes to the end of r.text, or to
// the cell itself. It returns false if the cell holds nothing.
func (r *rowReader) read(cell *Cell) (filled bool, err error) {
	v := &r.value
	v.kind = append(v.kind[:0], r.x.attr("t")...)
	v.raw = v.raw[:0]
	seen := general
	if n, ok := readCount(r.x.attr("s")); ok && n < uint64(len(r.sheet.looks)) {
		seen = r.sheet.looks[n]
	}
	given := false
	for depth := r.x.depth; ; {
		t, err := r.x.next()
		switch {
		case err != nil:
			return false, err
		case t == closed && r.x.depth == depth:
			return r.settle(cell, seen, given)
		case t != opened:
		case string(r.x.name) == "v":
			given = true
			v.raw, err = r.x.content(v.raw)
		case string(r.x.name) == "is":
			given = true
			v.raw, err = r.x.runs(v.raw)
		default:
			cell.Formula = cell.Formula || string(r.x.name) == "f"
			err = r.x.skip()
		}
		if err != nil {
			return false, err
		}
	}
}

// settle makes the cell of what it holds. A formula may come to an empty text, which
// the type tells from none.
func (r *rowReader) settle(cell *Cell, seen *pattern, given bool) (bool, error) {
	raw := r.value.raw
	if len(raw) == 0 {
		if kind := string(r.value.kind); cell.Formula && (!given || kind != "str" && kind != "inlineStr") {
			r.sheet.Unstored++
		}
		return false, nil
	}
	switch string(r.value.kind) {
	case "s":
		n, ok := readCount(bytes.TrimSpace(raw))
		if ok {
			cell.Text, ok = r.sheet.texts.at(n)
		}
		if !ok {
			return false, damaged("lacks the text of the cell %s in its sheet %q", Name(cell.Column, r.row.Number), r.sheet.Name)
		}
		return cell.Text != "", nil
	case "b":
		cell.Kind = YesNo
		switch string(raw) {
		case "1", "true":
			r.text = append(r.text, "yes"...)
			return true, nil
		case "0", "false":
			r.text = append(r.text, "no"...)
			return true, nil
		}
		cell.Kind = Text
	case "e":
		cell.Kind = Fault
	case "d":
		if r.text, cell.Kind = appendISO(r.text, string(bytes.TrimSpace(raw))); cell.Kind != Text {
			return true, nil
		}
	case "", "n":
		return true, r.number(cell, seen, bytes.TrimSpace(raw))
	}
	r.text = append(r.text, unescape(raw)...)
	return true, nil
}

// number settles a number by its format. What is no number stays text as it is.
func (r *rowReader) number(cell *Cell, seen *pattern, raw []byte) error {
	d, ok := readDecimal(raw, r.value.digits)
	if !ok {
		r.text = append(r.text, raw...)
		return nil
	}
	if cap(d.digits) > cap(r.value.digits) {
		r.value.digits = d.digits
	}
	cell.Kind = Number
	if seen == general {
		r.text = d.append(r.text, 0)
		return nil
	}
	value, err := strconv.ParseFloat(string(raw), 64)
	if err != nil {
		r.text = d.append(r.text, 0)
		return nil
	}
	s := seen.of(value)
	if s.date || s.clock {
		var timed bool
		if r.text, cell.Kind, timed = s.appendTime(r.text, value, r.sheet.from1904); timed {
			return nil
		}
		cell.Kind = Number
	}
	if cell.Unit = s.unit; s.percent {
		r.text = d.append(r.text, 2)
	} else {
		r.text = d.append(r.text, 0)
	}
	return nil
}

// appendISO writes a date that is kept as one (t="d"; ECMA-376 Part 1, 18.18.11).
func appendISO(b []byte, s string) ([]byte, Kind) {
	for _, form := range [...]struct {
		layout string
		kind   Kind
	}{
		{"2006-01-02", Day}, {"2006-01-02T15:04:05.999", Moment}, {"2006-01-02T15:04", Moment}, {time.RFC3339, Moment},
		{"15:04:05.999", Clock}, {"15:04", Clock}, {"T15:04:05.999", Clock},
	} {
		t, err := time.Parse(form.layout, s)
		if err != nil {
			continue
		}
		t = t.Round(time.Second)
		if form.kind != Clock {
			b = t.AppendFormat(b, "2006-01-02")
		}
		if form.kind == Moment {
			b = append(b, ' ')
		}
		if form.kind != Day {
			h, m, sec := t.Clock()
			b = appendClock(b, h*3600+m*60+sec)
		}
		return b, form.kind
	}
	return b, Text
}
