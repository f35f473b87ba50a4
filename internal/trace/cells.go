package trace

import (
	"bytes"
	"math"
	"strings"
)

// split appends the fields of a line to cells. A field that begins with a quotation
// mark goes on to the next that stands before a delimiter or the end; two in it stay two.
func split(cells [][]byte, line []byte, delimiter byte) [][]byte {
	for {
		if q := closingQuote(line, delimiter); q >= 0 {
			cells = append(cells, line[1:q])
			if q+1 == len(line) {
				return cells
			}
			line = line[q+2:]
			continue
		}
		i := bytes.IndexByte(line, delimiter)
		if i < 0 {
			return append(cells, line)
		}
		cells = append(cells, line[:i])
		line = line[i+1:]
	}
}

// closingQuote returns where the quotation mark stands that closes the first field; -1 for none.
func closingQuote(line []byte, delimiter byte) int {
	if len(line) < 2 || line[0] != '"' {
		return -1
	}
	for i := 1; i < len(line); i++ {
		if line[i] != '"' {
			continue
		}
		if i+1 == len(line) || line[i+1] == delimiter {
			return i
		}
		if line[i+1] == '"' {
			i++
		}
	}
	return -1
}

// trim cuts blanks off both ends: the one that does not break too, in UTF-8 and
// Windows-1252, and what printers and old systems end a page and a file with.
func trim(b []byte) []byte {
	for len(b) > 0 {
		switch c := b[0]; {
		case c == ' ' || c == '\t' || c == 0xa0 || c == '\f' || c == fileEnd:
			b = b[1:]
		case c == 0xc2 && len(b) > 1 && b[1] == 0xa0:
			b = b[2:]
		default:
			goto end
		}
	}
end:
	for len(b) > 0 {
		switch c := b[len(b)-1]; {
		case c == 0xa0 && len(b) > 1 && b[len(b)-2] == 0xc2:
			b = b[:len(b)-2]
		case c == ' ' || c == '\t' || c == 0xa0 || c == '\f' || c == fileEnd:
			b = b[:len(b)-1]
		default:
			return b
		}
	}
	return b
}

const fileEnd = 0x1a // that of CP/M and DOS

// blankLine reports whether a line has nothing but blanks and marks between fields.
func blankLine(b []byte) bool {
	for _, c := range b {
		switch c {
		case ' ', '\t', ',', ';', '|', '"', 0xa0, 0xc2, '\f', fileEnd:
		default:
			return false
		}
	}
	return true
}

// powers are exact up to 10²².
var powers = [...]float64{1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15}

const mostDigits = 15 // more are no reading, and a float64 holds so many

// decimal is a number as a field has it.
type decimal struct {
	value  float64
	places int  // digits after the mark
	mark   byte // '.', ',' or 0
	thrice bool // one to three digits, the mark, three digits: could be thousands
}

// number reads a plain decimal that fills a field: a sign, digits, one point or
// comma with digits after it. No power of ten, no thousands, no unit.
func number(b []byte) (d decimal, ok bool) {
	b = trim(b)
	negative := false
	if len(b) > 0 && (b[0] == '-' || b[0] == '+') {
		negative, b = b[0] == '-', b[1:]
	} else if bytes.HasPrefix(b, []byte("−")) {
		negative, b = true, b[len("−"):]
	}
	var n uint64
	digits, whole := 0, 0
	for _, c := range b {
		switch {
		case c-'0' < 10:
			if digits++; digits > mostDigits {
				return d, false
			}
			n = n*10 + uint64(c-'0')
			if d.mark != 0 {
				d.places++
			}
		case (c == '.' || c == ',') && d.mark == 0:
			d.mark, whole = c, digits
		default:
			return d, false
		}
	}
	if digits == 0 || d.mark != 0 && d.places == 0 {
		return d, false
	}
	d.value = float64(n) / powers[d.places]
	if negative {
		d.value = math.Copysign(d.value, -1)
	}
	d.thrice = d.places == 3 && whole >= 1 && whole <= 3 && b[0] != '0'
	return d, true
}

// excerpt is a field for a sentence: short, without what cannot be printed.
func excerpt(b []byte) string {
	s := strings.Map(func(r rune) rune {
		if r < ' ' || r == 0x7f {
			return -1
		}
		return r
	}, text(trim(b)))
	const most = 40
	if r := []rune(s); len(r) > most {
		return string(r[:most]) + "…"
	}
	return s
}
