package record

import (
	"errors"
	"strings"

	"go.yaml.in/yaml/v4"
)

const (
	yamlChunk = 32 << 10 // rows parsed together, in bytes
	yamlMost  = 1 << 20  // the longest row of a list
	yamlWhole = 1 << 17  // the longest document that is no list of items with hyphens
)

var errTooDeep = errors.New("nested too deep")

// depthLimit keeps the parser from deep nesting. (It counts flow and block apart.)
type depthLimit struct{ reached bool }

// CheckDepth is called for each level that the parser goes into.
func (d *depthLimit) CheckDepth(depth int, _ *yaml.DepthContext) error {
	if depth <= deepest+2 {
		return nil
	}
	d.reached = true
	return errTooDeep
}

// CheckAlias has nothing to do: rows with aliases are refused, and none is ever followed.
func (d *depthLimit) CheckAlias(int, int) error { return nil }

// parseYAML gives the root node of one document; nil if it is empty.
func parseYAML(text string) (*yaml.Node, error) {
	var doc yaml.Node
	var limit depthLimit
	err := yaml.Load(textBytes(text), &doc, yaml.WithPlugin(&limit))
	switch {
	case limit.reached:
		return nil, errTooDeep
	case err != nil:
		return nil, err
	case doc.Kind != yaml.DocumentNode || len(doc.Content) != 1:
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
		case s.listBelow(d, first, indent) >= 0:
			at := s.listBelow(d, first, indent)
			err = s.yamlList(d, at, at-1-strings.LastIndexByte(s.src.text[:at], '\n'))
		default:
			err = s.yamlDocument(d)
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// listBelow finds the first hyphen of a list that stands under a name of the file's own
// kind, as in "loads:", where nothing else is in the document; else -1.
func (s *sheet) listBelow(d span, first, indent int) int {
	text := s.src.text
	end := lineEnd(text, first)
	line, _, _ := strings.Cut(text[first:end], " #")
	name, ok := strings.CutSuffix(strings.TrimRight(line, " \r\n"), ":")
	if !ok || s.plan.kind.Single || !s.src.ownName(name) {
		return -1
	}
	at, deep := firstContent(text, span{end, d.to})
	if at < 0 || deep < indent || !itemAt(text, at) {
		return -1
	}
	for i := end; i < d.to; i = lineEnd(text, i) {
		j := i
		for j < d.to && text[j] == ' ' {
			j++
		}
		if j < d.to && j-i <= indent && strings.IndexByte("#\r\n\t", text[j]) < 0 && !(j-i == deep && itemAt(text, j)) {
			return -1
		}
	}
	return at
}

// unwrapped gives the list of a mapping whose only name is that of the file's own kind.
func (s *source) unwrapped(root *yaml.Node) *yaml.Node {
	if root != nil && root.Kind == yaml.MappingNode && len(root.Content) == 2 && !s.plan.kind.Single &&
		root.Content[1].Kind == yaml.SequenceNode && root.Anchor == "" && root.Content[1].Anchor == "" && s.ownName(root.Content[0].Value) {
		return root.Content[1]
	}
	return root
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
	long := at[n]-at[0] > yamlMost
	if n == 1 && long {
		s.begin(at[0] + indent)
		s.refuseRow(newFault("too-long", "the row is longer than a million characters").do("look whether a quotation mark is missing"), "")
		return
	}
	var list *yaml.Node
	var err error
	if !long { // else one by one: the long row costs only itself
		list, err = parseYAML(s.src.text[at[0]:at[n]])
	}
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
	s.begin(at[0] + indent)
	s.refuseRow(s.brokenYAML(err, at[0]), "")
}

// yamlDocument reads a document that is no block list: one row, or a list in brackets.
func (s *sheet) yamlDocument(d span) error {
	at, _ := firstContent(s.src.text, d)
	s.begin(at)
	if d.to-d.from > yamlWhole {
		s.refuseRow(newFault("too-long", "the document is longer than 128 KiB").do("write the rows as a list, each beginning with a hyphen"), "")
		return nil
	}
	root, err := parseYAML(s.src.text[d.from:d.to])
	root = s.src.unwrapped(root)
	switch {
	case err != nil:
		s.refuseRow(s.brokenYAML(err, d.from), "")
	case root == nil || root.Kind == yaml.ScalarNode && root.ShortTag() == "!!null":
	case root.Kind == yaml.SequenceNode:
		from := mark{d.from, 1, 1}
		for _, item := range root.Content {
			from = mark{s.src.offset(from, item), item.Line, item.Column}
			s.yamlRow(item, from.offset)
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
	known := errors.As(err, &wrong) && wrong.Mark.Line > 0
	if known {
		if n := tabbedLine(s.src.text[base:], wrong.Mark.Line+1); n >= 0 {
			return newFault("tab", "line "+itoa(line+n)+" is indented with a tab, which cannot be read").
				do("put spaces in the place of the tab, as many as in the lines beside it")
		}
	}
	if known {
		where = "line " + itoa(line+wrong.Mark.Line-1)
	}
	return newFault("broken", where+" cannot be read").
		do("look at the indentation, and whether a colon or a quotation mark is missing or too many; put quotation marks around words that hold a colon")
}
