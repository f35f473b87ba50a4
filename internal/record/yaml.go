package record

import (
	"errors"
	"strings"

	"go.yaml.in/yaml/v4"
	"go.yaml.in/yaml/v4/plugin/loaderlimits"
)

const (
	yamlChunk = 32 << 10 // rows parsed together, in bytes
	yamlMost  = 1 << 20  // the longest row, or document that is no list
)

var errTooDeep = errors.New("nested too deep")

// yamlLimits keep the parser from deep nesting. (It counts flow and block apart.)
var yamlLimits = yaml.WithPlugin(loaderlimits.New(loaderlimits.DepthFunc(func(depth int, _ *loaderlimits.DepthContext) error {
	if depth > deepest+2 {
		return errTooDeep
	}
	return nil
})))

// parseYAML gives the root node of one document; nil if it is empty.
func parseYAML(text string) (*yaml.Node, error) {
	var doc yaml.Node
	if err := yaml.Load(textBytes(text), &doc, yamlLimits); err != nil {
		return nil, err
	}
	if doc.Kind != yaml.DocumentNode || len(doc.Content) != 1 {
		return nil, nil
	}
	return doc.Content[0], nil
}

// readYAML reads a list item by item, so that only few rows are held as nodes at once,
// and every other document as one row.
func (s *sheet) readYAML() error {
	for _, d := range s.src.documents() {
		if err := s.ctx.Err(); err != nil {
			return err
		}
		var err error
		switch first, indent := firstContent(s.src.text, d); {
		case first < 0:
		case s.src.text[first] == '-' && itemAt(s.src.text, first):
			err = s.yamlList(d, first, indent)
		default:
			err = s.yamlDocument(d)
		}
		if err != nil {
			return err
		}
	}
	return nil
}

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
		if j < d.to && strings.IndexByte("#\r\n\t", text[j]) < 0 && (text[j] != '%' || j > i) {
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

// yamlList reads the items of a block list, many at a time while they are in order.
func (s *sheet) yamlList(d span, first, indent int) error {
	text := s.src.text
	var items []int // where the lines of the items begin
	for at := first - indent; at < d.to; {
		if err := s.halt(); err != nil {
			return err
		}
		items = items[:0]
		from := at
		for at < d.to && (at == from || at-from < yamlChunk) {
			items = append(items, at)
			at = nextItem(text, lineEnd(text, at), d.to, indent)
		}
		s.yamlItems(append(items, at), indent)
	}
	return nil
}

// yamlItems reads the items between the offsets given, together if that works, else one by one.
func (s *sheet) yamlItems(at []int, indent int) {
	n := len(at) - 1
	if at[n]-at[0] > yamlMost {
		s.start = at[0] + indent
		s.refuseRow(newFault("too-long", "the row is longer than a million characters").do("look whether a quotation mark is missing"), "")
		return
	}
	list, err := parseYAML(s.src.text[at[0]:at[n]])
	if err == nil && list != nil && list.Kind == yaml.SequenceNode && len(list.Content) == n {
		for i, item := range list.Content {
			s.yamlRow(item, at[i]+indent)
		}
		return
	}
	if n > 1 {
		for i := range n {
			s.yamlItems(at[i:i+2], indent)
		}
		return
	}
	s.start = at[0] + indent
	s.refuseRow(s.brokenYAML(err, at[0]), "")
}

// yamlDocument reads a document that is no block list: one row, or a list in brackets.
func (s *sheet) yamlDocument(d span) error {
	at, _ := firstContent(s.src.text, d)
	s.start = at
	if d.to-d.from > yamlMost {
		s.refuseRow(newFault("too-long", "the document is longer than a million characters").do("write the rows as a list, each beginning with a hyphen"), "")
		return nil
	}
	root, err := parseYAML(s.src.text[d.from:d.to])
	switch {
	case err != nil:
		s.refuseRow(s.brokenYAML(err, d.from), "")
	case root == nil || root.Kind == yaml.ScalarNode && root.ShortTag() == "!!null":
	case root.Kind == yaml.SequenceNode:
		for _, item := range root.Content {
			s.yamlRow(item, s.src.nodeOffset(d.from, item))
		}
	default:
		s.yamlRow(root, at)
	}
	return nil
}

// brokenYAML says where YAML cannot be read; base is the offset of what was parsed.
func (s *sheet) brokenYAML(err error, base int) *fault {
	if errors.Is(err, errTooDeep) {
		return newFault("too-deep", "values are nested more than 200 deep").do("write plain values and lists")
	}
	line := s.lineOf(base)
	where := "the row"
	var wrong *yaml.LoadError
	if errors.As(err, &wrong) && wrong.Mark.Line > 0 {
		where = "line " + itoa(line+wrong.Mark.Line-1)
	}
	return newFault("broken", where+" cannot be read").
		do("look at the indentation, and whether a colon or a quotation mark is missing or too many; put quotation marks around words that hold a colon")
}
