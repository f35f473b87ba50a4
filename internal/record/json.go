package record

import (
	"bytes"
	"errors"
	"io"
	"strings"
	"unsafe"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"
)

// Names that repeat, and escapes that stand for half a character, set one row aside and
// not the file, so that the rows look for them.
var lenient = json.JoinOptions(jsontext.AllowDuplicateNames(true), jsontext.AllowInvalidUTF8(true))

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
			s.begin(from)
			s.refuseRow(newFault("broken", s.brokenWords(err, from)).do("compare the line with the one before it"), "")
			continue
		}
		_ = raw
		s.jsonRow(from, to)
	}
	return nil
}
