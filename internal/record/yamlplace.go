package record

import (
	"strings"
	"unicode/utf8"

	"go.yaml.in/yaml/v4"
)

// nodeOf finds the value of a name in the YAML row that begins at start.
func (s *source) nodeOf(start int, name string) written {
	row, base := s.rowNode(start)
	if row == nil || row.Kind != yaml.MappingNode {
		return written{}
	}
	for i := 0; i+1 < len(row.Content); i += 2 {
		if row.Content[i].Value == name {
			n := row.Content[i+1]
			sh, text := nodeValue(n)
			if sh == isNull {
				text = ""
			}
			return written{text: trim(text), node: n, base: base}
		}
	}
	return written{}
}

// rowNode parses the row that begins at start; its lines count from the offset base.
func (s *source) rowNode(start int) (row *yaml.Node, base int) {
	_, begins := s.line(start)
	if itemAt(s.text, start) && strings.Trim(s.text[begins:start], " ") == "" {
		end := len(s.text)
		for _, d := range s.documents() {
			if d.from <= start && start < d.to {
				end = nextItem(s.text, lineEnd(s.text, start), d.to, start-begins)
			}
		}
		list, err := parseYAML(s.text[begins:end])
		if err != nil || list == nil || len(list.Content) != 1 {
			return nil, 0
		}
		return list.Content[0], begins
	}
	for _, d := range s.documents() {
		if d.from > start || start >= d.to {
			continue
		}
		root, err := parseYAML(s.text[d.from:d.to])
		if err != nil || root == nil {
			return nil, 0
		}
		if root.Kind == yaml.SequenceNode {
			for _, item := range root.Content {
				if s.nodeOffset(d.from, item) == start {
					return item, d.from
				}
			}
			return nil, 0
		}
		return root, d.from
	}
	return nil, 0
}

// nodeOffset is the offset of a node whose lines count from base.
func (s *source) nodeOffset(base int, n *yaml.Node) int {
	at := base
	for range n.Line - 1 {
		at = lineEnd(s.text, at)
	}
	for range n.Column - 1 {
		if at >= len(s.text) {
			break
		}
		_, size := utf8.DecodeRuneInString(s.text[at:])
		at += size
	}
	return min(at, len(s.text))
}

// nodePlace is the place of a node: of a value in words to its end, of a list or group
// to the end of its first line.
func (s *source) nodePlace(number int, n *yaml.Node, base int, heading string) Place {
	from := s.nodeOffset(base, n)
	to := lineEnd(s.text, from)
	line := strings.TrimRight(s.text[from:to], "\r\n")
	switch {
	case n.Kind != yaml.ScalarNode:
		line = strings.TrimRight(line, " ")
	case n.Style&(yaml.SingleQuotedStyle|yaml.DoubleQuotedStyle) != 0:
		line = line[:quotedLength(line)]
	case n.Style&(yaml.LiteralStyle|yaml.FoldedStyle) == 0 && strings.HasPrefix(line, n.Value):
		line = n.Value
	}
	return s.at(number, from, from+len(line), heading)
}

// quotedLength is the length of the text in quotation marks at the start of a line.
func quotedLength(line string) int {
	for i := 1; i < len(line); i++ {
		switch {
		case line[0] == '"' && line[i] == '\\':
			i++
		case line[i] == line[0] && line[0] == '\'' && i+1 < len(line) && line[i+1] == '\'':
			i++
		case line[i] == line[0]:
			return i + 1
		}
	}
	return len(line)
}

// deepNode follows a path into a node as far as it goes.
func deepNode(n *yaml.Node, path []step) *yaml.Node {
	for _, p := range path {
		next := (*yaml.Node)(nil)
		for i := range n.Content {
			switch {
			case p.name == "" && n.Kind == yaml.SequenceNode && i == p.index:
				next = n.Content[i]
			case p.name != "" && n.Kind == yaml.MappingNode && i%2 == 1 && n.Content[i-1].Value == p.name:
				next = n.Content[i]
			}
		}
		if next == nil {
			break
		}
		n = next
	}
	return n
}
