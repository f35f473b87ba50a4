package report

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

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
			b.open("file://"+file, width, 800)
			require.LessOrEqual(t, b.value("document.documentElement.scrollWidth"), float64(width), "%s is wider than %d", name, width)
			quiet(t, b, "file://"+file)
			if look != "" && (width == 375 || width == 1280) {
				picture := b.bytes("Page.captureScreenshot", map[string]any{"captureBeyondViewport": true, "clip": map[string]any{
					"x": 0, "y": 0, "width": width, "height": b.value("document.documentElement.scrollHeight"), "scale": 1}})
				require.NoError(t, os.WriteFile(filepath.Join(dir, name+"-"+itoa(width)+".png"), picture, 0o644))
			}
		}
		pdf := b.bytes("Page.printToPDF", map[string]any{"preferCSSPageSize": true, "printBackground": true})
		require.True(t, bytes.HasPrefix(pdf, []byte("%PDF-")), name)
		require.NoError(t, os.WriteFile(filepath.Join(dir, name+".pdf"), pdf, 0o644))
	}
}

// quiet fails on anything said on the console and on any request but the page's own.
func quiet(t *testing.T, b *browser, url string) {
	t.Helper()
	b.value("document.title") // a round trip, so that what is under way has been told
	for _, e := range b.events {
		switch e.Method {
		case "Log.entryAdded", "Runtime.consoleAPICalled", "Runtime.exceptionThrown":
			t.Errorf("the browser said: %v", e.Params)
		case "Network.requestWillBeSent":
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
	b.open("file://"+file, 1280, 800)
	seen := `document.querySelector("#f-cccccccccccc").checkVisibility()`
	require.Equal(t, true, b.value(`document.querySelector("#f-aaaaaaaaaaaa").closest("details").open`), "critical")
	require.Equal(t, true, b.value(`document.querySelector("#f-bbbbbbbbbbbb").closest("details").open`), "major")
	require.Equal(t, false, b.value(`document.querySelector("#f-cccccccccccc").closest("details").open`), "minor")
	require.Equal(t, false, b.value(seen), "a folded finding shows")
	b.call("Emulation.setEmulatedMedia", map[string]any{"media": "print"})
	require.Equal(t, true, b.value(seen), "folded in print")
	require.Equal(t, "table-header-group", b.value(`getComputedStyle(document.querySelector("#f-aaaaaaaaaaaa thead")).display`))
	b.call("Emulation.setEmulatedMedia", map[string]any{"media": "screen"})
	b.value(`document.querySelector('a[href="#f-cccccccccccc"]').click()`)
	require.Equal(t, true, b.value(`document.querySelector("#f-cccccccccccc").closest("details").open`), "a link must open it")
}
