package report

import (
	"bufio"
	"encoding/base64"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// browser speaks to a Chromium over a pair of pipes (the DevTools protocol, one
// JSON object at a time, each ended by a zero byte), so that the page under test
// needs no script and the test no network.
type browser struct {
	t       *testing.T
	to      *os.File
	from    *bufio.Reader
	id      int
	session string
	events  []event
}

type event struct {
	Method string
	Params map[string]any
}

type reply struct {
	ID     int
	Result map[string]any
	Error  *struct{ Message string }
	event
	SessionID string
}

// startBrowser starts a headless Chromium, or skips: with CI=true it fails instead.
func startBrowser(t *testing.T) *browser {
	var path string
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome", "chrome"} {
		if p, err := exec.LookPath(name); err == nil {
			path = p
			break
		}
	}
	if path == "" {
		if os.Getenv("CI") == "true" {
			t.Fatal("no Chromium on this machine, and CI must not leave this out")
		}
		t.Skip("no Chromium on this machine: the look of the page was not checked")
	}
	theirIn, ourOut, err := os.Pipe()
	require.NoError(t, err)
	ourIn, theirOut, err := os.Pipe()
	require.NoError(t, err)
	cmd := exec.Command(path, "--headless", "--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-background-networking",
		"--disable-dev-shm-usage", "--hide-scrollbars", "--remote-debugging-pipe", "--user-data-dir="+t.TempDir(), "about:blank")
	cmd.ExtraFiles = []*os.File{theirIn, theirOut}
	require.NoError(t, cmd.Start())
	_ = theirIn.Close()
	_ = theirOut.Close()
	b := &browser{t: t, to: ourOut, from: bufio.NewReader(ourIn)}
	overdue := time.AfterFunc(2*time.Minute, func() { _ = ourIn.Close() })
	t.Cleanup(func() {
		overdue.Stop()
		b.session = ""
		b.call("Browser.close", nil)
		_ = ourOut.Close()
		_ = cmd.Wait()
		_ = ourIn.Close()
	})
	target := b.call("Target.createTarget", map[string]any{"url": "about:blank"})
	attached := b.call("Target.attachToTarget", map[string]any{"targetId": target["targetId"], "flatten": true})
	b.session = attached["sessionId"].(string)
	for _, domain := range []string{"Page", "Runtime", "Log", "Network"} {
		b.call(domain+".enable", nil)
	}
	return b
}

// call sends one command and keeps the events that come before its answer.
func (b *browser) call(method string, params map[string]any) map[string]any {
	b.t.Helper()
	b.id++
	message := map[string]any{"id": b.id, "method": method, "params": params}
	if params == nil {
		message["params"] = map[string]any{}
	}
	if b.session != "" {
		message["sessionId"] = b.session
	}
	text, err := json.Marshal(message)
	require.NoError(b.t, err)
	_, err = b.to.Write(append(text, 0))
	require.NoError(b.t, err)
	for {
		r := b.read()
		if r.ID == b.id {
			require.Nil(b.t, r.Error, "%s: %v", method, r.Error)
			return r.Result
		}
	}
}

func (b *browser) read() reply {
	b.t.Helper()
	raw, err := b.from.ReadBytes(0)
	require.NoError(b.t, err, "the browser stopped answering")
	var r reply
	require.NoError(b.t, json.Unmarshal(raw[:len(raw)-1], &r))
	if r.Method != "" {
		b.events = append(b.events, r.event)
	}
	return r
}

// open shows a page at a width in CSS pixels and waits until it has loaded.
func (b *browser) open(url string, width, height int) {
	b.t.Helper()
	b.events = nil
	b.call("Emulation.setDeviceMetricsOverride", map[string]any{"width": width, "height": height, "deviceScaleFactor": 1, "mobile": width < 500})
	b.call("Page.navigate", map[string]any{"url": url})
	for i := 0; ; i++ {
		for ; i < len(b.events); i++ {
			if b.events[i].Method == "Page.loadEventFired" {
				return
			}
		}
		b.read()
		i--
	}
}

// value works out an expression in the page.
func (b *browser) value(expression string) any {
	b.t.Helper()
	r := b.call("Runtime.evaluate", map[string]any{"expression": expression, "returnByValue": true})
	require.Nil(b.t, r["exceptionDetails"], "%s", fmt.Sprint(r))
	return r["result"].(map[string]any)["value"]
}

// bytes returns what a command gives as base64: a picture or a PDF.
func (b *browser) bytes(method string, params map[string]any) []byte {
	b.t.Helper()
	out, err := base64.StdEncoding.DecodeString(b.call(method, params)["data"].(string))
	require.NoError(b.t, err)
	return out
}
