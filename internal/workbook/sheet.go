package workbook

import (
	"bytes"
	"slices"
	"strconv"
)

// What a sheet can be (ECMA-376 gives no limit; these are those of all programs).
const (
	rowLimit    = 1_048_576
	columnLimit = 16_384
	mostMerged  = 1 << 20
)

// common is what the sheets of a workbook share.
type common struct {
	pack     *pack
	from1904 bool
	looks    []*pattern
	texts    texts
}

// look at a sheet before its rows are read: that it can be unpacked, which columns are
// hidden, which cells are merged. The list of merged cells comes after the rows; only if
// the word occurs are these passed over.
func (s *Sheet) look() error {
	merged := finder{word: []byte("mergeCell")}
	if err := s.pack.check(s.part, &merged); err != nil {
		return err
	}
	x, err := s.pack.scan(s.part)
	if err != nil {
		return err
	}
	isSheet := false
	err = x.each(func(at []byte) error {
		switch string(at) {
		case "worksheet":
			isSheet = true
		case "worksheet/cols/col":
			return s.column(x)
		case "worksheet/sheetData":
			if !merged.found {
				return errEnough
			}
			return x.skip()
		case "worksheet/mergeCells/mergeCell":
			return s.merge(x)
		}
		return nil
	})
	if err == nil && !isSheet {
		return damaged("has no sheet in its part %s", s.part)
	}
	if err != nil && err != errEnough {
		return err
	}
	return s.annotated()
}

// annotated finds whether notes are attached to cells.
func (s *Sheet) annotated() error {
	links, err := s.pack.links(s.part)
	for _, l := range links {
		s.Notes = s.Notes || l.kind == "comments" || l.kind == "threadedComment"
	}
	return err
}

type enough struct{}

func (enough) Error() string { return "enough" }

// errEnough ends a walk that has seen what it needs.
var errEnough error = enough{}

func (s *Sheet) column(x *scanner) error {
	if !yes(x.attr("hidden")) {
		return nil
	}
	first, err1 := strconv.Atoi(string(x.attr("min")))
	last, err2 := strconv.Atoi(string(x.attr("max")))
	if err1 != nil || err2 != nil || first < 1 || last < first || first > columnLimit || len(s.HiddenColumns) == columnLimit {
		return damaged("lists columns that cannot be in its part %s", s.part)
	}
	s.HiddenColumns = append(s.HiddenColumns, Range{FirstColumn: first - 1, LastColumn: min(last, columnLimit) - 1})
	return nil
}

func (s *Sheet) merge(x *scanner) error {
	a, b, found := bytes.Cut(x.attr("ref"), []byte(":"))
	if !found {
		b = a
	}
	var r Range
	var ok1, ok2 bool
	r.FirstColumn, r.FirstRow, ok1 = readName(a)
	r.LastColumn, r.LastRow, ok2 = readName(b)
	switch {
	case !ok1 || !ok2 || r.LastColumn < r.FirstColumn || r.LastRow < r.FirstRow:
		return damaged("merges cells that cannot be in its part %s", s.part)
	case len(s.Merged) == mostMerged:
		return tooLarge("has more than %d merged cells", mostMerged)
	}
	if r.FirstColumn != r.LastColumn || r.FirstRow != r.LastRow {
		s.Merged = append(s.Merged, r)
	}
	return nil
}

// readName reads "F17" as column 5, row 17.
func readName(b []byte) (column, row int, ok bool) {
	i := 0
	for ; i < len(b) && i < 3 && b[i] >= 'A' && b[i] <= 'Z'; i++ {
		column = column*26 + int(b[i]-'A') + 1
	}
	letters := i
	for ; i < len(b) && i < letters+7 && b[i] >= '0' && b[i] <= '9'; i++ {
		row = row*10 + int(b[i]-'0')
	}
	return column - 1, row, i == len(b) && letters > 0 && i > letters && b[letters] != '0' && column <= columnLimit && row <= rowLimit
}

// finder looks for a word in what is written to it, as UTF-8 or UTF-16.
type finder struct {
	word  []byte
	tail  []byte
	found bool
}

func (f *finder) Write(b []byte) (int, error) {
	if f.found {
		return len(b), nil
	}
	wide := []byte(wide(string(f.word)))
	wide = wide[:len(wide)-1] // the same in both orders
	has := func(b []byte) bool { return bytes.Contains(b, f.word) || bytes.Contains(b, wide) }
	keep := len(wide) - 1
	seam := append(slices.Clone(f.tail), b[:min(keep, len(b))]...)
	f.found = has(b) || has(seam)
	f.tail = append(f.tail, b[max(0, len(b)-keep):]...)
	f.tail = f.tail[max(0, len(f.tail)-keep):]
	return len(b), nil
}
