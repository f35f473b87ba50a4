package report

import (
	"slices"
	"strconv"
	"strings"

	"footing/internal/result"

	"github.com/yuin/goldmark/ast"
	extast "github.com/yuin/goldmark/extension/ast"
	"github.com/yuin/goldmark/parser"
	gtext "github.com/yuin/goldmark/text"
)

// tree rebuilds the parsed Markdown for the page: fences whose key the result
// holds become tables, headings become sections, table cells learn their heading.
type tree struct {
	*index
	title    string
	contents []content
	ids      map[string]bool
	err      error
}

// content is one line of the list of sections.
type content struct{ ID, Title string }

// Transform implements parser.ASTTransformer.
func (t *tree) Transform(doc *ast.Document, reader gtext.Reader, _ parser.Context) {
	source := reader.Source()
	t.ids = map[string]bool{}
	var fences []*ast.FencedCodeBlock
	var tables []*extast.Table
	t.err = ast.Walk(doc, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if entering {
			switch n := n.(type) {
			case *ast.FencedCodeBlock:
				fences = append(fences, n)
			case *extast.Table:
				tables = append(tables, n)
			}
		}
		return ast.WalkContinue, nil
	})
	for _, f := range fences {
		if held := t.held(f, source); held != nil {
			f.Parent().ReplaceChild(f.Parent(), f, held)
		}
	}
	for _, table := range tables {
		label(table, source)
		frame := &frameNode{}
		table.Parent().ReplaceChild(table.Parent(), table, frame)
		frame.AppendChild(frame, table)
	}
	t.fold(doc, source)
}

// held is the table for a fence, nil when the result holds nothing of that key.
func (t *tree) held(f *ast.FencedCodeBlock, source []byte) ast.Node {
	if f.Info == nil {
		return nil
	}
	what, key, _ := strings.Cut(string(f.Info.Segment.Value(source)), " ")
	switch what {
	case "record":
		if i, ok := t.byKey[key]; ok {
			return &tableNode{table: evidence(&t.Findings[i], t.number[i]), finding: key}
		}
	case "figure":
		if i, ok := t.exhibit[key]; ok {
			return t.shown(i)
		}
		if n, ok := t.calendarAt[key]; ok {
			return t.drawnCalendar(n)
		}
		if check, ok := t.figureAt[key]; ok {
			return &tableNode{table: numbers(t.figures[check])}
		}
	}
	return nil
}

// shown is the table of exhibit i, below its chart where it has one.
func (t *tree) shown(i int) ast.Node {
	x := &t.Exhibits[i]
	n := &tableNode{table: shown(x)}
	if x.Chart != nil {
		n.chart = chartID(slices.Index(t.charts, i))
		n.drawnAs = "Chart " + strings.TrimPrefix(n.chart, chartLead)
		var err error
		if n.drawing, err = ChartWithin(x, n.chart); err != nil {
			t.err = err
		}
	}
	return n
}

// drawnCalendar is the n-th calendar. What it shows stands in words beside it.
func (t *tree) drawnCalendar(n int) ast.Node {
	c := t.calendars[n]
	node := &tableNode{table: &exhibited{}, chart: "calendar-" + strconv.Itoa(n+1), drawnAs: "Calendar of sterilizer " + plain(c.sterilizer)}
	var err error
	if node.drawing, err = c.svg(node.chart); err != nil {
		t.err = err
	}
	return node
}

// label gives each heading cell its scope and each cell the words of its
// heading, which stand before it where the page is too narrow for columns.
func label(table *extast.Table, source []byte) {
	var headings []string
	for row := table.FirstChild(); row != nil; row = row.NextSibling() {
		i := 0
		for cell := row.FirstChild(); cell != nil; cell = cell.NextSibling() {
			if row.Kind() == extast.KindTableHeader {
				headings = append(headings, words(cell, source))
				cell.SetAttributeString("scope", "col")
			} else if i < len(headings) {
				cell.SetAttributeString("data-label", headings[i])
			}
			i++
		}
	}
}

// fold nests what follows each heading below it. The first heading is the title
// of the page.
func (t *tree) fold(doc *ast.Document, source []byte) {
	var open []*sectionNode
	for n := doc.FirstChild(); n != nil; {
		next := n.NextSibling()
		h, isHeading := n.(*ast.Heading)
		switch {
		case isHeading && h.Level == 1:
			t.title = words(h, source)
		case isHeading:
			for len(open) > 0 && open[len(open)-1].level >= h.Level {
				open = open[:len(open)-1]
			}
			s := t.section(h, source)
			if len(open) > 0 {
				bodyOf(open[len(open)-1]).AppendChild(bodyOf(open[len(open)-1]), s)
			} else {
				doc.InsertBefore(doc, n, s)
			}
			head := &headNode{}
			s.AppendChild(s, head)
			s.AppendChild(s, &bodyNode{})
			head.AppendChild(head, h)
			open = append(open, s)
		case len(open) > 0:
			if l, ok := n.(*ast.List); ok && open[len(open)-1].id == sections[titleWords].id {
				wordIDs(l, source)
			}
			body := bodyOf(open[len(open)-1])
			body.AppendChild(body, n)
		}
		n = next
	}
}

func bodyOf(s *sectionNode) ast.Node { return s.LastChild() }

// section decides how a heading behaves: those of the second level by their
// title, findings by the table of evidence that follows.
func (t *tree) section(h *ast.Heading, source []byte) *sectionNode {
	title := words(h, source)
	s := &sectionNode{level: h.Level, class: "level-" + strconv.Itoa(h.Level)}
	switch h.Level {
	case 2:
		s.section = sections[title]
		s.class += " " + s.id
		t.contents = append(t.contents, content{s.id, title})
	case 3:
		if n := heldAfter(h, func(n *tableNode) bool { return n.chart != "" }); n != nil && !t.ids[n.chart] {
			t.ids[n.chart] = true
			s.id = n.chart
			s.class += " drawn"
		}
	case 4:
		if key := keyAfter(h); key != "" && !t.ids[key] {
			t.ids[key] = true
			f := t.Findings[t.byKey[key]]
			s.section = section{id: "f-" + key, fold: true, open: result.GradeRank(f.Grade) >= result.GradeRank(result.Major) || slices.Contains(t.Conclusion.Stops, f.Fingerprint)}
			s.class += " finding " + gradeClass(f.Grade)
		}
	}
	return s
}

// keyAfter is the key of the finding whose evidence stands under the heading h.
func keyAfter(h *ast.Heading) string {
	if n := heldAfter(h, func(n *tableNode) bool { return n.finding != "" }); n != nil {
		return n.finding
	}
	return ""
}

// heldAfter is the first table of a kind between the heading h and the next one.
func heldAfter(h *ast.Heading, wanted func(*tableNode) bool) *tableNode {
	for n := h.NextSibling(); n != nil; n = n.NextSibling() {
		if held, ok := n.(*tableNode); ok && wanted(held) {
			return held
		}
		if _, ok := n.(*ast.Heading); ok {
			return nil
		}
	}
	return nil
}

func gradeClass(grade string) string {
	if result.GradeRank(grade) == 0 {
		return "ungraded"
	}
	return grade
}
