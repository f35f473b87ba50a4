package record

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"
	"unsafe"
)

// field is where a row holds the value of a column.
func (r rowRef) field(c *column) unsafe.Pointer {
	return unsafe.Add(r.sheet.first, uintptr(r.index)*r.sheet.size+c.offset)
}

// outColumn is one column of a table to write.
type outColumn struct {
	name  string
	col   *column // nil for what is no field
	clock bool
	rank  int  // by which columns are ordered
	used  bool // some row has a value there
	wide  int  // of a workbook: characters of the longest value, as far as columns are made so wide
}

// A table gets no more columns than these for what is no field; rows with more go to JSON Lines.
const mostStrangeColumns = 1000

// columns are those of one kind.
type columns struct {
	list    []*outColumn
	byName  map[string]*outColumn
	strange int
}

func (cs *columns) add(name string, c *column, clock bool) *outColumn {
	if o := cs.byName[name]; o != nil {
		return o
	}
	o := &outColumn{name: name, col: c, clock: clock}
	switch {
	case c == nil:
		if cs.strange++; cs.strange > mostStrangeColumns {
			return nil
		}
		o.rank = 1000 + cs.strange
	default:
		o.rank = 2 * c.index
		if clock {
			o.rank++
		}
	}
	cs.byName[name] = o
	cs.list = append(cs.list, o)
	return o
}

// tables is true for formats of cells.
func (x *exporter) cells() bool { return x.format == "csv" || x.format == bookFormat }

// kind writes the rows of one kind.
func (x *exporter) kind(k *ExportedKind, sheets []*sheet) error {
	cs := &columns{byName: map[string]*outColumn{}}
	made := x.rowsOf(sheets)
	for i, s := range sheets {
		for _, l := range s.lanes {
			switch {
			case l.quiet:
			case l.col != nil:
				cs.add(l.col.field.Name, l.col, false)
			case fitsCell(made[i].names[l]) && len(made[i].names[l]) <= longestName:
				cs.add(made[i].names[l], nil, false)
			}
		}
	}
	odd := map[string][]rowRef{} // by the headings with units that they need
	var oddOrder []string
	err := eachRow(x, made, func(ref rowRef, row outRow) error {
		if !x.fits(row, cs) {
			if odd[row.units] == nil {
				oddOrder = append(oddOrder, row.units)
			}
			odd[row.units] = append(odd[row.units], ref)
			k.AsTyped++
		}
		return nil
	})
	if err != nil {
		return err
	}
	if err := x.main(k, cs, sheets, odd); err != nil {
		return err
	}
	for i, units := range oddOrder {
		if err := x.asTyped(k, sheets, odd[units], numbered(k.Kind+"/as-typed", i, len(oddOrder), ".jsonl")); err != nil {
			return err
		}
	}
	return x.aside(k, sheets)
}

// rowsOf makes the rows of files.
func (x *exporter) rowsOf(sheets []*sheet) []*rows {
	made := make([]*rows, len(sheets))
	for i, s := range sheets {
		made[i] = newRows(s, x.cells())
	}
	return made
}

// fits is true for a row that the format can hold; the columns that it needs are added.
func (x *exporter) fits(row outRow, cs *columns) bool {
	if row.odd || row.units != "" || x.format == "yaml" && !fitsYAML(row) {
		return false
	}
	for _, m := range row.members {
		o := cs.add(m.name, m.col, m.clock)
		if o == nil && x.cells() {
			return false
		}
		if o != nil {
			o.used = true
		}
		if x.format == bookFormat && o.wide < widestColumn {
			o.wide = max(o.wide, min(widestColumn, utf8.RuneCountInString(m.value.cellText(m.col))))
		}
	}
	return true
}

// eachRow makes every accepted row.
func eachRow(x *exporter, made []*rows, do func(ref rowRef, row outRow) error) error {
	for _, r := range made {
		for i := range r.sheet.file.Accepted {
			if i&1023 == 0 && x.ctx.Err() != nil {
				return x.ctx.Err()
			}
			if err := do(rowRef{r.sheet, i}, r.row(i)); err != nil {
				return err
			}
		}
	}
	return nil
}

// main writes the rows that the format can hold.
func (x *exporter) main(k *ExportedKind, cs *columns, sheets []*sheet, odd map[string][]rowRef) error {
	if k.SetAside+k.AsTyped > 0 && k.Written == k.AsTyped {
		return nil
	}
	slices.SortStableFunc(cs.list, func(a, b *outColumn) int { return a.rank - b.rank })
	apart := map[rowRef]bool{}
	for _, refs := range odd {
		for _, ref := range refs {
			apart[ref] = true
		}
	}
	if x.format == bookFormat {
		return x.bookRows(k, cs, sheets, apart)
	}
	parts := x.parts(k, cs)
	err := eachRow(x, x.rowsOf(sheets), func(ref rowRef, row outRow) error {
		if apart[ref] {
			return nil
		}
		if err := parts.row(row); err != nil {
			return err
		}
		x.wrote(k.Kind, parts.name(), ref)
		return nil
	})
	if err != nil {
		parts.abandon()
		return err
	}
	return parts.close()
}

// asTyped writes rows that the format cannot hold.
func (x *exporter) asTyped(k *ExportedKind, sheets []*sheet, refs []rowRef, name string) error {
	bySheet := map[*sheet]*rows{}
	for _, r := range x.rowsOf(sheets) {
		bySheet[r.sheet] = r
	}
	k.Files = append(k.Files, name)
	return x.create(name, func(w *outFile) error {
		for _, ref := range refs {
			x.wrote(k.Kind, name, ref)
			row := bySheet[ref.sheet].row(ref.index)
			if err := w.text(rowJSON(row.members) + "\n"); err != nil {
				return err
			}
		}
		return nil
	})
}

// numbered names one of several files so that they sort in their order.
func numbered(base string, i, of int, ext string) string {
	if of == 1 {
		return base + ext
	}
	return fmt.Sprintf("%s-%0*d%s", base, max(2, len(fmt.Sprint(of))), i+1, ext)
}

// rowJSON is a row as an object of JSON in one line.
func rowJSON(members []member) string {
	parts := make([]string, len(members))
	for i, m := range members {
		parts[i] = jsonOf(m.name) + ": " + m.value.oneLine()
	}
	return "{" + strings.Join(parts, ", ") + "}"
}
