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

// content is one line of the list of sections, with the grades of findings below it.
type content struct {
	ID, Title string
	Grades    []content
}

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
		frame := &frameNode{long: label(table, source)}
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
		if key == timelineKey {
			return t.drawnTimeline()
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

// drawnTimeline is what falls due, by day. The table beside it says the same.
func (t *tree) drawnTimeline() ast.Node {
	line := timelineOf(t.Result)
	if line == nil {
		return nil
	}
	node := &tableNode{table: &exhibited{}, chart: "timeline", drawnAs: "Timeline of what falls due"}
	var err error
	if node.drawing, err = line.svg(node.chart); err != nil {
		t.err = err
	}
	return node
}

// label gives each heading cell its scope and each cell the words of its
// heading, which stand before it where the page is too narrow for columns. It says
// whether a cell holds a word that has to be broken.
func label(table *extast.Table, source []byte) (long bool) {
	var headings []string
	for row := table.FirstChild(); row != nil; row = row.NextSibling() {
		i := 0
		for cell := row.FirstChild(); cell != nil; cell = cell.NextSibling() {
			long = long || longWord(words(cell, source))
			if row.Kind() == extast.KindTableHeader {
				headings = append(headings, words(cell, source))
				cell.SetAttributeString("scope", "col")
			} else if i < len(headings) {
				cell.SetAttributeString("data-label", headings[i])
			}
			i++
		}
	}
	return long
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
			if l, ok := n.(*ast.List); ok {
				t.itemIDs(l, open[len(open)-1].id, source)
			}
			body := bodyOf(open[len(open)-1])
			body.AppendChild(body, n)
		}
		n = next
	}
}

// itemIDs gives the lines of the lists of words and of sources their ids, which other
// places lead to.
func (t *tree) itemIDs(l *ast.List, section string, source []byte) {
	switch section {
	case sections[titleWords].id:
		wordIDs(l, source)
	case sections[titleSources].id:
		n := 0
		for item := l.FirstChild(); item != nil; item = item.NextSibling() {
			item.SetAttributeString("id", []byte(sourceAnchor(n)))
			n++
		}
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
		s.section = sectionFor(title)
		s.class += " " + s.id
		t.contents = append(t.contents, content{ID: s.id, Title: title})
	case 3:
		if n := heldAfter(h, func(n *tableNode) bool { return n.chart != "" }); n != nil && !t.ids[n.chart] {
			t.ids[n.chart] = true
			s.id = n.chart
			s.class += " drawn"
		}
		if grade := t.gradeOf(title); grade != "" && !t.ids[grade] {
			t.ids[grade] = true
			s.id = "grade-" + grade
			t.contents[len(t.contents)-1].Grades = append(t.contents[len(t.contents)-1].Grades, content{ID: s.id, Title: title})
		}
	case 4:
		if key := keyAfter(h); key != "" && !t.ids[key] {
			t.ids[key] = true
			f := t.Findings[t.byKey[key]]
			grave := result.GradeRank(f.Grade) >= result.GradeRank(result.Major) && t.number[t.byKey[key]] <= mostOpen
			s.section = section{id: "f-" + key, fold: true, open: grave || slices.Contains(t.Conclusion.Stops, f.Fingerprint)}
			s.class += " finding " + gradeClass(f.Grade)
		}
	}
	return s
}

// gradeOf is the grade that a heading of the findings begins with; "" elsewhere.
func (t *tree) gradeOf(title string) string {
	if len(t.contents) == 0 || t.contents[len(t.contents)-1].ID != sections[titleFindings].id {
		return ""
	}
	for _, g := range grades {
		if strings.HasPrefix(title, string(mark(g))+" "+upper(g)+" (") {
			return g
		}
	}
	return ""
}

// mostOpen is how many findings stand open at first; of a page with more, the others
// are opened one by one, and in print.
const mostOpen = 40

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
