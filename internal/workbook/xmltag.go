package workbook

import "bytes"

// nameByte has the bytes of names: of letters beyond ASCII every byte.
var nameByte = func() (t [256]bool) {
	for c := range t {
		t[c] = c >= 0x80 || c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= '0' && c <= '9' ||
			c == '_' || c == ':' || c == '-' || c == '.'
	}
	return t
}()

func blank(c byte) bool { return c == ' ' || c == '\n' || c == '\t' || c == '\r' }

// openTag reads <a b="c"> or <a/>.
func (x *scanner) openTag() (token, error) {
	for {
		n, whole := x.parseTag(x.buf[x.at:x.end])
		if whole {
			x.at += n
			return opened, x.push()
		}
		if n < 0 || !x.more() {
			return 0, x.cut()
		}
	}
}

// parseTag returns the length of the tag at the start of b; -1 if it is none, and
// false if b ends before it does.
func (x *scanner) parseTag(b []byte) (n int, whole bool) {
	x.attrs = x.attrs[:0]
	i := 1
	for i < len(b) && nameByte[b[i]] {
		i++
	}
	x.name = b[1:i]
	if i < len(b) && !goodName(x.name) {
		return -1, false
	}
	for i < len(b) {
		for i < len(b) && blank(b[i]) {
			i++
		}
		if i+1 >= len(b) && (i == len(b) || b[i] != '>') {
			return 0, false
		}
		switch {
		case b[i] == '>':
			x.hollow = false
			return i + 1, true
		case b[i] == '/':
			x.hollow = true
			if b[i+1] != '>' {
				return -1, false
			}
			return i + 2, true
		}
		if i = x.parseAttr(b, i); i <= 0 {
			return i, false
		}
	}
	return 0, false
}

// parseAttr reads an attribute at i and returns where it ends; 0 if b ends before,
// -1 if there is none.
func (x *scanner) parseAttr(b []byte, i int) int {
	start := i
	for i < len(b) && nameByte[b[i]] {
		i++
	}
	name := b[start:i]
	for i < len(b) && blank(b[i]) {
		i++
	}
	if i == len(b) {
		return 0
	}
	if b[i] != '=' || !goodName(name) {
		return -1
	}
	for i++; i < len(b) && blank(b[i]); i++ {
	}
	if i == len(b) {
		return 0
	}
	if b[i] != '"' && b[i] != '\'' {
		return -1
	}
	i++
	n := bytes.IndexByte(b[i:], b[i-1])
	if n < 0 {
		return 0
	}
	x.attrs = append(x.attrs, attribute{name, b[i : i+n]})
	return i + n + 1
}

// goodName refuses an empty name, one that begins as none does, and one with two
// prefixes.
func goodName(name []byte) bool {
	if len(name) == 0 {
		return false
	}
	c := name[0]
	return c != '-' && c != '.' && (c < '0' || c > '9') && (len(name) == 1 || bytes.IndexByte(name, ':') == bytes.LastIndexByte(name, ':'))
}

func splitName(name []byte) (prefix, local []byte) {
	if i := bytes.IndexByte(name, ':'); i > 0 && i < len(name)-1 {
		return name[:i], name[i+1:]
	}
	return nil, name
}

func (x *scanner) push() error {
	if len(x.marks) == deepest {
		return damaged("has elements in elements more than %d deep in its part %s", deepest, x.part)
	}
	at := len(x.names)
	x.names = append(x.names, x.name...)
	x.depth = len(x.marks) + 1
	for _, a := range x.attrs {
		if len(a.name) >= 5 && string(a.name[:5]) == "xmlns" && (len(a.name) == 5 || a.name[5] == ':') {
			s := space{known: knownSpaces[string(a.value)], depth: x.depth}
			if len(a.name) > 5 {
				s.prefix = string(a.name[6:])
			}
			x.spaces = append(x.spaces, s)
			x.last.depth = 0
		}
	}
	prefix, local := splitName(x.name)
	m := mark{at, at + len(x.name) - len(local), x.known(prefix)}
	if x.marks = append(x.marks, m); !m.known {
		local = nil
	}
	x.name = local
	return nil
}

// known tells whether a prefix stands for a namespace that is read.
func (x *scanner) known(prefix []byte) bool {
	if x.last.depth == 0 || x.last.prefix != string(prefix) {
		x.last = space{prefix: string(prefix), depth: 1}
		for i := len(x.spaces) - 1; i >= 0; i-- {
			if s := x.spaces[i]; s.prefix == x.last.prefix {
				x.last.known = s.known
				break
			}
		}
	}
	return x.last.known
}

func (x *scanner) closeTag() (token, error) {
	n := len(x.marks)
	if n == 0 {
		return 0, x.cut()
	}
	name := x.names[x.marks[n-1].at:]
	if end := x.at + len("</") + len(name); end < x.end && x.buf[end] == '>' && bytes.Equal(x.buf[x.at+2:end], name) {
		x.at = end + 1
		return x.pop()
	}
	b, whole := x.take(len("</"), ">", true)
	if !whole || !bytes.Equal(bytes.TrimRight(b, " \t\r\n"), name) {
		return 0, x.cut()
	}
	return x.pop()
}

func (x *scanner) pop() (token, error) {
	n := len(x.marks) - 1
	m := x.marks[n]
	x.name = nil
	if m.known {
		x.name = x.names[m.local:]
	}
	x.depth = n + 1
	x.names, x.marks = x.names[:m.at], x.marks[:n]
	for s := len(x.spaces); s > 0 && x.spaces[s-1].depth > n; s-- {
		x.spaces = x.spaces[:s-1]
		x.last.depth = 0
	}
	return closed, nil
}

// skip passes over the element that opened.
func (x *scanner) skip() error {
	for depth := x.depth; ; {
		t, err := x.next()
		if err != nil || t == closed && x.depth == depth {
			return err
		}
	}
}
