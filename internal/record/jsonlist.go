package record

import (
	"strings"

	"github.com/go-json-experiment/json/jsontext"
)

// jsonList reads the rows of the list that d stands before.
func (s *sheet) jsonList(d *jsontext.Decoder) error {
	text := s.src.text
	if _, err := d.ReadToken(); err != nil {
		return refuse("broken", "it holds no list of rows").do(`write the rows as [ {…}, {…} ]`)
	}
	inside := d.StackDepth() > 1 // a name stands before the list
	over := make(chan struct{})
	defer close(over)
	rows, broken := listRows(d, over)
	for some := range rows {
		if err := s.halt(); err != nil {
			return err
		}
		for _, row := range some {
			s.jsonRow(row.from, row.to)
		}
	}
	if *broken != nil {
		s.breakOff(*broken, int(d.InputOffset()))
		return nil
	}
	for end := true; end; end, inside = inside, false {
		if _, err := d.ReadToken(); err != nil {
			s.breakOff(err, int(d.InputOffset()))
			return nil
		}
	}
	if at := int(d.InputOffset()); strings.TrimSpace(text[at:]) != "" {
		s.note(newFault("after-end", "something follows the end of the list, and is not read").do("keep one list in the file"), FileRefused, at, at)
		s.veiled = true
	}
	return nil
}

// listRows finds the rows of the list that d stands in, some at a time, until its end or
// where it is broken. It runs ahead of what is done with them, so that the largest file
// keeps two processors at work; it stops when over is closed. Until rows is closed, d
// and broken are its own.
func listRows(d *jsontext.Decoder, over <-chan struct{}) (rows <-chan []span, broken *error) {
	ahead, wrong := make(chan []span, 4), new(error)
	go func() {
		defer close(ahead)
		for more := true; more && *wrong == nil; {
			some := make([]span, 0, 256)
			for len(some) < cap(some) {
				if more = d.PeekKind() != ']'; !more {
					break
				}
				raw, err := d.ReadValue()
				if *wrong = err; err != nil {
					break
				}
				end := int(d.InputOffset())
				some = append(some, span{end - len(raw), end})
			}
			select {
			case ahead <- some:
			case <-over:
				return
			}
		}
	}()
	return ahead, wrong
}
