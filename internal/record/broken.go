package record

import (
	"bytes"
	"errors"
	"io"
	"strings"

	"github.com/go-json-experiment/json/jsontext"
)

// breakOff tells that a JSON file cannot be read from some row on, and counts the rows
// after it that can be found.
func (s *sheet) breakOff(err error, from int) {
	text := s.src.text
	for from < len(text) && strings.IndexByte(" \t\r\n,", text[from]) >= 0 {
		from++
	}
	if strings.Trim(text[from:], "]} \t\r\n") == "" { // the rows are whole; only the end is untidy
		at := max(0, min(from, len(text)-1))
		s.note(newFault("untidy-end", "the list does not end as it should, though all its rows are read").
			do("end the list with one closing bracket, without a comma before it"), Noted, at, at)
		return
	}
	s.begin(from)
	s.torn = from + 1
	f := newFault("broken", s.brokenWords(err, 0)+", so that the file is not read from this row on").
		do("put it right at this place; the rows before it are read")
	s.number++
	s.file.Rows++
	s.file.SetAside++
	g := s.groups.add(f, FileRefused, nil, nil, occurrence{start: uint32(from), number: s.number})
	s.veiled = true
	at := from + 1
	var wrong *jsontext.SyntacticError
	if errors.As(err, &wrong) {
		at = max(at, int(wrong.ByteOffset))
	}
	for work := 2 * len(text); work > 0; {
		next := nextRow(text, at)
		if next < 0 {
			break
		}
		d := jsontext.NewDecoder(bytes.NewBuffer(textBytes(text[next:])), lenient)
		if err := d.SkipValue(); err != nil {
			if at = next + 1; errors.As(err, &wrong) {
				work -= int(wrong.ByteOffset)
			}
			continue
		}
		at = next + int(d.InputOffset())
		s.number++
		s.file.Rows++
		s.file.SetAside++
		g.rest++
	}
}

// nextRow finds the next brace that begins a row after a comma, from i on.
func nextRow(text string, i int) int {
	for i < len(text) {
		n := strings.IndexByte(text[i:], ',')
		if n < 0 {
			return -1
		}
		i += n + 1
		j := i
		for j < len(text) && strings.IndexByte(" \t\r\n", text[j]) >= 0 {
			j++
		}
		if j < len(text) && text[j] == '{' {
			return j
		}
	}
	return -1
}

// brokenWords say where and how JSON is broken; base is the offset that the error counts from.
func (s *sheet) brokenWords(err error, base int) string {
	var wrong *jsontext.SyntacticError
	if !errors.As(err, &wrong) {
		return "the row is broken off or has something after its end"
	}
	at := min(base+int(wrong.ByteOffset), len(s.src.text))
	p := s.src.at(0, at, at, "")
	if errors.Is(err, io.ErrUnexpectedEOF) {
		return "the row is broken off: a closing bracket or quotation mark is missing"
	}
	return "a comma, colon, bracket or quotation mark is missing or too many at line " + itoa(p.Line) + ", character " + itoa(p.Column)
}
