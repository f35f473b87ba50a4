package report

import (
	"bytes"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"golang.org/x/net/html"
	"pgregory.net/rapid"
)

// elements are the elements of a page in order, with how deep each stands.
func elements(t require.TestingT, page []byte) []string {
	root, err := html.Parse(bytes.NewReader(page))
	require.NoError(t, err)
	var out []string
	var walk func(n *html.Node, deep int)
	walk = func(n *html.Node, deep int) {
		if explained(n) {
			return
		}
		if n.Type == html.ElementNode && n.Data == "svg" {
			out = append(out, itoa(deep)+" svg") // how many lines its words take may differ
			return
		}
		if n.Type == html.ElementNode {
			out = append(out, itoa(deep)+" "+n.Data)
		}
		for c := n.FirstChild; c != nil; c = c.NextSibling {
			walk(c, deep+1)
		}
	}
	walk(root, 0)
	return out
}

// explained tells what a word of the trade brings with it, whoever wrote it: its link and
// its line in the list of words.
func explained(n *html.Node) bool {
	return slices.ContainsFunc(n.Attr, func(a html.Attribute) bool {
		return n.Data == "a" && strings.HasPrefix(a.Val, "#"+wordLead) || n.Data == "li" && a.Key == "id" && strings.HasPrefix(a.Val, wordLead)
	})
}

// pageOf is the page of the full sample with every text replaced by one.
func pageOf(t require.TestingT, text string) []byte {
	r := full()
	replaceTexts(reflect.ValueOf(r).Elem(), func(string) string { return text })
	for i := range r.Intake {
		r.Intake[i].SHA256 = strings.Repeat("a", 64) // a number that is none is not listed
	}
	page, err := HTML(r)
	require.NoError(t, err)
	return page
}

// What is written in a record changes no structure: the elements of the page are those
// that a harmless word gives.
func TestTextsChangeNoStructure(t *testing.T) {
	want := elements(t, pageOf(t, "word"))
	require.Greater(t, len(want), 500)
	for _, text := range []string{
		nasty,
		strings.Repeat("ten thousand ", 769),
		strings.Repeat("W", 10_000),
		`=HYPERLINK("http://e.example";"x")`, "@SUM(1+1)*cmd|' /C calc'!A0", "+1", "-1",
		"\u202egnp.exe", "\u2066\u2067left\u2069", "שלום עולם", "مرحبا",
		"[x](javascript:alert(1))", "![x](http://e.example/x.png)", "<svg/onload=alert(1)>", "</svg><script>alert(1)</script>", "]]>", "{{.Body}}", "| a | b |", "``` x", "~~~", "---", "# x", "1. x", "> x",
		"x\x00\x01\x7f", "&lt;script&gt;", "\" onmouseover=\"alert(1)", "'><b>",
	} {
		page := pageOf(t, text)
		checkPage(t, page)
		require.Equal(t, want, elements(t, page), "%.60q", text)
	}
}

func TestNoTextChangesTheStructure(t *testing.T) {
	want := elements(t, pageOf(t, "word"))
	rapid.Check(t, func(t *rapid.T) {
		text := "x" + strings.ReplaceAll(hostile().Draw(t, "text"), ": ", ":") // what stands before ": " in evidence is its field
		page := pageOf(t, text)
		checkPage(t, page)
		require.Equal(t, want, elements(t, page))
	})
}
