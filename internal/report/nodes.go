package report

import (
	"slices"
	"strings"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/renderer"
	"github.com/yuin/goldmark/util"
)

// Nodes of our own: a section of the page, its head, its body, the wide frame
// around a table, and a table that took the place of a fence.
var (
	kindSection = ast.NewNodeKind("Section")
	kindHead    = ast.NewNodeKind("SectionHead")
	kindBody    = ast.NewNodeKind("SectionBody")
	kindFrame   = ast.NewNodeKind("Frame")
	kindTable   = ast.NewNodeKind("HeldTable")
)

type sectionNode struct {
	ast.BaseBlock
	section
	class string
	level int
}

func (*sectionNode) Kind() ast.NodeKind { return kindSection }

func (n *sectionNode) Dump(source []byte, level int) {
	ast.DumpHelper(n, source, level, map[string]string{"id": n.id, "class": n.class}, nil)
}

type headNode struct{ ast.BaseBlock }

func (*headNode) Kind() ast.NodeKind { return kindHead }

func (n *headNode) Dump(source []byte, level int) { ast.DumpHelper(n, source, level, nil, nil) }

type bodyNode struct{ ast.BaseBlock }

func (*bodyNode) Kind() ast.NodeKind { return kindBody }

func (n *bodyNode) Dump(source []byte, level int) { ast.DumpHelper(n, source, level, nil, nil) }

type frameNode struct {
	ast.BaseBlock
	long bool // a word in it is so long that it has to be broken
}

func (*frameNode) Kind() ast.NodeKind { return kindFrame }

func (n *frameNode) Dump(source []byte, level int) { ast.DumpHelper(n, source, level, nil, nil) }

type tableNode struct {
	ast.BaseBlock
	table   *exhibited
	finding string // key of the finding whose evidence it is
	chart   string // id of the chart that stands above it
	drawing []byte // that chart as SVG
	drawnAs string // what it is called
}

func (*tableNode) Kind() ast.NodeKind { return kindTable }

func (n *tableNode) Dump(source []byte, level int) {
	ast.DumpHelper(n, source, level, map[string]string{"caption": n.table.Caption}, nil)
}

// nodes renders them.
type nodes struct{}

func (r *nodes) RegisterFuncs(reg renderer.NodeRendererFuncRegisterer) {
	reg.Register(kindSection, r.section)
	reg.Register(kindHead, r.head)
	reg.Register(kindBody, r.body)
	reg.Register(kindFrame, r.frame)
	reg.Register(kindTable, r.table)
}

func (r *nodes) section(w util.BufWriter, _ []byte, n ast.Node, entering bool) (ast.WalkStatus, error) {
	s := n.(*sectionNode)
	element := "section"
	if s.fold {
		element = "details"
	}
	if !entering {
		_, _ = w.WriteString("</" + element + ">\n")
		return ast.WalkContinue, nil
	}
	_, _ = w.WriteString("<" + element + ` class="` + s.class + `"`)
	if s.fold && s.open {
		_, _ = w.WriteString(" open")
	}
	_, _ = w.WriteString(">\n")
	return ast.WalkContinue, nil
}

func (r *nodes) head(w util.BufWriter, _ []byte, n ast.Node, entering bool) (ast.WalkStatus, error) {
	if n.Parent().(*sectionNode).fold {
		_, _ = w.WriteString(map[bool]string{true: "<summary>", false: "</summary>\n"}[entering])
	}
	return ast.WalkContinue, nil
}

// body carries the id: a link to something inside a folded section opens it, a
// link to the section itself would not.
func (r *nodes) body(w util.BufWriter, _ []byte, n ast.Node, entering bool) (ast.WalkStatus, error) {
	if !entering {
		_, _ = w.WriteString("</div>\n")
		return ast.WalkContinue, nil
	}
	_, _ = w.WriteString(`<div class="body"`)
	if id := n.Parent().(*sectionNode).id; id != "" {
		_, _ = w.WriteString(` id="`)
		_, _ = w.Write(util.EscapeHTML([]byte(id)))
		_, _ = w.WriteString(`"`)
	}
	_, _ = w.WriteString(">\n")
	return ast.WalkContinue, nil
}

// mostUnbroken is how many letters a word of a table may have before it is broken, so
// that no table is wider than its page.
const mostUnbroken = 28

func longWord(cell string) bool {
	return slices.ContainsFunc(strings.Fields(cell), func(word string) bool { return wide(word) > mostUnbroken*letterWide })
}

func frameStart(long bool) string {
	if long {
		return "<div class=\"frame long\">\n"
	}
	return "<div class=\"frame\">\n"
}

func (r *nodes) frame(w util.BufWriter, _ []byte, n ast.Node, entering bool) (ast.WalkStatus, error) {
	_, _ = w.WriteString(map[bool]string{true: frameStart(n.(*frameNode).long), false: "</div>\n"}[entering])
	return ast.WalkContinue, nil
}

func (r *nodes) table(w util.BufWriter, _ []byte, n ast.Node, entering bool) (ast.WalkStatus, error) {
	if !entering {
		return ast.WalkContinue, nil
	}
	held := n.(*tableNode)
	t := held.table
	put := func(before, text, after string) {
		_, _ = w.WriteString(before)
		_, _ = w.Write(util.EscapeHTML([]byte(text)))
		_, _ = w.WriteString(after)
	}
	put("<figure class=\"held\">\n", "", "")
	if held.drawing != nil {
		put("<div class=\"frame chart-frame\" tabindex=\"0\" role=\"group\" aria-label=\"", held.drawnAs, "\">\n")
		_, _ = w.Write(held.drawing)
		put("\n</div>\n", "", "")
	}
	if t.Caption != "" {
		put("<figcaption>", t.Caption, "</figcaption>\n")
	}
	if len(t.Rows) > 0 {
		long := slices.ContainsFunc(t.Rows, func(row []string) bool { return slices.ContainsFunc(row, longWord) })
		put(frameStart(long)+"<table>\n<thead>\n<tr>", "", "")
		for _, c := range t.Columns {
			put("<th scope=\"col\">", c, "</th>")
		}
		put("</tr>\n</thead>\n<tbody>\n", "", "")
		for _, row := range t.Rows {
			put("<tr>", "", "")
			for i, c := range row {
				put("<td data-label=\"", t.Columns[i], "\">")
				if field, value, ok := strings.Cut(c, ": "); ok && t.marked && t.Columns[i] == writtenThere {
					put("<mark>", field, ":</mark> ")
					put("", value, "</td>")
					continue
				}
				put("", c, "</td>")
			}
			put("</tr>\n", "", "")
		}
		put("</tbody>\n</table>\n</div>\n", "", "")
	}
	if t.Rest != "" {
		put("<p class=\"rest\">", t.Rest, "</p>\n")
	}
	put("</figure>\n", "", "")
	return ast.WalkContinue, nil
}
