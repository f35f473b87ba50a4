package report

import (
	"bytes"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/extension"
	"golang.org/x/net/html"
	"pgregory.net/rapid"
)

// hostile draws strings from what means something to Markdown, HTML or a terminal.
func hostile() *rapid.Generator[string] {
	pieces := []string{"*", "_", "`", "[", "](", ")", "#", "\\", "|", "<", ">", "&", "&amp;", "&#60;", "<b>", "<script>",
		"http://a.example", "www.a.example", "a@b.example", "![x](http://e.example/i.png)", "1. ", "1) ", "23.", "7)", "- ", "+ ",
		"---", "===", "~~", "~~~", "```", "    ", "\n", "\n\n", "\t", "\r\n", "\x00", "\x1b[31m", "\u202e", "\u2066", "\u200b", "a", "Z", "9",
		" ", ".", ":", ":-", "/", "-", "'", "\"", "(", "%", ";", "{#id}", "{.c}", "$x$", ":smile:", "\u2028", "é", "漢", "\U0001F9B6", "[ ] ", "[^1]", "|-|", "\ufffe"}
	return rapid.OneOf(rapid.String(), rapid.Custom(func(t *rapid.T) string {
		return strings.Join(rapid.SliceOfN(rapid.SampledFrom(pieces), 1, 12).Draw(t, "pieces"), "")
	}))
}

// Outside measure: goldmark, in each of the places where we put words of
// others, and with every GFM extension on, as another reader may have.
func TestEscapedTextComesBackAsItWas(t *testing.T) {
	ours := goldmark.New(goldmark.WithExtensions(extension.Table))
	gfm := goldmark.New(goldmark.WithExtensions(extension.GFM))
	places := []struct {
		name, before, after string
		tags                string
	}{
		{"paragraph", "", "\n", "p"},
		{"after words", "so it says: ", " and more\n", "p"},
		{"list item", "- ", "\n", "ul li"},
		{"numbered", "1. ", "\n", "ol li"},
		{"heading", "#### ◆ ", " x\n", "h4"},
		{"bold", "**A ", " b**\n", "p strong"},
		{"link text", "[finding ", " b](#f-0)\n", "p a"},
		{"cell", "| a | b |\n| --- | --- |\n| ", " | c |\n", "table thead tr th th tbody tr td td"},
	}
	rapid.Check(t, func(t *rapid.T) {
		s := hostile().Draw(t, "s")
		if plain(s) == "" {
			return
		}
		for _, p := range places {
			for _, m := range []goldmark.Markdown{ours, gfm} {
				frame := contents(t, m, p.before+"QQQ"+p.after)
				want := frame
				want.words = strings.ReplaceAll(frame.words, "QQQ", plain(s))
				got := contents(t, m, p.before+string(text(s))+p.after)
				if squeeze(got.words) != squeeze(want.words) || got.tags != p.tags {
					t.Fatalf("%s: %q\nwritten %q\nwords   %q\nwanted  %q\ntags    %q", p.name, s, text(s), got.words, want.words, got.tags)
				}
			}
		}
	})
}

func squeeze(s string) string { return strings.Join(strings.Fields(s), " ") }

type rendered struct{ words, tags string }

func contents(t require.TestingT, m goldmark.Markdown, source string) rendered {
	var b bytes.Buffer
	require.NoError(t, m.Convert([]byte(source), &b))
	var words strings.Builder
	var tags []string
	z := html.NewTokenizer(&b)
	for {
		switch z.Next() {
		case html.ErrorToken:
			return rendered{words.String(), strings.Join(tags, " ")}
		case html.TextToken:
			words.Write(z.Text())
		case html.StartTagToken, html.SelfClosingTagToken:
			name, _ := z.TagName()
			tags = append(tags, string(name))
		}
	}
}

func TestDatesAndNumbersStayLegible(t *testing.T) {
	for _, s := range []string{"2026-03-31", "C-0147", "14:05", "1.3 mbar/min", "121 °C, 30 min (wrapped)", "the client's card; see p. 41"} {
		require.Equal(t, s, string(text(s)))
	}
	require.Equal(t, `1\. x`, string(text("1. x")))
	require.Equal(t, `\<b\>`, string(text("<b>")))
}

func TestSayEscapesStringsAlone(t *testing.T) {
	require.Equal(t, md(`**\*** 3 *x*`), say("**%s** %s %s", "*", 3, md("*x*")))
	require.Panics(t, func() { say("%s", 1, 2) })
	require.Panics(t, func() { say("%s", 1.5) })
}

func TestDays(t *testing.T) {
	require.Equal(t, "31 Mar 2026", day("2026-03-31"))
	require.Equal(t, "31 Mar 2026 14:05", day("2026-03-31 14:05"))
	require.Equal(t, "soon", day("soon"))
	// 25 Nov 2026 to 6 Jan 2027: five days to the end of November, 31, six: by the calendar, 42.
	require.Equal(t, "in 42 days", away("2026-11-25", "2027-01-06"))
	require.Equal(t, "tomorrow", away("2026-11-25", "2026-11-26"))
	require.Equal(t, "2 days ago", away("2026-11-25", "2026-11-23"))
	require.Empty(t, away("2026-11-25", ""))
}
