package report

import (
	"strings"
	"testing"

	"footing/internal/result"
	glossary "footing/internal/words"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

func termsIn(s string) (out []string) {
	newTerms().each(s, func(e *glossary.Entry, from, to int) { out = append(out, e.Word+"="+s[from:to]) })
	return out
}

func TestTerms(t *testing.T) {
	for s, want := range map[string][]string{
		"":                                       nil,
		"Exposure.":                              {"exposure=Exposure"},
		"an exposure to blood, and exposure":     {"exposure to blood=exposure to blood", "exposure=exposure"},
		"overexposure exposures":                 nil,
		"a spore test, spore  test; Spore tests": {"spore test=spore test", "spore test=Spore tests"},
		"F0 of f0 and F00":                       {"lethality=F0"},
		"class B, class b, Class B":              {"class=class B", "class=Class B"},
		"pre-vacuum and set aside":               {"dynamic=pre-vacuum"}, // set aside is an everyday word too
		"dry-heat|gauge":                         {"dry heat=dry-heat", "gauge=gauge"},
		"air_removal":                            nil, // the name of a column
		"spore":                                  nil,
	} {
		assert.Equal(t, want, termsIn(s), s)
	}
}

// The first use of a word in the text of findings leads to its line, and no other does.
func TestFirstUseLeadsToTheWord(t *testing.T) {
	p := &page{index: newIndex(thin())}
	assert.Equal(t, md("[Exposure](#w-exposure) and exposure; a [spore test](#w-spore-test)"), p.explain("Exposure and exposure; a spore test"))
	assert.Equal(t, md("exposure; a spore test"), p.explain("exposure; a spore test"))
	assert.Equal(t, md("see [gauge](#x)"), p.explain("see [gauge](#x)"), "a link stays as it is")
	assert.Equal(t, md("`gauge`"), p.explain("`gauge`"))
}

// Each word that is linked is explained, however often the page is made, and only
// words that stand in the report are.
func TestWordsOfTheReport(t *testing.T) {
	r := thin()
	r.Findings = []result.Finding{{Fingerprint: "dddddddddddd", Check: "x/y", Grade: result.Minor, Summary: "s",
		Steps: []string{"Ask for the spore tests.", "Look at the gauge."}, Verify: "the plateau is long enough"}}
	text := string(Markdown(r))
	_, list, found := strings.Cut(text, "## "+titleWords+"\n")
	require.True(t, found)
	list, _, _ = strings.Cut(list, "\n## ")
	for _, w := range []string{"Spore test", "Gauge", "Plateau"} {
		assert.Contains(t, list, "- **"+w+"**: ")
	}
	assert.NotContains(t, list, "- **Burr**")
	assert.Contains(t, text, "Ask for the [spore tests](#w-spore-test).")
	html, err := HTML(r)
	require.NoError(t, err)
	checkPage(t, html)
	assert.Contains(t, string(html), `<li id="w-spore-test"><strong>Spore test</strong>`)
	short, _, _ := strings.Cut(text[strings.Index(text, titleShort):], "\n## ")
	assert.NotContains(t, short, "#w-", "the first lines stay bare")
}

func TestUpperWord(t *testing.T) {
	for s, want := range map[string]string{"gauge": "Gauge", "kPa": "kPa", "CSV": "CSV", "near miss": "Near miss"} {
		assert.Equal(t, want, upperWord(s))
	}
}

func TestNextWord(t *testing.T) {
	for _, c := range []struct {
		s        string
		at       int
		from, to int
	}{{"", 0, -1, 0}, {"  ", 0, -1, 2}, {"a", 0, 0, 1}, {" ab.", 0, 1, 3}, {"ä-b c", 0, 0, 4}, {"ä-b c", 4, 5, 6}} {
		from, to := nextWord(c.s, c.at)
		assert.Equal(t, []int{c.from, c.to}, []int{from, to}, c)
	}
}
