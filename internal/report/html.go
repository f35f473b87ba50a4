package report

import (
	"bytes"
	_ "embed"
	"fmt"
	"html/template"

	"footing/internal/result"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/extension"
	"github.com/yuin/goldmark/parser"
	"github.com/yuin/goldmark/renderer"
	"github.com/yuin/goldmark/renderer/html"
	gtext "github.com/yuin/goldmark/text"
	"github.com/yuin/goldmark/util"
)

//go:embed page.html
var pageText string

//go:embed style.css
var styleText string

var templates = template.Must(template.New("page").Parse(pageText))

// HTML makes one self-contained page from the Markdown of r: no script, nothing
// fetched, a content security policy that holds it to that. The same result
// gives the same bytes.
func HTML(r *result.Result) ([]byte, error) {
	ix := newIndex(forPage(r))
	return ix.html(ix.markdown())
}

// html turns Markdown of this index into the page.
func (ix *index) html(source []byte) ([]byte, error) {
	tree := &tree{index: ix}
	m := goldmark.New(
		goldmark.WithExtensions(extension.NewTable(extension.WithTableCellAlignMethod(extension.TableCellAlignNone))),
		goldmark.WithParserOptions(parser.WithASTTransformers(util.Prioritized(tree, 500))),
		// Without the option for raw HTML, goldmark leaves out any that got in.
		goldmark.WithRendererOptions(renderer.WithNodeRenderers(util.Prioritized(&nodes{}, 100)), html.WithXHTML()),
	)
	doc := m.Parser().Parse(gtext.NewReader(source))
	if tree.err != nil {
		return nil, tree.err
	}
	var body bytes.Buffer
	if err := m.Renderer().Render(&body, source, doc); err != nil {
		return nil, fmt.Errorf("the page could not be made from the report: %w", err)
	}
	var out bytes.Buffer
	err := templates.ExecuteTemplate(&out, "page", map[string]any{
		"Title":    tree.title,
		"Style":    template.CSS(styleText),      // our own file
		"Body":     template.HTML(body.String()), // from goldmark, which let no raw HTML through
		"Contents": tree.contents,
		"Tool":     plain(ix.Tool),
	})
	if err != nil {
		return nil, fmt.Errorf("the page could not be made from the report: %w", err)
	}
	return out.Bytes(), nil
}

// words are the characters of a node as a reader sees them.
func words(n ast.Node, source []byte) string {
	var b bytes.Buffer
	_ = ast.Walk(n, func(c ast.Node, entering bool) (ast.WalkStatus, error) {
		if !entering {
			return ast.WalkContinue, nil
		}
		switch t := c.(type) {
		case *ast.Text:
			b.Write(util.UnescapePunctuations(t.Segment.Value(source)))
			if t.SoftLineBreak() {
				b.WriteByte(' ')
			}
		case *ast.String:
			b.Write(t.Value)
		}
		return ast.WalkContinue, nil
	})
	return b.String()
}
