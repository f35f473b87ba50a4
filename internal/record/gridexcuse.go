package record

import (
	"slices"
	"strings"
	"time"
	"unicode"

	"footing/schemas"
)

// excused is true for a row of a workbook that cannot be kept, and is a total, a title or
// a note rather than a record. It is told, and not counted among the rows found.
func (s *sheet) excused() bool {
	if s.src.grid == nil || s.plan.kind.Single {
		return false
	}
	f := s.noRecord()
	if s.plan.need == 0 {
		f = s.nothingOf()
	}
	if f == nil {
		return false
	}
	if id := s.row().ID; id != "" { // should it be one after all, then what refers to it is left open
		s.lost = append(s.lost, id)
	}
	s.groups.add(f, Noted, nil, nil, occurrence{start: uint32(s.start), number: s.line})
	s.into.Index(s.file.Accepted).SetZero()
	return true
}

// noRecord says what a row is that cannot be kept; nil if it may be a record.
func (s *sheet) noRecord() *fault {
	const not = ", and not for a record"
	m := s.marks
	switch {
	case m&unticked != 0 && m&formulas == 0, m&unticked != 0 && !s.worked:
		return newFault("spare", "nothing but formulas or boxes that are not ticked stands there, so it is no record")
	case m&totalWord != 0, m&formulas != 0 && !s.worked:
		return newFault("total", "what stands there is taken for a total"+not)
	case m&allWords == 0 || len(s.cells) < 3:
		return nil
	case m&oneCell != 0, m&twoCells != 0 && m&afterGap != 0 && len(s.cells) > 3:
		if text, ok := s.titleWords(); ok {
			f := newFault("title-row", "is taken for a title or a note"+not)
			f.found = shorten(text)
			return f
		}
	}
	return nil
}

// nothingOf is noRecord for a kind that needs no field, of which any row could be kept.
func (s *sheet) nothingOf() *fault {
	m := s.marks
	first := ""
	for i := 0; i < len(s.cells) && first == ""; i++ {
		first = s.src.cellOf(s.start, s.cells[i]).text
	}
	switch {
	case m&unticked != 0 && m&formulas == 0:
		return newFault("spare", "nothing but formulas or boxes that are not ticked stands there, so it is no record")
	case m&totalWord != 0 && m&oneCell == 0 && surelyTotal(first):
		return newFault("total", "what stands there is taken for a total, and not for a record")
	case m&allWords == 0 || m&oneCell == 0 || len(s.cells) < 3:
		return nil
	}
	for _, l := range s.cells {
		if text := s.src.cellOf(s.start, l).text; wordy(text) || monthWords(text) && strings.IndexFunc(text, unicode.IsLetter) >= 0 {
			f := newFault("title-row", "is taken for a title or a note, and not for a record")
			f.found = shorten(text)
			return f
		}
	}
	return nil
}

// surelyTotal is true for words that name nothing but a total.
func surelyTotal(text string) bool {
	word, _, _ := strings.Cut(strings.ToLower(trim(text)), " ")
	switch strings.TrimRight(word, ":.=") {
	case "total", "totals", "subtotal", "sub-total", "sum", "count", "average":
		return true
	}
	return strings.HasPrefix(strings.ToLower(trim(text)), "grand total")
}

// titleWords gives the words of the row at hand if none of them may be a value of a record.
func (s *sheet) titleWords() (string, bool) {
	var words []string
	for _, l := range s.cells {
		text := s.src.cellOf(s.start, l).text
		if text == "" {
			continue
		}
		if l.col != nil && !l.titleWords(text) {
			return "", false
		}
		words = append(words, text)
	}
	return strings.Join(words, ", "), true
}

// titleWords is true for words that are no value of the column.
func (l *lane) titleWords(text string) bool {
	switch form := l.col.field.Form; form {
	case schemas.Day, schemas.Moment:
		return strings.IndexFunc(text, unicode.IsDigit) < 0 || monthWords(text) || wordy(text)
	case schemas.ID, schemas.Ref:
		return strings.ContainsRune(text, ' ')
	case schemas.Text:
		return true
	}
	return !l.readable(text)
}

// wordy is true for what has too many words for a date: "clinic closed on the 10th".
func wordy(text string) bool {
	n := 0
	for _, w := range strings.Fields(text) {
		if strings.IndexFunc(w, func(r rune) bool { return !unicode.IsLetter(r) }) < 0 {
			n++
		}
	}
	return n > 3
}

// monthWords is true for the title of a month, a week or a year: "June 2026", "week 23".
func monthWords(text string) bool {
	words := strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return !unicode.IsLetter(r) && !unicode.IsDigit(r) })
	numbered := false // the word before is one that has a number
	for _, w := range words {
		month := slices.ContainsFunc(months, func(m string) bool { return len(w) > 2 && strings.HasPrefix(m, w) })
		year := len(w) == 4 && digits(w)
		if !month && !year && !(numbered && digits(w)) {
			switch w {
			case "week", "wk", "month", "quarter", "year", "page", "sheet", "book":
				numbered = true
				continue
			}
			return false
		}
		numbered = false
	}
	return len(words) > 0
}

var months = func() (names []string) {
	for m := time.January; m <= time.December; m++ {
		names = append(names, strings.ToLower(m.String()))
	}
	return names
}()
