package workbook

import (
	"strings"
	"unicode/utf16"
	"unicode/utf8"
)

// The most that is kept of the texts that the cells of a workbook share.
const (
	textLimit = 256 << 20 // bytes
	textCount = 1 << 24
)

// texts are the shared texts, one after the other.
type texts struct {
	read bool
	all  string
	ends []uint32
}

func (t *texts) at(i uint64) (string, bool) {
	if i >= uint64(len(t.ends)) {
		return "", false
	}
	start := uint32(0)
	if i > 0 {
		start = t.ends[i-1]
	}
	return t.all[start:t.ends[i]], true
}

func (t *texts) load(p *pack, part string) error {
	x, err := p.scan(part)
	if err != nil {
		return err
	}
	var all strings.Builder
	var one []byte
	err = x.each(func(at []byte) error {
		if string(at) != "sst/si" {
			return nil
		}
		if one, err = x.runs(one[:0]); err != nil {
			return err
		}
		all.Write(unescape(one))
		t.ends = append(t.ends, uint32(all.Len()))
		if all.Len() > textLimit || len(t.ends) > textCount {
			return tooLarge("holds more than %d MiB of text, or more than %d texts", textLimit>>20, textCount)
		}
		return nil
	})
	t.read, t.all = true, all.String()
	return err
}

// runs adds the text of the element that opened, an si or is, to b: of its t, and of
// the t of its runs r, not of what tells how to pronounce it (rPh). Blanks are kept
// whether or not xml:space asks for it: whoever reads the cell may trim.
func (x *scanner) runs(b []byte) ([]byte, error) {
	for depth := x.depth; ; {
		t, err := x.next()
		switch {
		case err != nil:
			return b, err
		case t == closed && x.depth == depth:
			return b, nil
		case t == opened && string(x.name) == "t":
			if b, err = x.content(b); err != nil {
				return b, err
			}
		case t == opened && string(x.name) != "r":
			if err := x.skip(); err != nil {
				return b, err
			}
		}
	}
}

// content adds the text of the element that opened to b.
func (x *scanner) content(b []byte) ([]byte, error) {
	for depth := x.depth; ; {
		t, err := x.next()
		switch {
		case err != nil || t == closed && x.depth == depth:
			return b, err
		case t == words && len(x.marks) == depth:
			if b, err = x.appendText(b); err != nil {
				return b, err
			}
			if len(b) > longestToken {
				return b, damaged("has a longer text than a cell can hold in its part %s", x.part)
			}
		}
	}
}

// unescape turns _x000D_ and the like into the character that they stand for
// (ECMA-376 Part 1, 22.9.2.19), and every line end into "\n". It works in place.
func unescape(b []byte) []byte {
	to := 0
	for i := 0; i < len(b); {
		r, n := escaped(b[i:])
		if n == 0 {
			b[to] = b[i]
			to, i = to+1, i+1
			continue
		}
		if low, m := escaped(b[i+n:]); m > 0 && utf16.IsSurrogate(r) {
			if pair := utf16.DecodeRune(r, low); pair != utf8.RuneError {
				r, n = pair, n+m
			}
		}
		i += n
		if r == '\r' {
			r = '\n'
			if next, n := escaped(b[i:]); n > 0 && next == '\n' {
				i += n
			} else if i < len(b) && b[i] == '\n' {
				i++
			}
		}
		to += utf8.EncodeRune(b[to:], r)
	}
	return b[:to]
}

// escaped reads _x000D_ at the start of b; its length is 0 if there is none.
func escaped(b []byte) (r rune, n int) {
	if len(b) < 7 || b[0] != '_' || b[1] != 'x' || b[6] != '_' {
		if len(b) > 0 && b[0] == '\r' {
			return '\r', 1
		}
		return 0, 0
	}
	for _, c := range b[2:6] {
		switch {
		case c >= '0' && c <= '9':
			r = r<<4 | rune(c-'0')
		case c|0x20 >= 'a' && c|0x20 <= 'f':
			r = r<<4 | rune(c|0x20-'a'+10)
		default:
			return 0, 0
		}
	}
	return r, 7
}
