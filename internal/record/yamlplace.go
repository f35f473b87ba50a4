package record

import (
	"cmp"
	"slices"
	"strings"
	"unicode/utf8"

	"go.yaml.in/yaml/v4"
)

// mark is an offset of the text, and the line and column that the parser gave to it.
type mark struct{ offset, line, column int }

// nodeOf finds the value of a name in the YAML row that begins at start.
func (s *source) nodeOf(start int, name string) written {
	row, from := s.rowNode(start)
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
			return written{text: trim(text), node: n, origin: from}
		}
	}
	return written{}
}

// rowNode parses the row that begins at start, and gives a mark to count from.
func (s *source) rowNode(start int) (*yaml.Node, mark) {
	docs := s.documents()
	i, _ := slices.BinarySearchFunc(docs, start, func(d span, start int) int { return cmp.Compare(d.to, start+1) })
	d := docs[min(i, len(docs)-1)]
	begins := max(d.from, 1+strings.LastIndexByte(s.text[:start], '\n'))
	if itemAt(s.text, start) && strings.Trim(s.text[begins:start], " ") == "" {
		end := nextItem(s.text, lineEnd(s.text, start), d.to, start-begins)
		list, err := parseYAML(s.text[begins:end])
		if err != nil || list == nil || len(list.Content) != 1 {
			return nil, mark{}
		}
		return list.Content[0], mark{begins, 1, 1}
	}
	root := s.unwrapped(s.document(d))
	switch {
	case root == nil:
		return nil, mark{}
	case root.Kind != yaml.SequenceNode:
		return root, mark{d.from, 1, 1}
	}
	line, column := s.position(start)
	top, left := s.position(d.from)
	if line -= top - 1; line == 1 {
		column -= left - 1
	}
	n, found := slices.BinarySearchFunc(root.Content, mark{line: line, column: column}, func(n *yaml.Node, m mark) int {
		return cmp.Or(cmp.Compare(n.Line, m.line), cmp.Compare(n.Column, m.column))
	})
	if !found {
		return nil, mark{}
	}
	return root.Content[n], mark{start, line, column}
}

// offset is that of a node, counted from a mark before it.
func (s *source) offset(from mark, n *yaml.Node) int {
	at, skip := from.offset, n.Column-from.column
	for range n.Line - from.line {
		at, skip = lineEnd(s.text, at), n.Column-1
	}
	for range skip {
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
func (s *source) nodePlace(number int, n *yaml.Node, from mark, heading string) Place {
	at := s.offset(from, n)
	line := strings.TrimRight(s.text[at:lineEnd(s.text, at)], "\r\n")
	switch {
	case n.Kind != yaml.ScalarNode:
		line = strings.TrimRight(line, " ")
	case n.Style&(yaml.SingleQuotedStyle|yaml.DoubleQuotedStyle) != 0:
		line = line[:quotedLength(line)]
	case n.Style&(yaml.LiteralStyle|yaml.FoldedStyle) == 0 && strings.HasPrefix(line, n.Value):
		line = n.Value
	}
	return s.at(number, at, at+len(line), heading)
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
