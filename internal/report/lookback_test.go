package report

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"regexp"
	"strings"
	"testing"

	"footing/internal/dev/browser"
	"footing/internal/result"

	terminal "github.com/jedib0t/go-pretty/v6/text"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func toldIn(a *result.Answer, width int) string {
	var b bytes.Buffer
	LookbackText(&b, a, SummaryOptions{Width: width})
	return b.String()
}

func TestGoldenLookbacks(t *testing.T) {
	for name, a := range map[string]*result.Answer{"lookback": answer(), "complaint": complaintAnswer()} {
		page, err := LookbackHTML(a)
		require.NoError(t, err)
		golden(t, name+".md", LookbackMarkdown(a))
		golden(t, name+".html", page)
		golden(t, name+".csv", LookbackCSV(a))
		golden(t, name+".txt", []byte(toldIn(a, 0)))
	}
}

// A worried reader needs what to do before anything else, in every form.
func TestLookbackOpensWithWhatToDo(t *testing.T) {
	for _, text := range []string{string(LookbackMarkdown(answer())), toldIn(answer(), 80)} {
		order := []string{"Look-back: ", "Take it as real", "1. ", "Stop using S1", "5. ", "Public health decides with the council"}
		at := 0
		for _, part := range order {
			next := strings.Index(text[at:], part)
			require.GreaterOrEqual(t, next, 0, "%q in\n%s", part, text)
			at += next
		}
		require.Less(t, strings.Index(text, "Stop using S1"), 600)
	}
}

func TestSectionsOfALookbackStandInOrder(t *testing.T) {
	titles := func(a *result.Answer) (found []string) {
		for l := range strings.Lines(string(LookbackMarkdown(a))) {
			if t, ok := strings.CutPrefix(l, "## "); ok {
				found = append(found, strings.TrimSpace(t))
			}
		}
		return found
	}
	require.Equal(t, []string{titleNow, titleShort, titleDecides, titlePull, titleTelephone, titleWindows, titleNarrowing, titleLoads, titleVisits, titleClients,
		titleMissing, titleLimits, titleRules, titleWords, titleClosing}, titles(answer()))
	require.Equal(t, []string{titleNow, titleShort, titleDecides, titleTelephone, titleChains, titleOthers, titleMissing, titleLimits, titleRules, titleWords, titleClosing}, titles(complaintAnswer()))
	for _, title := range append(titles(answer()), titles(complaintAnswer())...) {
		require.NotEmpty(t, sections[title].id, title)
	}
}

// Packs on a shelf, in a bag, of unknown whereabouts and without a number are sought
// in different places, so they stand apart.
func TestPacksToPullStandApart(t *testing.T) {
	of := func(pack, site, where string) result.Pull {
		return result.Pull{Pack: pack, Count: 1, Site: site, Where: where}
	}
	groups := pullGroups([]result.Pull{of("a", "clinic", result.PullUnknown), of("b", "car", result.PullBag), of("c", "clinic", result.PullShelf), of("d", "clinic", result.PullBag),
		of("e", "annex", result.PullShelf), {Count: 4, Site: "clinic", Where: result.PullCount}, {Site: "clinic", Where: result.PullCount}, of("f", "car-bag", result.PullBag)})
	var said []string
	for _, g := range groups {
		said = append(said, g.title)
	}
	require.Equal(t, []string{"On a shelf, annex: 1 pack", "On a shelf, clinic: 1 pack", "Perhaps in a bag that travels, car: 1 pack", "Perhaps in a bag that travels, car-bag: 1 pack",
		"Perhaps in a bag that travels, clinic: 1 pack", "Whereabouts not written, clinic: 1 pack",
		"Known by a load’s count alone, so some may have been used, clinic: 4 packs, and those of 1 load of which it is not written how many"}, said)
	groups = pullGroups([]result.Pull{{Site: "clinic", Where: result.PullCount}, {Where: result.PullCount}})
	require.Equal(t, "Known by a load’s count alone, so some may have been used: those of 1 load of which it is not written how many", groups[0].title)
}

func TestUpperLimitsAreCalledSo(t *testing.T) {
	text := string(LookbackMarkdown(answer()))
	require.Contains(t, text, "| Visits | up to 74; 3 name a pack or load of it | up to 31; 3 name a pack or load of it |")
	require.Contains(t, text, "| Clients | up to 58; 3 of visits that name one | up to 27; 3 of visits that name one |")
	require.Equal(t, "12", atMost(12, 12, "x"))
	require.Equal(t, "12", atMost(12, 0, "x"), "no upper limit is lower than what is named")
	require.Equal(t, "up to 9", atMost(0, 9, "x"))
	require.Equal(t, "cannot be told", daysOf(-1))
	require.Equal(t, "0", daysOf(0))
}

func TestClientsAreListedOnce(t *testing.T) {
	list := affectedClients(answer().Lookbacks[0].Affected)
	require.Equal(t, []affectedClient{
		{id: "C-0100", visits: 2, named: 1, first: "2026-11-02", last: "2026-11-03"},
		{id: "C-0101", visits: 2, named: 1, first: "2026-11-04", last: "2026-11-05", narrow: true},
		{id: "C-0102", visits: 1, first: "2026-11-06", last: "2026-11-06", narrow: true}}, list)
	require.Empty(t, affectedClients([]result.Affected{{Visit: "V"}}), "a visit without a client names none")
}

// Whoever asks about several sterilizers gets each under its own name.
func TestSeveralSterilizersStandApart(t *testing.T) {
	a := answer()
	two := a.Lookbacks[0]
	two.Kind, two.ID = "sterilizers", "S2"
	a.Lookbacks = append(a.Lookbacks, two)
	text := string(LookbackMarkdown(a))
	require.Equal(t, 6, strings.Count(text, "### Sterilizer S2\n"))
	require.Equal(t, 6, strings.Count(text, "### Test T-41\n"))
	require.Contains(t, toldIn(a, 80), "\nSterilizer S2\n")
	require.NotContains(t, string(LookbackMarkdown(answer())), "### Test T-41\n")
}

func TestLongListsAreCutAndCounted(t *testing.T) {
	a := answer()
	l := &a.Lookbacks[0]
	for i := range 700 {
		l.Loads = append(l.Loads, result.InWindow{Load: fmt.Sprint("X-", i), On: "2026-11-01"})
	}
	text := string(LookbackMarkdown(a))
	require.Contains(t, text, "And 205 more; every one is in lookback.csv and lookback.json.")
	require.NotContains(t, text, "X-600")
	require.Contains(t, string(LookbackCSV(a)), "X-699")
	require.Contains(t, toldIn(a, 80), "and 685 more in the page.")
}

// Two columns of one row are one place to look at.
func TestAPlaceIsNamedOnce(t *testing.T) {
	row := func(n int, field string) result.Evidence {
		return result.Evidence{Kind: "loads", ID: "L", Field: field, File: "loads.csv", Row: n, Line: n + 1}
	}
	all := []result.Evidence{row(1, "decision"), row(1, "released_by"), row(2, "decision")}
	require.Equal(t, "loads.csv, row 1 and loads.csv, row 2", places(all))
	require.Len(t, rowsOf(all), 2)
	require.Len(t, rowsOf(nil), 1)
	require.Equal(t, "loads.csv, row 1, loads.csv, row 2, loads.csv, row 3 and 2 more", places(append(all, row(3, ""), row(4, ""), row(5, ""))))
	require.Empty(t, places(nil))
}

// Outside measure: what a spreadsheet program takes for a formula begins with one of
// = + - @, a tab or a line end; OWASP's page on CSV injection lists them (from memory).
// RFC 4180 gives the form of the file; encoding/csv reads it.
func TestNoCellOfTheSheetIsAFormula(t *testing.T) {
	for _, s := range []string{"=1+1", "+1", "-1", "@x", "\t=1", " =1", "\r\n=1", "\u200b=1", "＝1", "\ufeff=1"} {
		require.True(t, strings.HasPrefix(harmlessCell(s), "'"), "%q", s)
	}
	for _, s := range []string{"V-1", "P=1", "", "12", "'x", "\"=\""} {
		require.Equal(t, s, harmlessCell(s))
	}
	rapid.Check(t, func(t *rapid.T) {
		a := answer()
		a.Chains = complaintAnswer().Chains
		pool := rapid.SliceOfN(rapid.OneOf(rapid.String(), rapid.StringMatching(`[ \t\n=+@-]{0,3}[=+@A-C,";'\-]{0,5}`)), 7, 7).Draw(t, "texts")
		i := 0
		replaceTexts(reflect.ValueOf(a).Elem(), func(string) string { i++; return pool[i%len(pool)] })
		r := csv.NewReader(bytes.NewReader(bytes.TrimPrefix(LookbackCSV(a), []byte(byteOrderMark))))
		rows, err := r.ReadAll()
		require.NoError(t, err)
		l := a.Lookbacks[0]
		require.Len(t, rows, 1+len(l.Pull)+len(l.Loads)+len(l.Affected)+1+len(a.Chains[0].Links)+len(a.Chains[0].Copies))
		for _, row := range rows {
			require.Len(t, row, len(sheetColumns))
			for _, c := range row {
				require.False(t, strings.ContainsAny(c[:min(1, len(c))], "=+-@\t\r\n"), "%q", c)
			}
		}
	})
}

func TestLookbackFitsTheTerminal(t *testing.T) {
	long := answer()
	replaceTexts(reflect.ValueOf(long).Elem(), func(s string) string { return s + strings.Repeat("足の手入れ", 9) + strings.Repeat("x", 90) })
	for _, a := range []*result.Answer{answer(), complaintAnswer(), long, {}} {
		for _, width := range []int{0, 40, 80, 120} {
			want := width
			if want == 0 {
				want = 80
			}
			for l := range strings.Lines(toldIn(a, width)) {
				require.LessOrEqual(t, terminal.StringWidth(strings.TrimSuffix(l, "\n")), want, l)
			}
		}
	}
}

// A page of any texts holds only what a page may, and no name of a person.
func TestLookbackPagesHoldNothingThatIsNotAllowed(t *testing.T) {
	bad := answer()
	bad.Chains, bad.Others = complaintAnswer().Chains, complaintAnswer().Others
	replaceTexts(reflect.ValueOf(bad).Elem(), func(string) string { return nasty })
	for name, a := range map[string]*result.Answer{"answer": answer(), "complaint": complaintAnswer(), "hostile": bad, "empty": {}} {
		page, err := LookbackHTML(a)
		require.NoError(t, err, name)
		checkPage(t, page)
		require.NotContains(t, string(page), "\u202e", name)
		require.NotContains(t, toldIn(a, 80), "\u202e", name)
	}
	a := answer()
	a.Lookbacks[0].Affected[0].Client, a.Lookbacks[0].Affected[0].Person = "Ada Vale", "VALE, Ada"
	a.Chains = complaintAnswer().Chains
	a.Chains[0].Client = "Ada Vale"
	page, err := LookbackHTML(a)
	require.NoError(t, err)
	for _, text := range []string{string(page), string(LookbackMarkdown(a)), string(LookbackCSV(a)), toldIn(a, 80)} {
		require.NotRegexp(t, "(?i)vale", text)
		require.Contains(t, text, "a name, kept out")
	}
}

func TestAnyTextGivesAnAllowedLookback(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := answer()
		a.Chains, a.Others = complaintAnswer().Chains, complaintAnswer().Others
		pool := rapid.SliceOfN(hostile(), 5, 5).Draw(t, "texts")
		i := 0
		replaceTexts(reflect.ValueOf(a).Elem(), func(s string) string {
			i++
			if i%2 == 0 {
				return pool[i%len(pool)]
			}
			return s
		})
		page, err := LookbackHTML(a)
		require.NoError(t, err)
		checkPage(t, page)
	})
}

// What a look-back can never say of the user's things, or of a person.
var neverOfPeople = regexp.MustCompile(`(?i)\b(exposed|infected|contaminated|unsafe)\b`)

func TestLookbackNeverPromisesAndNeverAccuses(t *testing.T) {
	for _, a := range []*result.Answer{answer(), complaintAnswer(), {}} {
		for _, text := range []string{string(LookbackMarkdown(a)), toldIn(a, 80), string(LookbackCSV(a))} {
			require.Empty(t, never.FindAllString(text, -1))
			require.Empty(t, neverOfPeople.FindAllString(text, -1))
		}
	}
	for _, text := range []string{string(Markdown(full())), summarised(t, full(), SummaryOptions{})} {
		require.Empty(t, neverOfPeople.FindAllString(text, -1))
	}
}

func TestSameAnswerSameBytes(t *testing.T) {
	first, err := LookbackHTML(answer())
	require.NoError(t, err)
	for range 5 {
		again, err := LookbackHTML(answer())
		require.NoError(t, err)
		require.Equal(t, string(first), string(again))
		require.Equal(t, LookbackCSV(answer()), LookbackCSV(answer()))
	}
}

// Outside measure: a real browser. The first thing to do stands on the first screen of
// a phone, the page is as wide as its screen, and on A4 nothing runs over the edge.
func TestLookbackInABrowser(t *testing.T) {
	dir := t.TempDir()
	if look := os.Getenv("FOOTING_LOOK"); look != "" {
		dir = look
	}
	b := startBrowser(t)
	for name, a := range map[string]*result.Answer{"lookback": answer(), "complaint": complaintAnswer()} {
		page, err := LookbackHTML(a)
		require.NoError(t, err)
		file := filepath.Join(dir, name+".html")
		require.NoError(t, os.WriteFile(file, page, 0o644))
		for _, size := range [][2]int{{375, 667}, {1280, 800}} {
			b.Open("file://"+file, size[0], size[1])
			quiet(t, b, "file://"+file)
			require.LessOrEqual(t, b.Value("document.documentElement.scrollWidth"), float64(size[0]), name)
			require.Less(t, b.Value(`document.querySelector("#now li").getBoundingClientRect().bottom`), float64(size[1]), "%s: the first thing to do on the first screen of %d", name, size[0])
			require.GreaterOrEqual(t, b.Value(`parseFloat(getComputedStyle(document.querySelector("#now li")).fontSize)`), 18.0, "it stands out")
			photograph(t, b, filepath.Join(dir, fmt.Sprintf("%s-%d.png", name, size[0])), size[0])
		}
		b.Call("Emulation.setEmulatedMedia", map[string]any{"media": "print"})
		b.Call("Emulation.setDeviceMetricsOverride", map[string]any{"width": 680, "height": 995, "deviceScaleFactor": 1, "mobile": false}) // A4 less the margins of the style
		require.LessOrEqual(t, b.Value("document.documentElement.scrollWidth"), 680.0, name)
		require.LessOrEqual(t, b.Value(`Math.max(...[...document.querySelectorAll("td, th, li, p")].map(e => e.getBoundingClientRect().right))`), 681.0, name)
		photograph(t, b, filepath.Join(dir, name+"-a4.png"), 680)
		b.Call("Emulation.setEmulatedMedia", map[string]any{"media": "screen"})
	}
}

// photograph keeps a picture of the whole page to look at, where one is asked for.
func photograph(t *testing.T, b *browser.Browser, file string, width int) {
	t.Helper()
	if os.Getenv("FOOTING_LOOK") == "" {
		return
	}
	for name, height := range map[string]any{"": b.Value("document.documentElement.scrollHeight"), ".first.png": 700} {
		shot := b.Bytes("Page.captureScreenshot", map[string]any{"captureBeyondViewport": true, "clip": map[string]any{
			"x": 0, "y": 0, "width": width, "height": height, "scale": 1}})
		require.NoError(t, os.WriteFile(file+name, shot, 0o644))
	}
}

// Two windows with the same figures stand in one column, each with its rule.
func TestWindowsThatAreTheSameShareAColumn(t *testing.T) {
	l := &answer().Lookbacks[0]
	columns, _ := windowRows(l)
	require.Len(t, columns, 3)
	l.Windows[1] = l.Windows[0]
	l.Windows[1].Name, l.Windows[1].Why = result.Narrow, "the lenient rule"
	columns, rows := windowRows(l)
	require.Equal(t, []string{"Figure", "Wide and narrow window"}, columns)
	require.Equal(t, []string{"How the narrow one was drawn", "The lenient rule"}, rows[1])
	require.Equal(t, []string{"Days", "37"}, rows[4])
	l.Windows[1].Loads--
	columns, _ = windowRows(l)
	require.Len(t, columns, 3, "one load less")
	l.Windows = l.Windows[:1]
	columns, _ = windowRows(l)
	require.Equal(t, []string{"Figure", "Wide window"}, columns)
}

// Packs that loads do not count are no nought, and a row without an id is known by its place.
func TestWhatIsNotCounted(t *testing.T) {
	require.Equal(t, "0", countedPacks(&result.Window{}))
	require.Equal(t, "4", countedPacks(&result.Window{Unnumbered: 4}))
	require.Equal(t, "not written for 1 load", countedPacks(&result.Window{Uncounted: 1}))
	require.Equal(t, "4; not written for 2 loads", countedPacks(&result.Window{Unnumbered: 4, Uncounted: 2}))
	require.Equal(t, "Sterilizer in sterilizers.csv row 1", named("sterilizers", "sterilizers.csv row 1"))
	require.Equal(t, "Sterilizer S1 row 1", named("sterilizers", "S1 row 1"))
	require.Equal(t, "Sterilizer S1", named("sterilizers", "S1"))
}

// A link that rests on a later copy says so in its row, and no other does.
func TestLinksOfLaterCopiesSaySo(t *testing.T) {
	c := complaintAnswer().Chains[0]
	c.Copies = []result.Evidence{{Kind: "visits", ID: "V-3", Field: "x", File: "visits.xlsx", Sheet: "visits", Cell: "A7", Row: 6}}
	var marked []string
	for _, r := range chainRows(&c) {
		if strings.HasSuffix(r[3], "(a later copy)") {
			marked = append(marked, r[0])
		}
	}
	require.Equal(t, []string{"Pack"}, marked)
}
