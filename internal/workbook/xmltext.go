package workbook

import (
	"bytes"
	"strconv"
	"unicode/utf8"
)

// attr returns the value of an attribute, "" if there is none. The name is without a
// prefix; of one with a prefix, such as r:id, ask attrAny.
func (x *scanner) attr(name string) []byte {
	for i := range x.attrs {
		if string(x.attrs[i].name) == name {
			return x.attrs[i].value
		}
	}
	return nil
}

// attrText returns the value of an attribute with its entities read.
func (x *scanner) attrText(name string) (string, error) {
	b, err := x.decode(nil, x.attr(name))
	return string(b), err
}

// attrAny returns the value of an attribute with a prefix, whichever it is.
func (x *scanner) attrAny(local string) (string, error) {
	for _, a := range x.attrs {
		if prefix, name := splitName(a.name); prefix != nil && string(name) == local {
			b, err := x.decode(nil, a.value)
			return string(b), err
		}
	}
	return "", nil
}

// yes reads an attribute that is true or false.
func yes(b []byte) bool { return string(b) == "1" || string(b) == "true" || string(b) == "on" }

// appendText adds the text of the token to dst.
func (x *scanner) appendText(dst []byte) ([]byte, error) {
	if x.plain {
		return x.appendChars(dst, x.text)
	}
	return x.decode(dst, x.text)
}

// decode adds b to dst with its entities read.
func (x *scanner) decode(dst, b []byte) ([]byte, error) {
	for {
		i := bytes.IndexByte(b, '&')
		if i < 0 {
			return x.appendChars(dst, b)
		}
		var err error
		if dst, err = x.appendChars(dst, b[:i]); err != nil {
			return dst, err
		}
		b = b[i+1:]
		n := bytes.IndexByte(b[:min(len(b), 16)], ';')
		if n < 0 {
			return dst, x.cut()
		}
		r := entity(b[:n])
		if r < 0 {
			return dst, x.cut()
		}
		dst, b = utf8.AppendRune(dst, r), b[n+1:]
	}
}

// entity returns the character of amp, lt, gt, quot, apos, #65 or #x41, or -1.
func entity(name []byte) rune {
	switch string(name) {
	case "amp":
		return '&'
	case "lt":
		return '<'
	case "gt":
		return '>'
	case "quot":
		return '"'
	case "apos":
		return '\''
	}
	if len(name) < 2 || name[0] != '#' {
		return -1
	}
	base, digits := 10, name[1:]
	if digits[0] == 'x' {
		base, digits = 16, digits[1:]
	}
	n, err := strconv.ParseUint(string(digits), base, 32)
	if err != nil || n > utf8.MaxRune || !allowed(rune(n)) {
		return -1
	}
	return rune(n)
}

// allowed is true for what XML takes for a character.
func allowed(r rune) bool {
	return r == '\t' || r == '\n' || r == '\r' || r >= 0x20 && r <= 0xD7FF || r >= 0xE000 && r <= 0xFFFD || r >= 0x10000
}

// appendChars adds characters; the line ends of all systems become "\n", as XML has it.
func (x *scanner) appendChars(dst, b []byte) ([]byte, error) {
	for _, c := range b {
		if c < ' ' || c >= 0x80 {
			return x.appendRare(dst, b)
		}
	}
	return append(dst, b...), nil
}

func (x *scanner) appendRare(dst, b []byte) ([]byte, error) {
	for i := 0; i < len(b); {
		r, n := utf8.DecodeRune(b[i:])
		switch {
		case r == utf8.RuneError && n == 1, !allowed(r):
			return dst, x.cut()
		case r == '\r':
			dst = append(dst, '\n')
			if i+1 < len(b) && b[i+1] == '\n' {
				n++
			}
		default:
			dst = append(dst, b[i:i+n]...)
		}
		i += n
	}
	return dst, nil
}
