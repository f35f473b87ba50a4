package report

import (
	"bytes"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"footing/internal/dev/browser"
	"footing/internal/result"

	"github.com/stretchr/testify/require"
)

// Outside measure: a real browser. The page must load without a word on its
// console and without asking for anything but itself, fit the width of a phone
// without sideways scrolling, open a folded finding that a link leads to, and
// print with every finding open and the head of a table on each page it fills.
func TestPageInABrowser(t *testing.T) {
	dir := t.TempDir()
	look := os.Getenv("FOOTING_LOOK") // a folder to keep the pages in, with pictures to look at
	if look != "" {
		dir = look
	}
	b := startBrowser(t)
	wide := hostileResult()
	wide.Practice.Name = strings.Repeat("Longname", 40)
	for name, r := range map[string]*result.Result{"full": full(), "thin": thin(), "hostile": wide} {
		page, err := HTML(r)
		require.NoError(t, err)
		file := filepath.Join(dir, name+".html")
		require.NoError(t, os.WriteFile(file, page, 0o644))
		for _, width := range []int{375, 360, 800, 1280} {
			b.Open("file://"+file, width, 800)
			require.LessOrEqual(t, b.Value("document.documentElement.scrollWidth"), float64(width), "%s is wider than %d", name, width)
			quiet(t, b, "file://"+file)
			if look != "" && (width == 375 || width == 1280) {
				picture := b.Bytes("Page.captureScreenshot", map[string]any{"captureBeyondViewport": true, "clip": map[string]any{
					"x": 0, "y": 0, "width": width, "height": b.Value("document.documentElement.scrollHeight"), "scale": 1}})
				require.NoError(t, os.WriteFile(filepath.Join(dir, name+"-"+itoa(width)+".png"), picture, 0o644))
			}
		}
		pdf := b.Bytes("Page.printToPDF", map[string]any{"preferCSSPageSize": true, "printBackground": true})
		require.True(t, bytes.HasPrefix(pdf, []byte("%PDF-")), name)
		require.NoError(t, os.WriteFile(filepath.Join(dir, name+".pdf"), pdf, 0o644))
	}
}

// quiet fails on anything said on the console and on any request but the page's own.
func quiet(t *testing.T, b *browser.Browser, url string) {
	t.Helper()
	for _, words := range b.Said() {
		t.Errorf("the browser said: %s", words)
	}
	for _, e := range b.Events {
		if e.Method == "Network.requestWillBeSent" {
			asked := e.Params["request"].(map[string]any)["url"].(string)
			if asked != url && !strings.HasPrefix(asked, "data:") {
				t.Errorf("the page asked for %s", asked)
			}
		}
	}
}

// In print everything stands open; on the screen a link opens what it leads to.
func TestFoldsInABrowser(t *testing.T) {
	b := startBrowser(t)
	page, err := HTML(full())
	require.NoError(t, err)
	file := filepath.Join(t.TempDir(), "full.html")
	require.NoError(t, os.WriteFile(file, page, 0o644))
	b.Open("file://"+file, 1280, 800)
	seen := `document.querySelector("#f-cccccccccccc").checkVisibility()`
	require.Equal(t, true, b.Value(`document.querySelector("#f-aaaaaaaaaaaa").closest("details").open`), "critical")
	require.Equal(t, true, b.Value(`document.querySelector("#f-bbbbbbbbbbbb").closest("details").open`), "major")
	require.Equal(t, false, b.Value(`document.querySelector("#f-cccccccccccc").closest("details").open`), "minor")
	require.Equal(t, false, b.Value(seen), "a folded finding shows")
	b.Call("Emulation.setEmulatedMedia", map[string]any{"media": "print"})
	require.Equal(t, true, b.Value(seen), "folded in print")
	require.Equal(t, "table-header-group", b.Value(`getComputedStyle(document.querySelector("#f-aaaaaaaaaaaa thead")).display`))
	b.Call("Emulation.setEmulatedMedia", map[string]any{"media": "screen"})
	b.Value(`document.querySelector('a[href="#f-cccccccccccc"]').click()`)
	require.Equal(t, true, b.Value(`document.querySelector("#f-cccccccccccc").closest("details").open`), "a link must open it")
	word := `document.querySelector("#w-gravity").closest("details").open`
	require.Equal(t, false, b.Value(word), "the words are folded")
	b.Value(`document.querySelector('a[href="#w-gravity"]').click()`)
	require.Equal(t, true, b.Value(word), "a link to a word must open them")
	require.Equal(t, true, b.Value(`(() => { const at = document.querySelector("#w-gravity").getBoundingClientRect(); return at.top >= 0 && at.top < 800 })()`), "and lead to its line")
}

// Charts as a browser sets them: no word of one lies on another, or runs out of its
// chart, and on A4 none is smaller than eleven pixels. On a phone a chart slides in
// its frame at a size that can be read.
func TestChartsInABrowser(t *testing.T) {
	b := startBrowser(t)
	r := full()
	r.Exhibits = append(r.Exhibits, crowded()...)
	fullest := r.Exhibits[slices.IndexFunc(r.Exhibits, func(x result.Exhibit) bool { return x.Chart != nil })].Chart
	for _, f := range r.Findings[:4] {
		fullest.Findings = append(fullest.Findings, f.Fingerprint)
	}
	page, err := HTML(r)
	require.NoError(t, err)
	file := filepath.Join(t.TempDir(), "charts.html")
	require.NoError(t, os.WriteFile(file, page, 0o644))
	b.Open("file://"+file, 1280, 800)
	require.Equal(t, float64(1+1+3+len(crowded())), b.Value(`document.querySelectorAll("svg.chart").length`))
	require.Equal(t, "", b.Value(touching), "words that touch")
	require.GreaterOrEqual(t, b.Value(smallest), 11.0)
	b.Open("file://"+file, 375, 800)
	require.GreaterOrEqual(t, b.Value(smallest), 11.0)
	require.Equal(t, "auto", b.Value(`getComputedStyle(document.querySelector(".chart-frame")).overflowX`))
	require.Equal(t, "none", b.Value(`getComputedStyle(document.querySelector(".drawn td"), "::before").content`), "what a figure is needs no heading before it")
	b.Value(`document.querySelector(".chart-frame").focus()`)
	require.Equal(t, true, b.Value(`document.activeElement === document.querySelector(".chart-frame")`), "it slides by the keys too")
	require.LessOrEqual(t, b.Value(`document.querySelector(".chart-frame").getBoundingClientRect().right`), 375.0)
	b.Call("Emulation.setEmulatedMedia", map[string]any{"media": "print"})
	b.Call("Emulation.setDeviceMetricsOverride", map[string]any{"width": 680, "height": 995, "deviceScaleFactor": 1, "mobile": false}) // A4 less the margins of the style
	require.GreaterOrEqual(t, b.Value(smallest), 11.0)
	require.Equal(t, "avoid", b.Value(`getComputedStyle(document.querySelector(".drawn")).breakInside`))
	require.Less(t, b.Value(`Math.max(...[...document.querySelectorAll(".drawn")].slice(0, 3).map(e => e.getBoundingClientRect().height))`), 995.0, "a chart with its table fits a sheet")
}

// crowded are charts with as many words as there can be, close together.
func crowded() (out []result.Exhibit) {
	for i, x := range drawnSample(4) {
		c := x.Chart
		x.ID, c.Findings = "", nil
		switch i {
		case 0: // all lines end at one height
			for _, s := range []result.Series{c.Temperature, c.Warmest, c.Saturation} {
				s[len(s)-1] = *c.Set
			}
		case 1: // a short hold at the very end, and wide numbers
			c.Hold = &result.Hold{Stretch: result.Stretch{From: c.Time[len(c.Time)-2], Until: c.Time[len(c.Time)-1]}}
			c.Pressure[3], c.Pressure[4] = 1_999, -199
			c.Temperature[4], c.Temperature[5] = -99, 599
		case 2: // thirty hours
			for j := range c.Time {
				c.Time[j] *= 70
			}
			c.Hold = &result.Hold{Stretch: result.Stretch{From: c.Hold.From * 70, Until: c.Hold.Until * 70}}
		}
		out = append(out, x)
	}
	return out
}

const (
	// smallest is the least size of letters in any chart, in CSS pixels.
	smallest = `Math.min(...[...document.querySelectorAll("svg.chart text")].map(e => parseFloat(getComputedStyle(e).fontSize) * e.getScreenCTM().a || Infinity))`
	// touching names the first words of a chart that lie on others or out of it.
	touching = `(() => {
		for (const svg of document.querySelectorAll("svg.chart")) {
			const all = svg.getBoundingClientRect();
			const boxes = [...svg.querySelectorAll("text")].map(e => { const b = e.getBoundingClientRect();
				// A line of text is higher than its letters are.
				const turned = e.hasAttribute("transform"), x = turned ? 2.5 : 0, y = turned ? 0 : 2.5;
				return {said: e.textContent, l: b.left + x, r: b.right - x, t: b.top + y, b: b.bottom - y}; });
			for (const [i, a] of boxes.entries()) {
				if (a.l < all.left || a.r > all.right || a.t < all.top || a.b > all.bottom) return svg.querySelector("title").textContent + ": out: " + a.said;
				for (const c of boxes.slice(i + 1))
					if (a.l < c.r && c.l < a.r && a.t < c.b && c.t < a.b) return svg.querySelector("title").textContent + ": " + a.said + " / " + c.said;
			}
		}
		return "";
	})()`
)
