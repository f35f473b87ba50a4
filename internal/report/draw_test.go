package report

import (
	"bytes"
	"os"
	"path/filepath"
	"reflect"
	"strconv"
	"strings"
	"testing"

	"footing/internal/result"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// sampleDraw is three visits of 138: one followed from end to end, one that names no pack,
// and one of which nothing was needed from a sterilizer.
func sampleDraw() *result.Draw {
	row := func(kind, id, file string, n int) result.Evidence {
		return result.Evidence{Kind: kind, ID: id, File: file, Row: n}
	}
	link := func(name, state, what string, at ...result.Evidence) result.Link {
		return result.Link{Name: name, State: state, What: what, Evidence: at}
	}
	load := row("loads", "L-203", "loads.csv", 3)
	twice := load
	twice.Field, twice.Heading = "released_by", "signed by"
	whole := []result.Link{
		link("person and certificate", result.LinkFound, "registration entered as active, from 7 Jan 2026 to 6 Jan 2027", row("people", "P-01", "people.json", 1)),
		link("allergy screen", result.LinkFound, "asked 14 Apr 2026; latex: no", row("screens", "", "screens.jsonl", 32)),
		link("pack", result.LinkFound, "K-41, opened 11 Aug 2026 11:17", row("packs", "K-41", "packs.csv", 41)),
		link("load", result.LinkFound, "L-203, 5 Aug 2026 15:50", load),
		link("release", result.LinkFound, "written as released by someone named, 5 Aug 2026 16:52", load, twice),
		link("incident and referral", result.LinkNone, "the visit notes no bleeding, cut or reaction, and no row names it"),
	}
	broken := []result.Link{
		link("person and certificate", result.LinkFound, "registration entered as active, from 7 Jan 2026 to 6 Jan 2027", row("people", "P-01", "people.json", 1)),
		link("allergy screen", result.LinkUnkept, "nothing is typed for screens, so it is not judged"),
		link("pack", result.LinkMissing, "the visit names no pack and no load", row("visits", "V-082", "visits.csv", 82)),
		link("load", result.LinkPart, "without a pack number: 2 loads before it could have supplied it: L-240 (7 Oct 2026 15:40), L-239 (6 Oct 2026 15:44)", load),
		link("release", result.LinkPart, "of the last 2 loads that could have supplied it: written as released, 7 Oct 2026 16:40", load),
		link("incident and referral", result.LinkNone, "the visit notes no bleeding, cut or reaction, and no row names it"),
	}
	padding := []result.Link{
		link("allergy screen", result.LinkMissing, "no allergy answer of that day or earlier is typed; the first typed is of 3 Nov 2026"),
		link("pack", result.LinkNone, "what was done calls for no instruments from a sterilizer"),
		link("load", result.LinkNone, "what was done calls for no instruments from a sterilizer"),
	}
	chain := func(id, on, client string, n int, whole bool, links []result.Link) result.Chain {
		return result.Chain{Visit: id, On: on, Client: client, Site: "clinic", Person: "P-01", Whole: whole, Links: links, Record: row("visits", id, "visits.csv", n)}
	}
	return &result.Draw{Format: result.DrawFormat, Tool: "footing 0.1", AsOf: "2026-11-24",
		Practice: result.Practice{Name: "Lowbridge <foot & nail>", Regulator: "Council of Ardley"}, Period: result.Period{From: "2026-08-03", Until: "2026-11-24"},
		Contacts: map[string]string{"public_health": "extension 12"}, RuleSet: "cdc-2008",
		Rules: []result.Rule{{Criterion: "records.clock", Ours: "10 min", Theirs: "20 min", Looser: true, Note: "our clock drifts"}},
		Trail: result.Trail{Seed: 7, Of: 138, Drawn: []string{"V-013", "V-082", "V-101"}, Judged: 3, Followed: 1, Level: 95, Low: 0.84, High: 90.57, Weakest: "allergy screen",
			Links: []result.TrailLink{{Name: "allergy screen", Found: 1, Missing: 1, Unkept: 1}, {Name: "pack", Found: 1, Missing: 1, None: 1}, {Name: "load", Found: 1, Missing: 1, None: 1}}},
		Chains: []result.Chain{chain("V-013", "2026-08-11 11:15", "C-014", 13, true, whole), chain("V-082", "2026-10-08 10:00", "C-044", 82, false, broken), chain("V-101", "2026-10-26", "Ada Vale", 101, false, padding)},
	}
}

func drawTold(d *result.Draw, width int) string {
	var b bytes.Buffer
	DrawText(&b, d, SummaryOptions{Width: width, ReportPath: "records-draw/draw.html"})
	return b.String()
}

func TestGoldenDraw(t *testing.T) {
	page, err := DrawHTML(sampleDraw())
	require.NoError(t, err)
	checkPage(t, page)
	golden(t, "draw.md", DrawMarkdown(sampleDraw()))
	golden(t, "draw.html", page)
	golden(t, "draw.txt", []byte(drawTold(sampleDraw(), 0)))
}

// Of a visit of which nothing is kept it is not said that it could not be followed.
func TestDrawOfAVisitOfWhichNothingIsKept(t *testing.T) {
	d := sampleDraw()
	c := &d.Chains[2]
	c.Links = []result.Link{{Name: "allergy screen", State: result.LinkUnkept}, {Name: "pack", State: result.LinkNone}}
	require.Contains(t, string(DrawMarkdown(d)), "Nothing that could be followed is typed.")
	require.NotContains(t, string(DrawMarkdown(d)), "could not be followed from end to end")
	require.Contains(t, drawTold(d, 200), "nothing that could be followed is typed")
}

// The cover says what it is before anything else, and each visit stands once, with its
// links, below it.
func TestDrawSaysWhatItIs(t *testing.T) {
	text := string(DrawMarkdown(sampleDraw()))
	at := 0
	for _, part := range []string{"Visits pulled by chance", "not an inspection", "Council of Ardley", "Not found does not mean not done", "Nothing here says that anyone was exposed", "Of 138 visits, 3 were drawn at random", "number 7", "0.8 % to 90.6 %", "The weakest link: allergy screen", "V-013", "V-082", "V-101"} {
		next := strings.Index(text[at:], part)
		require.GreaterOrEqual(t, next, 0, "%q in\n%s", part, text)
		at += next
	}
	require.Equal(t, 3, strings.Count(text, "\n### "))
	require.NotContains(t, text, "Ada Vale", "what looks like a name is masked")
	require.Equal(t, 1, strings.Count(text, "cannot be followed to its pack"), "only of the visit that called for one and names none")
	require.NotContains(t, text, "loads.csv, row 3 and loads.csv, row 3", "one row is one place")
	require.Contains(t, text, "pack, with what lies behind it", "what hangs on the pack is not counted again")
}

func TestDrawOnNarrowTerminals(t *testing.T) {
	for _, width := range []int{40, 60, 80} {
		for line := range strings.Lines(drawTold(sampleDraw(), width)) {
			if !strings.Contains(line, "draw.html") {
				require.LessOrEqual(t, len([]rune(strings.TrimRight(line, "\n"))), width, line)
			}
		}
	}
}

func TestAnyTextGivesAnAllowedDraw(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := sampleDraw()
		pool := rapid.SliceOfN(hostile(), 5, 5).Draw(t, "texts")
		i := 0
		replaceTexts(reflect.ValueOf(d).Elem(), func(s string) string {
			i++
			if i%3 == 0 {
				return pool[i%len(pool)]
			}
			return s
		})
		page, err := DrawHTML(d)
		require.NoError(t, err)
		checkPage(t, page)
		again, _ := DrawHTML(d)
		require.True(t, bytes.Equal(page, again))
		require.NotContains(t, drawTold(d, 80), "\x1b")
	})
	page, err := DrawHTML(&result.Draw{})
	require.NoError(t, err)
	checkPage(t, page)
}

// Outside measure: a real browser prints a cover and one sheet for each visit, and on a
// telephone nothing is wider than the screen.
func TestDrawInABrowser(t *testing.T) {
	b := startBrowser(t)
	page, err := DrawHTML(sampleDraw())
	require.NoError(t, err)
	file := filepath.Join(t.TempDir(), "draw.html")
	require.NoError(t, os.WriteFile(file, page, 0o644))
	b.Open("file://"+file, 375, 667)
	quiet(t, b, "file://"+file)
	require.LessOrEqual(t, b.Value("document.documentElement.scrollWidth"), 375.0)
	b.Open("file://"+file, 1280, 800)
	pdf := b.Bytes("Page.printToPDF", map[string]any{"preferCSSPageSize": true, "printBackground": true})
	require.Contains(t, string(pdf), "/Count "+strconv.Itoa(1+len(sampleDraw().Chains))+"\n", "a cover and a sheet a visit")
}
