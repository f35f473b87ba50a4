package cli

import (
	"os"
	"path/filepath"
	"testing"

	"footing/internal/dev/browser"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// Outside measure: a real browser. After a save the page loads itself again by its own
// script, says nothing on the console, and stays where the reader was, with the same parts
// open; its bar fits a phone; it says that the watching has ended.
func TestWatchPageInABrowser(t *testing.T) {
	d := browser.Start(t, "that the page loads itself again")
	base := t.TempDir()
	dir := filepath.Join(base, "demo")
	require.Equal(t, Done, call(t.Context(), "demo", dir).status)
	w := watchOver(t, dayNow, dir)
	url, _ := w.address()
	const reading = `document.querySelector("script[data-reading]")?.dataset.reading + document.readyState`
	picture := func(name string) { // to look at
		if look := os.Getenv("FOOTING_LOOK"); look != "" {
			require.NoError(t, os.WriteFile(filepath.Join(look, name+".png"), d.Bytes("Page.captureScreenshot", nil), 0o644))
		}
	}
	d.Open(url, 1280, 800)
	d.Becomes(reading, "1complete")
	picture("watch-first-1280")
	const minor = `[...document.querySelectorAll("details.minor")].at(-1)`
	const id = minor + `.querySelector(".body").id`
	d.Value(minor + `.open = true; document.querySelector("details.critical").open = false; ` + minor + `.scrollIntoView(); scrollBy(0, -60)`)
	name := d.Value(id).(string)
	top := `Math.round(document.getElementById("` + name + `").getBoundingClientRect().top)`
	before := d.Value(top).(float64)
	shut := d.Value(`document.querySelector("details.critical .body").id`).(string)

	rows, err := os.ReadFile(filepath.Join(dir, "loads.csv"))
	require.NoError(t, err)
	put(t, dir, map[string]string{"loads.csv": string(rows) + "L-new,2026-11-24 09:00,2026-11-24 09:30,S1,134 °C,1 min,yes,P-01,released\n"})
	d.Becomes(reading, "2complete")
	assert.Equal(t, true, d.Value(`document.getElementById("`+name+`").closest("details").open`), "what was open stays open")
	assert.Equal(t, false, d.Value(`document.getElementById("`+shut+`").closest("details").open`), "what was shut stays shut")
	assert.InDelta(t, before, d.Value(top), 3, "the reader stays where she was")
	assert.Equal(t, false, d.Value(`[...document.querySelectorAll(".watch [role=status]")].some(e => getComputedStyle(e).display === "none")`), "a screen reader hears only of places that are there before they speak")
	assert.Equal(t, 0.0, d.Value(`Math.round(document.querySelector(".watch").getBoundingClientRect().top)`), "the bar stays in sight")
	assert.Equal(t, true, d.Value(`document.querySelector(".watch summary").textContent.startsWith("Since ")`))
	d.Becomes(`document.querySelector(".watch .news").textContent === document.querySelector(".watch summary").textContent`, true) // read out by a screen reader
	picture("watch-changed-1280")
	d.Value(`document.querySelector(".watch details").open = true`)
	picture("watch-open-1280")
	for _, width := range []int{360, 375, 800, 1280, 1600} {
		d.Size(width, 800)
		assert.LessOrEqual(t, d.Value(`document.documentElement.scrollWidth`), float64(width))
		assert.LessOrEqual(t, d.Value(`document.querySelector(".watch").getBoundingClientRect().height`), 560.0, "the bar leaves room for the page")
		picture("watch-open-" + map[int]string{360: "360", 375: "375", 800: "800", 1280: "1280b", 1600: "1600"}[width])
	}
	assert.Empty(t, d.Said())
	d.Call("Emulation.setEmulatedMedia", map[string]any{"media": "print"})
	assert.Equal(t, "none", d.Value(`getComputedStyle(document.querySelector(".watch")).display`), "paper has no bar")
	w.calledOff()
	d.Becomes(`document.querySelector(".watch .link").textContent`, "The watching has ended. This page stays as it is.")
}
