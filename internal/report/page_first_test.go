package report

import (
	"bytes"
	"context"
	"footing/internal/dev/browser"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"footing/checks"
	"footing/internal/audit"
	"footing/internal/practice"
	"footing/internal/quantity"
	records "footing/internal/record"
	"footing/internal/result"

	"github.com/stretchr/testify/require"
)

// audited is the result of a folder of records, as an audit makes it.
func audited(t *testing.T, folder string) *result.Result {
	t.Helper()
	p, err := practice.Read(context.Background(), folder, quantity.NewDay(2026, time.November, 25), records.Options{})
	require.NoError(t, err)
	criteria, err := checks.Criteria()
	require.NoError(t, err)
	r, err := audit.Run(context.Background(), p, checks.All(), criteria, audit.Options{Tool: "footing 0.1", Seed: 1})
	require.NoError(t, err)
	return r
}

// realOnes are the demo practice and the thin one, whose pages people read.
func realOnes(t *testing.T) map[string]*result.Result {
	return map[string]*result.Result{"demo": audited(t, "../demo/practice"), "thin practice": audited(t, "../../testdata/practices/thin")}
}

func onDiskAs(t *testing.T, page []byte) string {
	t.Helper()
	file := filepath.Join(t.TempDir(), "page.html")
	require.NoError(t, os.WriteFile(file, page, 0o644))
	return "file://" + file
}

// Issue 6: the first screen holds the conclusion, the headline figures and the first
// three actions; on a phone the conclusion and the first action, with what was not seen.
func TestFirstScreen(t *testing.T) {
	b := startBrowser(t)
	bottom := func(selector string) float64 {
		return b.Value(`(e => { const box = e.getBoundingClientRect(); return box.height ? box.bottom : 1e9 })(document.querySelector("` + selector + `"))`).(float64)
	}
	for name, r := range realOnes(t) {
		page, err := HTML(r)
		require.NoError(t, err)
		url := onDiskAs(t, page)
		b.Open(url, 1280, 800)
		require.Contains(t, b.Value(`document.querySelector("#short").innerText`), r.Conclusion.Sentence)
		require.Contains(t, b.Value(`document.querySelector("#short").innerText`), "Found:")
		require.Contains(t, b.Value(`document.querySelector("#short").innerText`), "could not look")
		require.LessOrEqual(t, bottom("#short"), 800.0, name)
		require.LessOrEqual(t, bottom("#first > ol > li:nth-child(3)"), 800.0, name+": the first three actions")
		require.LessOrEqual(t, bottom("nav a[href='#kept']"), 800.0, name+": where to look for what may be asked for")
		quiet(t, b, url)
		b.Open(url, 375, 800)
		require.LessOrEqual(t, bottom("#short"), 800.0, name)
		require.LessOrEqual(t, bottom("#first > ol > li:nth-child(1) > strong"), 800.0, name+": the first action on a phone")
		require.LessOrEqual(t, b.Value("document.documentElement.scrollWidth"), 375.0)
	}
}

// The cautions that wait for no report show without opening anything.
func TestCautionsStandOpen(t *testing.T) {
	b := startBrowser(t)
	page, err := HTML(full())
	require.NoError(t, err)
	b.Open(onDiskAs(t, page), 375, 800)
	require.Equal(t, true, b.Value(`document.querySelector("#waits").checkVisibility() && !document.querySelector("#waits").closest("details")`))
	require.Contains(t, b.Value(`document.querySelector("#waits").innerText`), "an emergency call")
}

// key presses one key as a keyboard does.
func key(b *browser.Browser, name string, code int, text string) {
	down := map[string]any{"type": "keyDown", "key": name, "code": name, "windowsVirtualKeyCode": code}
	if text != "" {
		down["text"] = text
	}
	b.Call("Input.dispatchKeyEvent", down)
	b.Call("Input.dispatchKeyEvent", map[string]any{"type": "keyUp", "key": name, "code": name, "windowsVirtualKeyCode": code})
}

// Folding and links work by keyboard alone: the skip link comes first, the contents
// open with Enter, a link in them leads to its section, a finding folds with Space.
func TestKeyboard(t *testing.T) {
	b := startBrowser(t)
	page, err := HTML(full())
	require.NoError(t, err)
	b.Open(onDiskAs(t, page), 375, 800)
	at := func() string { return b.Value(`document.activeElement.outerHTML.slice(0, 80)`).(string) }
	key(b, "Tab", 9, "")
	require.Contains(t, at(), `href="#report"`)
	require.Equal(t, true, b.Value(`document.activeElement.getBoundingClientRect().left >= 0`), "the skip link shows")
	key(b, "Tab", 9, "")
	require.Contains(t, at(), "<summary>On this page")
	require.Equal(t, false, b.Value(`document.querySelector("nav details").open`))
	key(b, "Enter", 13, "\r")
	require.Equal(t, true, b.Value(`document.querySelector("nav details").open`))
	for i := 0; !strings.Contains(at(), `#due"`); i++ {
		require.Less(t, i, 60, "no way to the section")
		key(b, "Tab", 9, "")
	}
	require.NotEqual(t, "none", b.Value(`getComputedStyle(document.activeElement).outlineStyle`), "where the keyboard is shows")
	key(b, "Enter", 13, "\r")
	require.Equal(t, "#due", b.Value(`location.hash`))
	require.Equal(t, true, b.Value(`(e => e.top >= 0 && e.top < 800)(document.querySelector("#due").getBoundingClientRect())`), "and lead to it")

	b.Value(`document.querySelector("#f-aaaaaaaaaaaa").closest("details").querySelector("summary").focus()`)
	key(b, " ", 32, " ")
	require.Equal(t, false, b.Value(`document.querySelector("#f-aaaaaaaaaaaa").closest("details").open`), "Space folds a finding")
	key(b, "Enter", 13, "\r")
	require.Equal(t, true, b.Value(`document.querySelector("#f-aaaaaaaaaaaa").closest("details").open`), "Enter opens it")
	b.Value(`document.querySelector('#f-aaaaaaaaaaaa a[href^="#source-"]').focus()`)
	key(b, "Enter", 13, "\r")
	require.Equal(t, true, b.Value(`document.querySelector("#source-1").closest("details").open`), "a link to a source opens the sources")
}

// sheets are the sizes of paper, in inches, with what the margins of the style leave of
// their height, in CSS pixels.
var sheets = map[string]struct{ wide, high, room float64 }{
	"A4":     {8.27, 11.69, 297/25.4*96 - 34/25.4*96},
	"Letter": {8.5, 11, 11*96 - 34/25.4*96},
}

// Print on either paper: the size that was asked for, a number on each page, no chart
// and no finding that fits a page cut in two.
func TestPrintedPages(t *testing.T) {
	b := startBrowser(t)
	if _, err := exec.LookPath("pdftotext"); err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("no pdftotext on this machine, and CI must not leave this out")
		}
		t.Skip("no pdftotext on this machine: the printed pages were not read")
	}
	for name, r := range map[string]*result.Result{"full": full(), "demo": audited(t, "../demo/practice")} {
		page, err := HTML(r)
		require.NoError(t, err)
		b.Open(onDiskAs(t, page), 1280, 800)
		for paper, s := range sheets {
			b.Call("Emulation.setEmulatedMedia", map[string]any{"media": "print"})
			b.Call("Emulation.setDeviceMetricsOverride", map[string]any{"width": int(s.wide*96 - 30/25.4*96), "height": int(s.room), "deviceScaleFactor": 1, "mobile": false})
			require.Equal(t, 0.0, b.Value(`[...document.querySelectorAll(".finding, figure.held:has(svg), .drawn")].filter(e => getComputedStyle(e).breakInside != "avoid").length`))
			require.Less(t, b.Value(`Math.max(...[...document.querySelectorAll("svg.chart")].map(e => e.getBoundingClientRect().height))`), s.room, "%s: every chart fits a sheet of %s", name, paper)
			high := b.Value(`Object.fromEntries([...document.querySelectorAll(".finding")].map(e => [e.querySelector(".body").id.slice(2), e.getBoundingClientRect().height]))`).(map[string]any)
			b.Call("Emulation.setEmulatedMedia", map[string]any{"media": ""})
			pdf := b.Bytes("Page.printToPDF", map[string]any{"paperWidth": s.wide, "paperHeight": s.high, "preferCSSPageSize": true, "printBackground": false})
			pages := textOf(t, pdf)
			require.InDelta(t, s.high*72, mediaHigh(t, pdf), 1.5)
			for i, text := range pages {
				require.Contains(t, text, itoa(i+1)+" / "+itoa(len(pages)), "%s on %s: the number of page %d", name, paper, i+1)
			}
			fits := whole(t, pages, name+" on "+paper, r, high, 0.9*s.room)
			require.Greater(t, fits, len(r.Findings)/2, "most findings fit a page")
		}
	}
}

// whole fails where a finding that fits a page begins on one and ends on another, and
// counts those that fit.
func whole(t *testing.T, pages []string, name string, r *result.Result, high map[string]any, room float64) (fits int) {
	t.Helper()
	ix := newIndex(r)
	for i := range r.Findings {
		if high[ix.key[i]].(float64) > room {
			continue
		}
		fits++
		head := regexp.MustCompile(regexp.QuoteMeta(upper(r.Findings[i].Grade)+" "+strconv.Itoa(ix.number[i])) + `\s`)
		first := slices.IndexFunc(pages, head.MatchString)
		last := slices.IndexFunc(pages, regexp.MustCompile(`Fingerprint:\s+`+ix.key[i]).MatchString)
		require.GreaterOrEqual(t, first, 0, name)
		require.Equal(t, first, last, "%s: finding %d is split", name, ix.number[i])
	}
	return fits
}

// textOf is the text of each page of a PDF.
func textOf(t *testing.T, pdf []byte) []string {
	t.Helper()
	cmd := exec.Command("pdftotext", "-layout", "-", "-")
	cmd.Stdin = bytes.NewReader(pdf)
	out, err := cmd.Output()
	require.NoError(t, err)
	pages := strings.Split(strings.TrimSuffix(string(out), "\f"), "\f")
	require.Greater(t, len(pages), 3)
	return pages
}

var mediaBox = regexp.MustCompile(`/MediaBox\s*\[\s*0 0 [0-9.]+ ([0-9.]+)\s*\]`)

// mediaHigh is how high the first page of a PDF is, in points.
func mediaHigh(t *testing.T, pdf []byte) float64 {
	t.Helper()
	m := mediaBox.FindSubmatch(pdf)
	require.NotNil(t, m)
	v, err := strconv.ParseFloat(string(m[1]), 64)
	require.NoError(t, err)
	return v
}
