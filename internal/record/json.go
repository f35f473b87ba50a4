package record

import (
	"bytes"
	"errors"
	"io"
	"strings"
	"unsafe"

	"github.com/go-json-experiment/json/jsontext"
)

// Names that repeat set one row aside, not the file, so the rows look for them.
var lenient = jsontext.AllowDuplicateNames(true)

// textBytes gives the bytes of a text, which must not be changed.
func textBytes(s string) []byte { return unsafe.Slice(unsafe.StringData(s), len(s)) }

// readJSON reads an array of rows, or one object as one row.
func (s *sheet) readJSON() error {
	text := s.src.text
	d := jsontext.NewDecoder(bytes.NewBuffer(textBytes(text)), lenient)
	switch d.PeekKind() {
	case '{':
		return s.oneObject(d)
	case '[':
	default:
		if strings.TrimSpace(text) == "" {
			return nil
		}
		return refuse("no-list", "it holds no list of rows").do(`write the rows as [ {…}, {…} ]`)
	}
	if _, err := d.ReadToken(); err != nil {
		return refuse("broken", "it holds no list of rows").do(`write the rows as [ {…}, {…} ]`)
	}
	for n := 0; ; n++ {
		if n&1023 == 0 {
			if err := s.halt(); err != nil {
				return err
			}
		}
		if d.PeekKind() == ']' {
			break
		}
		raw, err := d.ReadValue()
		if err != nil {
			s.breakOff(err, int(d.InputOffset()))
			return nil
		}
		end := int(d.InputOffset())
		s.jsonRow(end-len(raw), end)
	}
	if _, err := d.ReadToken(); err != nil {
		s.breakOff(err, int(d.InputOffset()))
		return nil
	}
	if at := int(d.InputOffset()); strings.TrimSpace(text[at:]) != "" {
		s.note(newFault("after-end", "something follows the end of the list, and is not read").do("keep one list in the file"), FileRefused, at, at)
		s.veiled = true
	}
	return nil
}

func (s *sheet) oneObject(d *jsontext.Decoder) error {
	raw, err := d.ReadValue()
	if err != nil {
		s.breakOff(err, 0)
		return nil
	}
	end := int(d.InputOffset())
	s.jsonRow(end-len(raw), end)
	if _, err := d.ReadToken(); !errors.Is(err, io.EOF) {
		s.note(newFault("after-end", "something follows the end of the first row, and is not read").
			do(`write the rows as [ {…}, {…} ], or one a line in a file that ends in .jsonl`), FileRefused, end, end)
		s.veiled = true
	}
	return nil
}

// readLines reads JSON Lines: each line is a row by itself.
func (s *sheet) readLines() error {
	text := s.src.text
	d := jsontext.NewDecoder(bytes.NewBuffer(nil), lenient)
	var line bytes.Buffer
	for at, n := 0, 0; at < len(text); n++ {
		if n&1023 == 0 {
			if err := s.halt(); err != nil {
				return err
			}
		}
		end := strings.IndexByte(text[at:], '\n') + at
		if end < at {
			end = len(text)
		}
		row := strings.TrimRight(text[at:end], " \t\r")
		from := at + len(row) - len(strings.TrimLeft(row, " \t\r"))
		to := at + len(row)
		at = end + 1
		if from >= to {
			continue
		}
		line = *bytes.NewBuffer(textBytes(text[from:to]))
		d.Reset(&line, lenient)
		raw, err := d.ReadValue()
		if err == nil {
			if _, more := d.ReadToken(); !errors.Is(more, io.EOF) {
				err = errors.New("more than one value")
			}
		}
		if err != nil {
			s.start = from
			s.refuseRow(newFault("broken", s.brokenWords(err, from)).do("compare the line with the one before it"), "")
			continue
		}
		_ = raw
		s.jsonRow(from, to)
	}
	return nil
}

// breakOff tells that a JSON file cannot be read from some row on, and counts the rows
// after it that can be found.
func (s *sheet) breakOff(err error, from int) {
	text := s.src.text
	for from < len(text) && strings.IndexByte(" \t\r\n,", text[from]) >= 0 {
		from++
	}
	if strings.Trim(text[from:], "] \t\r\n") == "" { // the rows are whole; only the end is untidy
		at := max(0, min(from, len(text)-1))
		s.note(newFault("untidy-end", "the list does not end as it should, though all its rows are read").
			do("end the list with one closing bracket, without a comma before it"), Noted, at, at)
		return
	}
	s.begin(from)
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
	for {
		next := nextRow(text, at)
		if next < 0 {
			break
		}
		d := jsontext.NewDecoder(bytes.NewBuffer(textBytes(text[next:])), lenient)
		if d.SkipValue() != nil {
			at = next + 1
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
