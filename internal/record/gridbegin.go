package record

import (
	"iter"
	"slices"

	"footing/internal/workbook"
	"footing/schemas"
)

// mayHead is true for a row that looks like headings, and cannot be kept as a record by a
// table that is open.
func (l *layout) mayHead(line *gridLine) bool {
	if l.weary() || !aboutHeadings(line.cells) {
		return false
	}
	h := single(line)
	parts := l.split(h)
	if !slices.ContainsFunc(parts, func(p heading) bool { return l.heading(&p, line) }) {
		return false
	}
	for _, t := range l.open {
		if t.chosen(line) {
			return false
		}
		if t.keepable(line) {
			if f := h.fits(l.own.kind); f.known < 3 || 3*f.known < 2*len(h.cells) || len(t.plan.kind.Required) > 0 && t.dated() {
				return false
			}
		}
	}
	return true
}

// heading is true if the words name different fields of one kind. Where it cannot be told
// of which, they must stand apart from the rows above.
func (l *layout) heading(h *heading, line *gridLine) bool {
	l.tried++
	seen := map[string]bool{}
	for _, c := range h.cells {
		if f := schemas.Fold(c.text); seen[f] {
			return false
		} else {
			seen[f] = true
		}
	}
	kind, _ := l.kindOf(h, false)
	return kind != nil || line.number > l.before+1 || slices.ContainsFunc(l.titles, func(t titleCell) bool { return t.row == l.before })
}

// A sheet has no more tables than this, and no more rows that are taken for headings at
// first sight: what follows is read as rows of the last.
const (
	mostTables = 200
	mostTried  = 10_000
)

// weary is true where no more tables are looked for.
func (l *layout) weary() bool { return len(l.tables) >= mostTables || l.tried >= mostTried }

// heads begins the tables that a row, perhaps with the next one, has the headings of.
func (l *layout) heads(line, next *gridLine) bool {
	h := single(line)
	if two := pairOf(line, next, l.own.kind); two.fits(l.own.kind).known >= h.fits(l.own.kind).known && two.rows == 2 {
		h = two
	}
	var found []*gridTable
	for _, part := range l.split(h) {
		found = append(found, l.newTable(part, line.number == l.main && len(found) == 0))
	}
	if len(found) == 0 {
		return false
	}
	l.open, l.passed = found, h.row
	l.tables = append(l.tables, found...)
	return true
}

// split parts headings into those of tables side by side: where all of them come again, or
// after a blank column, where the same headings begin again or those of another kind.
func (l *layout) split(h heading) []heading {
	var parts []heading
	again := repeatsEvery(h.cells)
	for i, c := range h.cells {
		if i == 0 || c.column > h.cells[i-1].column+1 || again > 0 && i%again == 0 {
			parts = append(parts, heading{rows: h.rows, row: h.row, first: h.first})
		}
		at := &parts[len(parts)-1]
		at.cells = append(at.cells, c)
	}
	var out []heading
	for _, p := range parts {
		if len(out) >= mostTables || len(out) > 0 && !l.apart(&out[len(out)-1], &p) {
			at := &out[len(out)-1]
			at.cells = append(at.cells, p.cells...)
			continue
		}
		out = append(out, p)
	}
	return out
}

// repeatsEvery is after how many headings all of them come again, as of tables that stand
// side by side without a blank column; 0 if they do not. Fewer than three could be the
// days and clocks of a beginning and an end.
func repeatsEvery(cells []headCell) int {
	if len(cells) > mostHeadings {
		return 0
	}
next:
	for n := 3; 2*n <= len(cells); n++ {
		if len(cells)%n != 0 {
			continue
		}
		for i := n; i < len(cells); i++ {
			if schemas.Fold(cells[i].text) != schemas.Fold(cells[i-n].text) {
				continue next
			}
		}
		return n
	}
	return 0
}

// apart is true if the second headings are those of a table of their own.
func (l *layout) apart(first, second *heading) bool {
	same := 0
	for _, c := range second.cells {
		if slices.ContainsFunc(first.cells, func(d headCell) bool { return schemas.Fold(d.text) == schemas.Fold(c.text) }) {
			same++
		}
	}
	if same >= 2 && 2*same >= len(second.cells) {
		return true
	}
	own, before := second.fits(l.own.kind).known, first.fits(l.own.kind).known
	other, sure := second.surely(l.own.kind)
	return before >= 2 && sure && other.known > own && 2*other.known > len(second.cells)
}

// newTable makes a table of headings; it is left out where its kind cannot be told. main
// is true for the first headings of the sheet's own kind.
func (l *layout) newTable(h heading, main bool) *gridTable {
	kind, doubt := l.kindOf(&h, main)
	t := &gridTable{heading: h, doubt: doubt, file: l.file, tab: l.tab.name, from1904: l.tab.from1904}
	t.firstColumn, t.lastColumn = h.cells[0].column, h.cells[len(h.cells)-1].column
	t.lastRow, t.last = h.row, h.row
	if kind == nil {
		t.bare()
		return t
	}
	if t.plan = l.plans[kind.Name]; t.plan == nil || t.plan.compile() != nil {
		t.doubt, t.unused = []*schemas.Kind{kind}, true
		t.bare()
		return t
	}
	for title := range l.titlesOf(&h) {
		t.titles = append(t.titles, title)
	}
	t.lanes(l.set)
	return t
}

// kindOf tells of which kind the rows under headings are; where it cannot, it gives the
// kinds that they may be of.
func (l *layout) kindOf(h *heading, main bool) (kind *schemas.Kind, doubt []*schemas.Kind) {
	own := l.own.kind
	mine := h.fits(own)
	if main {
		if k := l.instead(h, mine); k != nil {
			return k, nil
		}
		return own, nil
	}
	if mine.known >= 2 && l.like(h) {
		return own, nil
	}
	most := 2*mine.known > len(h.cells)
	if k := l.titled(h); k != nil && !k.Single && h.fits(k).known >= min(2, len(h.cells)) {
		return k, nil
	}
	other, sure := h.surely(own)
	switch {
	case sure && other.known >= mine.known+2:
		return other.kind, nil
	case most && mine.known >= 2 && (other.known <= mine.known && mine.needed || other.known < 2):
		return own, nil
	case mine.known >= 2 && other.known > mine.known:
		return nil, []*schemas.Kind{own, other.kind}
	case mine.known < 2 && other.known > mine.known:
		return nil, []*schemas.Kind{other.kind}
	}
	return nil, []*schemas.Kind{own}
}

// instead is the kind whose headings stand on a sheet that is named after another: a log
// of loads on a sheet named "autoclave". Those of the sheet's own kind must not hold.
func (l *layout) instead(h *heading, mine fit) *schemas.Kind {
	if l.own.kind.Single {
		return nil
	}
	other, sure := h.surely(l.own.kind)
	if sure && l.plans[other.kind.Name] != nil && other.known >= mine.known+2 && (!mine.needed || other.known >= 2*mine.known) {
		return other.kind
	}
	return nil
}

// like is true for headings most of which stand over a table of the sheet's own kind too.
func (l *layout) like(h *heading) bool {
	for _, t := range l.tables {
		if t.plan != l.own {
			continue
		}
		same := 0
		for _, c := range h.cells {
			if slices.ContainsFunc(t.cells, func(d headCell) bool { return d.says(c.text) }) {
				same++
			}
		}
		if same >= 2 && 3*same >= 2*len(h.cells) {
			return true
		}
	}
	return false
}

// titled is the kind that a title just above the headings names; nil if none does.
func (l *layout) titled(h *heading) *schemas.Kind {
	for title := range l.titlesOf(h) {
		if k := kindNamed(title); k != nil {
			return k
		}
	}
	return nil
}

// titlesOf gives the titles just above headings, the nearest first.
func (l *layout) titlesOf(h *heading) iter.Seq[string] {
	return func(yield func(string) bool) {
		for i := len(l.titles) - 1; i >= 0; i-- {
			t := l.titles[i]
			if t.row < h.first-3 || t.column > h.cells[len(h.cells)-1].column || t.column < h.cells[0].column-1 {
				continue
			}
			if !yield(t.text) {
				return
			}
		}
	}
}

// keepable is true if all that a record of the table's kind needs can be read in the row.
func (t *gridTable) keepable(line *gridLine) bool {
	if t.plan == nil {
		return false
	}
	for _, c := range t.plan.cols {
		if !c.field.Required {
			continue
		}
		lane := t.byColumn[c.index]
		if lane == nil {
			return false
		}
		i := slices.IndexFunc(line.cells, func(cell workbook.Cell) bool { return cell.Column == t.columns[lane.cell].at })
		if i < 0 || !lane.readable(trim(line.cells[i].Text)) {
			return false
		}
	}
	return true
}

// chosen is true if a word in the row is one of the choices of the column in which it
// stands, and not its heading: "released" is both, under different columns.
func (t *gridTable) chosen(line *gridLine) bool {
	for _, lane := range t.byColumn {
		if lane == nil || lane.col.field.Choices == nil {
			continue
		}
		h := &t.cells[lane.cell]
		i := slices.IndexFunc(line.cells, func(cell workbook.Cell) bool { return cell.Column == h.column })
		if i >= 0 && !h.says(line.cells[i].Text) && lane.readable(trim(line.cells[i].Text)) {
			return true
		}
	}
	return false
}

// dated is true if a day or a moment is among what a record of the table's kind needs.
func (t *gridTable) dated() bool {
	return slices.ContainsFunc(t.plan.cols, func(c *column) bool {
		return c.field.Required && (c.holds == holdsDay || c.holds == holdsMoment)
	})
}
