// Package report writes one result for people: a Markdown text, a page made from
// exactly that text, and a summary for the terminal. It sees nothing but the
// result, so that the same pages can be made again from audit.json.
package report

import (
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// md is text that is Markdown already: our own words, or words of others after
// text has escaped them. Constants become md by themselves, strings do not, so
// that nothing from a record reaches the page unescaped by mistake.
type md string

// say formats like Sprintf with %s alone. A string is escaped, an md goes in as
// it is, an int is written out.
func say(format md, args ...any) md {
	var b strings.Builder
	rest := string(format)
	for _, a := range args {
		before, after, ok := strings.Cut(rest, "%s")
		if !ok {
			panic("report: more values than places in " + strconv.Quote(string(format)))
		}
		b.WriteString(before)
		switch v := a.(type) {
		case md:
			b.WriteString(string(v))
		case string:
			b.WriteString(string(text(v)))
		case int:
			b.WriteString(strconv.Itoa(v))
		default:
			panic("report: a value that is neither text nor a count in " + strconv.Quote(string(format)))
		}
		rest = after
	}
	b.WriteString(rest)
	return md(b.String())
}

// plain makes one line of any text: white space collapsed, and what steers a
// terminal or turns the direction of writing taken out.
func plain(s string) string {
	if isPlain(s) {
		return s
	}
	var b strings.Builder
	b.Grow(len(s))
	gap := false
	for _, r := range s {
		switch {
		case unicode.IsSpace(r):
			gap = b.Len() > 0
			continue
		case unseen(r):
			continue
		}
		if gap {
			b.WriteByte(' ')
			gap = false
		}
		b.WriteRune(r)
	}
	return b.String()
}

// isPlain says whether s is printed ASCII in which each space stands between words.
func isPlain(s string) bool {
	for i := 0; i < len(s); i++ {
		if c := s[i]; c < ' ' || c > '~' || c == ' ' && (i == 0 || i+1 == len(s) || s[i-1] == ' ') {
			return false
		}
	}
	return true
}

// unseen says whether a character leaves no mark of its own but changes what
// stands around it: controls, direction marks and overrides, zero-width spaces,
// tags and what is not a character. Joiners stay, some scripts need them.
func unseen(r rune) bool {
	switch {
	case unicode.IsControl(r):
		return true
	case r == 0x061C, r == 0x200B, r == 0x200E, r == 0x200F, r == 0x00AD, r == 0xFEFF:
		return true
	case r >= 0x202A && r <= 0x202E, r >= 0x2060 && r <= 0x206F:
		return true
	case r >= 0xFFF9 && r <= 0xFFFB, r >= 0xE0000 && r <= 0xE007F:
		return true
	}
	return r&0xFFFE == 0xFFFE
}

// text escapes words that come from a record or a result: what reaches the
// reader is plain(s), whatever stands in it. A punctuation mark keeps its
// backslash off only where no Markdown reader can take it for a sign, so that
// dates and numbers stay legible in the Markdown itself.
func text(s string) md {
	s = plain(s)
	var b strings.Builder
	b.Grow(len(s) + len(s)/8)
	numberSoFar := true
	for i := 0; i < len(s); i++ {
		c := s[i]
		if c < utf8.RuneSelf && !isAlnum(c) && c != ' ' && !harmless(s, i, numberSoFar) {
			b.WriteByte('\\')
		}
		b.WriteByte(c)
		numberSoFar = numberSoFar && c >= '0' && c <= '9'
	}
	return md(b.String())
}

// harmless says whether the ASCII mark at i means nothing in Markdown there.
// leading says that only digits stand before it, where it could number a list.
func harmless(s string, i int, leading bool) bool {
	inside := i > 0 && i+1 < len(s) && isAlnum(s[i-1]) && isAlnum(s[i+1])
	ends := i > 0 && !leading && (i+1 == len(s) || s[i+1] == ' ')
	switch s[i] {
	case ',', '\'', '"', ';', '?', '%', '(':
		return true
	case ')':
		return !leading
	case '-', '/', '_':
		return inside
	case '.':
		// Some readers make a link of what begins with www.
		return ends || inside && !strings.HasSuffix(strings.ToLower(s[:i]), "www")
	case ':':
		return ends || inside && isDigit(s[i-1]) && isDigit(s[i+1])
	}
	return false
}

func isDigit(c byte) bool { return c >= '0' && c <= '9' }

func isAlnum(c byte) bool {
	return isDigit(c) || c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z'
}
