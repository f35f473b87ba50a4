package report

import (
	"bytes"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"testing"

	"footing/internal/result"

	"github.com/stretchr/testify/require"
	"golang.org/x/net/html"
	"pgregory.net/rapid"
)

func itoa(n int) string { return strconv.Itoa(n) }

const nasty = "</style></details><script>alert(1)</script><img src=x onerror=alert(1)> ![i](http://e.example/i.png) [l](javascript:alert(1)) <http://e.example> " +
	"www.e.example a@e.example `code` **b** | cell |\n```\n# heading\n- item\n<!-- x --> &lt;b&gt; \u202eesrever {#id onclick=alert(1)}"

// hostileResult is the full sample with every text in it replaced.
func hostileResult() *result.Result {
	r := full()
	replaceTexts(reflect.ValueOf(r).Elem(), func(string) string { return nasty })
	return r
}

// replaceTexts puts f(s) for every string s but those that pages sort and group by.
func replaceTexts(v reflect.Value, f func(string) string) {
	switch v.Kind() {
	case reflect.String:
		s := v.String()
		if result.GradeRank(s) == 0 && !slices.Contains([]string{result.Conforming, result.Nonconforming, result.NotAssessed, result.NotApplicable, result.Broken}, s) {
			v.SetString(f(s))
		}
	case reflect.Pointer:
		if !v.IsNil() {
			replaceTexts(v.Elem(), f)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			replaceTexts(v.Field(i), f)
		}
	case reflect.Slice:
		for i := range v.Len() {
			replaceTexts(v.Index(i), f)
		}
	case reflect.Map:
		for _, k := range v.MapKeys() {
			v.SetMapIndex(k, reflect.ValueOf(f(v.MapIndex(k).String())))
		}
	}
}

// allowed: every element the page may hold, with its attributes.
var allowed = map[string][]string{
	"html": {"lang"}, "head": nil, "body": nil, "title": {"id"}, "style": nil,
	"meta": {"charset", "http-equiv", "content", "name"}, "link": {"rel", "href"},
	"main": {"id"}, "nav": {"aria-label"}, "section": {"class"}, "details": {"class", "open"}, "summary": nil,
	"div": {"class", "id", "tabindex", "role", "aria-label"}, "h1": nil, "h2": nil, "h3": nil, "h4": nil, "p": {"class"}, "ul": nil, "ol": {"start"}, "mark": nil, "li": {"id"},
	"a": {"href", "class"}, "strong": nil, "code": nil, "pre": nil, "figure": {"class"}, "figcaption": nil,
	"svg":   {"xmlns", "class", "width", "height", "viewBox", "role", "aria-labelledby", "font-family", "font-size", "fill", "stroke-linejoin", "stroke-linecap"},
	"desc":  {"id"},
	"path":  {"d", "fill", "stroke", "stroke-width", "stroke-dasharray", "stroke-linecap"},
	"rect":  {"class", "x", "y", "width", "height", "fill", "stroke", "stroke-width"},
	"text":  {"x", "y", "text-anchor", "transform", "font-weight", "fill"},
	"table": nil, "thead": nil, "tbody": nil, "tr": nil, "th": {"scope"}, "td": {"data-label"},
}

// checkPage parses a page and fails on any element or attribute that is not
// allowed, any link that leaves it, any id used twice or link that leads nowhere.
func checkPage(t require.TestingT, page []byte) {
	root, err := html.Parse(bytes.NewReader(page))
	require.NoError(t, err)
	ids := map[string]int{}
	var links []string
	levels := []int{}
	for n := range root.Descendants() {
		if n.Type == html.CommentNode {
			t.Errorf("a comment: %s", n.Data)
		}
		if n.Type != html.ElementNode {
			continue
		}
		attributes, ok := allowed[n.Data]
		if !ok {
			t.Errorf("element %s", n.Data)
		}
		if strings.HasPrefix(n.Data, "h") && len(n.Data) == 2 && n.Data != "hr" {
			levels = append(levels, int(n.Data[1]-'0'))
		}
		scoped := n.Data != "th"
		for _, a := range n.Attr {
			if !slices.Contains(attributes, a.Key) {
				t.Errorf("%s has %s=%q", n.Data, a.Key, a.Val)
			}
			switch a.Key {
			case "href":
				if n.Data == "link" {
					require.Equal(t, "data:,", a.Val)
				} else {
					require.True(t, strings.HasPrefix(a.Val, "#"), a.Val)
					links = append(links, a.Val[1:])
				}
			case "id":
				ids[a.Val]++
			case "scope":
				scoped = a.Val == "col"
			}
		}
		require.True(t, scoped, "a heading cell without a scope")
		if n.Data == "summary" {
			require.NotNil(t, n.FirstChild, "a fold without a name")
		}
	}
	for id, n := range ids {
		require.Equal(t, 1, n, "id %s", id)
	}
	for _, l := range links {
		require.Contains(t, ids, l)
	}
	require.Equal(t, 1, levels[0])
	for i := 1; i < len(levels); i++ {
		require.LessOrEqual(t, levels[i], levels[i-1]+1, "headings must go down one level at a time")
		require.Greater(t, levels[i], 1, "one title")
	}
}

func TestPagesHoldNothingThatIsNotAllowed(t *testing.T) {
	for name, r := range map[string]*result.Result{"full": full(), "thin": thin(), "hostile": hostileResult(), "empty": {}} {
		page, err := HTML(r)
		require.NoError(t, err, name)
		checkPage(t, page)
	}
}

func TestHostileTextIsShownAsText(t *testing.T) {
	page, err := HTML(hostileResult())
	require.NoError(t, err)
	root, err := html.Parse(bytes.NewReader(page))
	require.NoError(t, err)
	var words strings.Builder
	for n := range root.Descendants() {
		if n.Type == html.TextNode {
			words.WriteString(n.Data)
		}
	}
	require.Greater(t, strings.Count(words.String(), "<script>alert(1)</script>"), 50)
	require.NotContains(t, string(page), "\u202e")
}

func TestAnyTextGivesAnAllowedPage(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := full()
		pool := rapid.SliceOfN(hostile(), 5, 5).Draw(t, "texts")
		i := 0
		replaceTexts(reflect.ValueOf(r).Elem(), func(s string) string {
			i++
			if i%3 == 0 {
				return pool[i%len(pool)]
			}
			return s
		})
		page, err := HTML(r)
		require.NoError(t, err)
		checkPage(t, page)
	})
}
