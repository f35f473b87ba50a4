package workbook

import (
	"bytes"
	"io"
	"strings"
)

// scanner reads the XML of one part, token by token, in the memory of its longest
// token. It is for the sheets, where encoding/xml takes several times as long; a fuzz
// test holds the two equal. Names come without their prefix, and only those of
// spreadsheet and relationship namespaces: others are "". What it returns is gone
// with the next token.
type scanner struct {
	part    string
	r       io.Reader
	buf     []byte
	at, end int   // what is not read yet is buf[at:end]
	err     error // why no more comes: io.EOF, or what the reader said

	name  []byte      // of the element that opened or closed
	attrs []attribute // of the element that opened
	text  []byte      // as written; with plain, nothing in it is an entity
	plain bool
	depth int // elements that are open, the one that opened included

	hollow bool   // <a/> opened and is to close
	names  []byte // of the open elements, one after the other
	marks  []mark // of the open elements
	spaces []space
	last   space // the prefix that was looked up last
}

// mark is where an open element's name begins among the names, and the name without
// its prefix.
type mark struct {
	at, local int
	known     bool
}

type attribute struct{ name, value []byte } // as written

type space struct {
	prefix string
	known  bool
	depth  int
}

type token uint8

const (
	atEnd token = iota
	opened
	closed
	words
)

const (
	deepest      = 64
	longestToken = 1 << 20 // bytes; a cell holds at most 32,767 characters
)

var knownSpaces = map[string]bool{
	"http://schemas.openxmlformats.org/spreadsheetml/2006/main":    true,
	"http://purl.oclc.org/ooxml/spreadsheetml/main":                true, // strict
	"http://schemas.openxmlformats.org/package/2006/relationships": true,
}

func newScanner(part string, r io.Reader) *scanner {
	return &scanner{part: part, r: r, buf: make([]byte, 64<<10)}
}

// next returns the next token: an element that opens or closes, or text.
func (x *scanner) next() (token, error) {
	if x.hollow {
		x.hollow = false
		return x.pop()
	}
	for {
		if x.at == x.end && !x.more() {
			if x.err == io.EOF && len(x.marks) == 0 {
				return atEnd, nil
			}
			return 0, x.cut()
		}
		if x.buf[x.at] != '<' {
			x.text, x.plain = x.take(0, "<", false)
			return words, x.longest()
		}
		for x.end-x.at < len("<![CDATA[") && x.more() {
		}
		if x.end-x.at < 2 {
			return 0, x.cut()
		}
		switch x.buf[x.at+1] {
		case '/':
			return x.closeTag()
		case '!':
			if t, err := x.aside(); t == words || err != nil {
				return t, err
			}
		case '?':
			if err := x.instruction(); err != nil {
				return 0, err
			}
		default:
			return x.openTag()
		}
	}
}

// aside passes over a comment, or returns the text of a CDATA section.
func (x *scanner) aside() (t token, err error) {
	whole := false
	switch b := x.buf[x.at:x.end]; {
	case bytes.HasPrefix(b, []byte("<![CDATA[")):
		if x.text, x.plain = x.take(len("<![CDATA["), "]]>", true); x.plain {
			return words, nil
		}
	case bytes.HasPrefix(b, []byte("<!--")):
		b, whole = x.take(len("<!--"), "-->", true)
		if whole && !bytes.Contains(b, []byte("--")) && !bytes.HasSuffix(b, []byte("-")) {
			return atEnd, nil
		}
	default:
		return atEnd, refuseDefinitions(x.part)
	}
	return atEnd, x.cut()
}

// more reads on; what the last token lay in may move.
func (x *scanner) more() bool {
	if x.at > 0 {
		x.end = copy(x.buf, x.buf[x.at:x.end])
		x.at = 0
	}
	if x.end == len(x.buf) && len(x.buf) < longestToken {
		x.buf = append(x.buf, make([]byte, len(x.buf))...)
	}
	for tries := 0; x.err == nil && x.end < len(x.buf); tries++ {
		var n int
		n, x.err = x.r.Read(x.buf[x.end:])
		x.end += n
		if n > 0 {
			return true
		}
		if tries > 100 {
			x.err = io.ErrNoProgress
		}
	}
	return false
}

// take returns what lies after skip bytes and before end, and goes on after it, past
// end itself if over. It returns false, and the rest, if end does not come.
func (x *scanner) take(skip int, end string, over bool) ([]byte, bool) {
	for from := skip; ; {
		if x.at+from <= x.end {
			if i := bytes.Index(x.buf[x.at+from:x.end], []byte(end)); i >= 0 {
				b := x.buf[x.at+skip : x.at+from+i]
				x.at += from + i
				if over {
					x.at += len(end)
				}
				return b, over
			}
		}
		from = max(skip, x.end-x.at-len(end)+1)
		if !x.more() {
			b := x.buf[min(x.at+skip, x.end):x.end]
			x.at = x.end
			return b, false
		}
	}
}

func (x *scanner) instruction() error {
	b, whole := x.take(len("<?"), "?>", true)
	n := 0
	for n < len(b) && nameByte[b[n]] {
		n++
	}
	if !whole || !goodName(b[:n]) {
		return x.cut()
	}
	if !bytes.HasPrefix(b, []byte("xml ")) {
		return nil
	}
	if _, after, found := bytes.Cut(b, []byte("encoding")); found {
		after = bytes.TrimLeft(after, " \t\r\n=\"'")
		if i := bytes.IndexAny(after, "\"'"); i >= 0 {
			after = after[:i]
		}
		switch strings.ToLower(string(after)) {
		case "utf-8", "utf8", "us-ascii", "utf-16", "utf-16le", "utf-16be":
		default:
			return damaged("writes its part %s in characters that workbooks do not use", x.part)
		}
	}
	return nil
}

// longest tells text that was cut off because it is too long.
func (x *scanner) longest() error {
	if len(x.text) >= longestToken || x.err != nil && x.err != io.EOF {
		return x.cut()
	}
	return nil
}

func (x *scanner) cut() error {
	if r, ok := x.err.(*Refusal); ok {
		return r
	}
	return damaged("cannot be read in its part %s", x.part)
}
