package record

import (
	"bytes"
	"errors"
	"io"
	"strings"
	"unsafe"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"

	"footing/schemas"
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
	return s.jsonList(d)
}

// listUnder gives a decoder that stands before the list of an object such as
// {"loads": […]}, whose only name is that of the file's kind; else nil.
func (s *sheet) listUnder() *jsontext.Decoder {
	text := s.src.text
	d := jsontext.NewDecoder(bytes.NewBuffer(textBytes(text)), lenient)
	if _, err := d.ReadToken(); err != nil || s.plan.kind.Single {
		return nil
	}
	name, err := d.ReadToken()
	if err != nil || name.Kind() != '"' || !s.src.ownName(name.String()) || d.PeekKind() != '[' {
		return nil
	}
	w := walker{s: text, i: int(d.InputOffset())}
	for w.i < len(text) && text[w.i] != '[' {
		w.i++
	}
	if w.i++; !s.wrapsRows(text[w.i:]) {
		return nil
	}
	return d
}

// wrapsRows is true if a row begins the list, and no other name follows its end, where
// that can be found.
func (s *sheet) wrapsRows(list string) bool {
	if rest := strings.TrimLeft(list, " \t\r\n"); rest == "" || rest[0] != '{' && rest[0] != ']' {
		return false
	}
	d := jsontext.NewDecoder(bytes.NewBuffer(textBytes(s.src.text)), lenient)
	raw, err := d.ReadValue()
	if err != nil {
		return true
	}
	names := 0
	eachMember(string(raw), func(string, shape, string) { names++ })
	return names == 1
}

// ownName is true for a name of the file's own kind.
func (s *source) ownName(name string) bool {
	kind, ok := schemas.Match(name)
	return ok && kind.Name == s.plan.kind.Name
}

func (s *sheet) oneObject(d *jsontext.Decoder) error {
	if list := s.listUnder(); list != nil {
		return s.jsonList(list)
	}
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
