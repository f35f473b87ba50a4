package cli

import (
	"bufio"
	"encoding/base64"
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// driven is a headless Chromium that is spoken to over a pair of pipes (the DevTools
// protocol: one JSON object at a time, each ended by a zero byte).
type driven struct {
	t       *testing.T
	to      *os.File
	from    *bufio.Reader
	id      int
	session string
	said    []string // on the console, and what a policy kept from running
}

// drive starts a Chromium, or skips: with CI=true it fails instead.
func drive(t *testing.T) *driven {
	path, err := exec.LookPath("chromium")
	if err != nil {
		if os.Getenv("CI") == "true" {
			t.Fatal("no Chromium on this machine, and CI must not leave this out")
		}
		t.Skip("no Chromium on this machine: that the page loads itself again was not checked")
	}
	theirIn, ourOut, err := os.Pipe()
	require.NoError(t, err)
	ourIn, theirOut, err := os.Pipe()
	require.NoError(t, err)
	cmd := exec.Command(path, "--headless", "--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking",
		"--disable-dev-shm-usage", "--hide-scrollbars", "--remote-debugging-pipe", "--user-data-dir="+t.TempDir(), "about:blank")
	cmd.ExtraFiles = []*os.File{theirIn, theirOut}
	require.NoError(t, cmd.Start())
	_, _ = theirIn.Close(), theirOut.Close()
	d := &driven{t: t, to: ourOut, from: bufio.NewReader(ourIn)}
	overdue := time.AfterFunc(2*generous, func() { _ = ourIn.Close() })
	t.Cleanup(func() {
		overdue.Stop()
		d.session = ""
		d.call("Browser.close", nil)
		_, _, _ = ourOut.Close(), cmd.Wait(), ourIn.Close()
	})
	target := d.call("Target.createTarget", map[string]any{"url": "about:blank"})
	d.session = d.call("Target.attachToTarget", map[string]any{"targetId": target["targetId"], "flatten": true})["sessionId"].(string)
	for _, domain := range []string{"Page", "Runtime", "Log"} {
		d.call(domain+".enable", nil)
	}
	return d
}

// call sends one command and waits for its answer.
func (d *driven) call(method string, params map[string]any) map[string]any {
	d.t.Helper()
	result, refused := d.try(method, params)
	require.Empty(d.t, refused, method)
	return result
}

// try is call, with what the browser refused it for.
func (d *driven) try(method string, params map[string]any) (result map[string]any, refused string) {
	d.t.Helper()
	d.id++
	message := map[string]any{"id": d.id, "method": method, "params": params}
	if params == nil {
		message["params"] = map[string]any{}
	}
	if d.session != "" {
		message["sessionId"] = d.session
	}
	text, err := json.Marshal(message)
	require.NoError(d.t, err)
	_, err = d.to.Write(append(text, 0))
	require.NoError(d.t, err)
	for {
		raw, err := d.from.ReadBytes(0)
		require.NoError(d.t, err, "the browser stopped answering")
		var r struct {
			ID     int
			Method string
			Result map[string]any
			Error  *struct{ Message string }
		}
		require.NoError(d.t, json.Unmarshal(raw[:len(raw)-1], &r))
		switch r.Method {
		case "Log.entryAdded", "Runtime.consoleAPICalled", "Runtime.exceptionThrown":
			d.said = append(d.said, string(raw))
		}
		switch {
		case r.ID != d.id:
		case r.Error != nil:
			return nil, r.Error.Message
		default:
			return r.Result, ""
		}
	}
}

// value works out an expression in the page; nil while another page is on its way.
func (d *driven) value(expression string) any {
	d.t.Helper()
	r, _ := d.try("Runtime.evaluate", map[string]any{"expression": expression, "returnByValue": true})
	found, _ := r["result"].(map[string]any)
	return found["value"]
}

// becomes waits until an expression has a value.
func (d *driven) becomes(expression string, want any) {
	d.t.Helper()
	for until := time.Now().Add(generous); d.value(expression) != want; time.Sleep(20 * time.Millisecond) {
		require.True(d.t, time.Now().Before(until), expression)
	}
}

// picture keeps what is seen in the folder FOOTING_LOOK, to look at.
func (d *driven) picture(name string) {
	if look := os.Getenv("FOOTING_LOOK"); look != "" {
		png, err := base64.StdEncoding.DecodeString(d.call("Page.captureScreenshot", nil)["data"].(string))
		require.NoError(d.t, err)
		require.NoError(d.t, os.WriteFile(filepath.Join(look, name+".png"), png, 0o644))
	}
}

// Outside measure: a real browser. After a save the page loads itself again by its own
// script, says nothing on the console, and stays where the reader was, with the same parts
// open; its bar fits a phone; it says that the watching has ended.
func TestWatchPageInABrowser(t *testing.T) {
	d := drive(t)
	base := t.TempDir()
	dir := filepath.Join(base, "demo")
	require.Equal(t, Done, call(t.Context(), "demo", dir).status)
	w := watchOver(t, dayNow, dir)
	url, _ := w.address()
	const reading = `document.querySelector("script[data-reading]")?.dataset.reading + document.readyState`
	size := func(width int) {
		d.call("Emulation.setDeviceMetricsOverride", map[string]any{"width": width, "height": 800, "deviceScaleFactor": 1, "mobile": width < 500})
	}
	size(1280)
	d.call("Page.navigate", map[string]any{"url": url})
	d.becomes(reading, "1complete")
	d.picture("watch-first-1280")
	const minor = `[...document.querySelectorAll("details.minor")].at(-1)`
	const id = minor + `.querySelector(".body").id`
	d.value(minor + `.open = true; document.querySelector("details.critical").open = false; ` + minor + `.scrollIntoView(); scrollBy(0, -60)`)
	name := d.value(id).(string)
	top := `Math.round(document.getElementById("` + name + `").getBoundingClientRect().top)`
	before := d.value(top).(float64)
	shut := d.value(`document.querySelector("details.critical .body").id`).(string)

	rows, err := os.ReadFile(filepath.Join(dir, "loads.csv"))
	require.NoError(t, err)
	put(t, dir, map[string]string{"loads.csv": string(rows) + "L-new,2026-11-24 09:00,2026-11-24 09:30,S1,134 °C,1 min,yes,P-01,released\n"})
	d.becomes(reading, "2complete")
	assert.Equal(t, true, d.value(`document.getElementById("`+name+`").closest("details").open`), "what was open stays open")
	assert.Equal(t, false, d.value(`document.getElementById("`+shut+`").closest("details").open`), "what was shut stays shut")
	assert.InDelta(t, before, d.value(top), 3, "the reader stays where she was")
	assert.Equal(t, false, d.value(`[...document.querySelectorAll(".watch [role=status]")].some(e => getComputedStyle(e).display === "none")`), "a screen reader hears only of places that are there before they speak")
	assert.Equal(t, 0.0, d.value(`Math.round(document.querySelector(".watch").getBoundingClientRect().top)`), "the bar stays in sight")
	assert.Equal(t, true, d.value(`document.querySelector(".watch summary").textContent.startsWith("Since ")`))
	d.becomes(`document.querySelector(".watch .news").textContent === document.querySelector(".watch summary").textContent`, true) // read out by a screen reader
	d.picture("watch-changed-1280")
	d.value(`document.querySelector(".watch details").open = true`)
	d.picture("watch-open-1280")
	for _, width := range []int{360, 375, 800, 1280, 1600} {
		size(width)
		assert.LessOrEqual(t, d.value(`document.documentElement.scrollWidth`), float64(width))
		assert.LessOrEqual(t, d.value(`document.querySelector(".watch").getBoundingClientRect().height`), 560.0, "the bar leaves room for the page")
		d.picture("watch-open-" + map[int]string{360: "360", 375: "375", 800: "800", 1280: "1280b", 1600: "1600"}[width])
	}
	assert.Empty(t, d.said)
	d.call("Emulation.setEmulatedMedia", map[string]any{"media": "print"})
	assert.Equal(t, "none", d.value(`getComputedStyle(document.querySelector(".watch")).display`), "paper has no bar")
	w.calledOff()
	d.becomes(`document.querySelector(".watch .link").textContent`, "The watching has ended. This page stays as it is.")
}
