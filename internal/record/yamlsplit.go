package record

import (
	"strings"
)

// yamlDocuments gives the stretch of each document of the text.
func yamlDocuments(text string) func(func(span) bool) {
	return func(yield func(span) bool) {
		from := 0
		for at := 0; at < len(text); {
			end := lineEnd(text, at)
			if marker(text[at:end]) {
				if !yield(span{from, at}) {
					return
				}
				from = at + 3
				if text[at] == '.' {
					from = end
				}
			}
			at = end
		}
		yield(span{from, len(text)})
	}
}

// marker is true for a line that ends a document or begins one.
func marker(line string) bool {
	if !strings.HasPrefix(line, "---") && !strings.HasPrefix(line, "...") {
		return false
	}
	return len(line) == 3 || strings.IndexByte(" \t\r\n", line[3]) >= 0
}

// lineEnd is the offset after the line feed of the line at i.
func lineEnd(text string, i int) int {
	if n := strings.IndexByte(text[i:], '\n'); n >= 0 {
		return i + n + 1
	}
	return len(text)
}

// firstContent finds the first character that is neither blank, comment nor directive,
// and how far it is indented; -1 if there is none.
func firstContent(text string, d span) (at, indent int) {
	for i := d.from; i < d.to; i = lineEnd(text, i) {
		j := i
		for j < d.to && text[j] == ' ' {
			j++
		}
		if j < d.to && text[j] == '\t' {
			if rest := strings.TrimLeft(text[j:min(lineEnd(text, j), d.to)], " \t\r\n"); rest == "" || rest[0] == '#' {
				continue
			}
		}
		if j < d.to && strings.IndexByte("#\r\n", text[j]) < 0 && (text[j] != '%' || j > i) {
			return j, j - i
		}
	}
	return -1, 0
}

// itemAt is true if the text at i begins an item of a block list.
func itemAt(text string, i int) bool {
	return text[i] == '-' && (i+1 == len(text) || strings.IndexByte(" \t\r\n", text[i+1]) >= 0)
}

// nextItem finds the line that begins the next item at the given indent, from i, which
// begins a line; or the end.
func nextItem(text string, i, to, indent int) int {
	for ; i < to; i = lineEnd(text, i) {
		at := i + indent
		if at < to && itemAt(text, at) && strings.Trim(text[i:at], " ") == "" {
			return i
		}
	}
	return to
}

// tabbedLine finds the first of the n lines of a text that has something after a tab in
// its indentation, counted from 0; -1 if there is none.
func tabbedLine(text string, n int) int {
	for i := range n {
		end := lineEnd(text, 0)
		line := text[:end]
		rest := strings.TrimLeft(line, " \t")
		if strings.TrimSpace(rest) != "" && strings.Contains(line[:len(line)-len(rest)], "\t") {
			return i
		}
		if text = text[end:]; text == "" {
			break
		}
	}
	return -1
}
