// Package browser drives a headless Chromium for tests, and is imported by tests alone.
// It speaks over a pair of pipes (the DevTools protocol: one JSON object at a time, each
// ended by a zero byte), so that a page under test needs no script and a test no network.
package browser

import (
	"bufio"
	"encoding/base64"
	"encoding/json"
	"os"
	"os/exec"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// Patience is how long a test waits for what takes less than a second.
const Patience = time.Minute

// Browser is one tab of a running Chromium. It ends with the test.
type Browser struct {
	Events []Event // what it told since the page was opened, the oldest first

	t       *testing.T
	to      *os.File
	from    *bufio.Reader
	id      int
	session string
}

// Event is one thing that it told, such as "Log.entryAdded".
type Event struct {
	Method string
	Params map[string]any
}

type reply struct {
	ID     int
	Result map[string]any
	Error  *struct{ Message string }
	Event
}

// Path is the program of a Chromium; "" where there is none.
func Path() string {
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome", "chrome"} {
		if path, err := exec.LookPath(name); err == nil {
			return path
		}
	}
	return ""
}

// Start starts a Chromium, or skips the test and says what was not checked; with CI=true
// it fails instead.
func Start(t *testing.T, unchecked string) *Browser {
	t.Helper()
	path := Path()
	if path == "" {
		if os.Getenv("CI") == "true" {
			t.Fatal("no Chromium on this machine, and CI must not leave this out")
		}
		t.Skip("no Chromium on this machine, so this was not checked: " + unchecked)
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
	b := &Browser{t: t, to: ourOut, from: bufio.NewReader(ourIn)}
	overdue := time.AfterFunc(2*Patience, func() { _ = ourIn.Close() })
	t.Cleanup(func() {
		overdue.Stop()
		b.session = ""
		b.Call("Browser.close", nil)
		_, _, _ = ourOut.Close(), cmd.Wait(), ourIn.Close()
	})
	target := b.Call("Target.createTarget", map[string]any{"url": "about:blank"})
	b.session = b.Call("Target.attachToTarget", map[string]any{"targetId": target["targetId"], "flatten": true})["sessionId"].(string)
	for _, domain := range []string{"Page", "Runtime", "Log", "Network"} {
		b.Call(domain+".enable", nil)
	}
	return b
}

// Call sends one command and gives its answer; the test fails where it is refused.
func (b *Browser) Call(method string, params map[string]any) map[string]any {
	b.t.Helper()
	answer, refused := b.try(method, params)
	require.Empty(b.t, refused, method)
	return answer
}

// try is Call, with what the browser refused it for.
func (b *Browser) try(method string, params map[string]any) (answer map[string]any, refused string) {
	b.t.Helper()
	b.id++
	if params == nil {
		params = map[string]any{}
	}
	message := map[string]any{"id": b.id, "method": method, "params": params}
	if b.session != "" {
		message["sessionId"] = b.session
	}
	text, err := json.Marshal(message)
	require.NoError(b.t, err)
	_, err = b.to.Write(append(text, 0))
	require.NoError(b.t, err)
	for {
		switch r := b.read(); {
		case r.ID != b.id:
		case r.Error != nil:
			return nil, r.Error.Message
		default:
			return r.Result, ""
		}
	}
}

// read takes the next answer or event.
func (b *Browser) read() reply {
	b.t.Helper()
	raw, err := b.from.ReadBytes(0)
	require.NoError(b.t, err, "the browser stopped answering")
	var r reply
	require.NoError(b.t, json.Unmarshal(raw[:len(raw)-1], &r))
	if r.Method != "" {
		b.Events = append(b.Events, r.Event)
	}
	return r
}

// Size sets the size of the window in CSS pixels; below 500 it is that of a phone.
func (b *Browser) Size(width, height int) {
	b.t.Helper()
	b.Call("Emulation.setDeviceMetricsOverride", map[string]any{"width": width, "height": height, "deviceScaleFactor": 1, "mobile": width < 500})
}

// Open shows a page in a window of a size and waits until it has loaded.
func (b *Browser) Open(url string, width, height int) {
	b.t.Helper()
	b.Events = nil
	b.Size(width, height)
	b.Call("Page.navigate", map[string]any{"url": url})
	for i := 0; ; i++ {
		for i == len(b.Events) {
			b.read()
		}
		if b.Events[i].Method == "Page.loadEventFired" {
			return
		}
	}
}

// Value works out an expression in the page; the test fails where it cannot be.
func (b *Browser) Value(expression string) any {
	b.t.Helper()
	value, failed := b.evaluate(expression)
	require.Empty(b.t, failed, expression)
	return value
}

// Becomes waits until an expression has a value, also while another page is on its way.
func (b *Browser) Becomes(expression string, want any) {
	b.t.Helper()
	for until := time.Now().Add(Patience); ; time.Sleep(20 * time.Millisecond) {
		value, failed := b.evaluate(expression)
		if failed == "" && value == want {
			return
		}
		require.True(b.t, time.Now().Before(until), "%s is %v, not %v %s", expression, value, want, failed)
	}
}

func (b *Browser) evaluate(expression string) (value any, failed string) {
	b.t.Helper()
	r, refused := b.try("Runtime.evaluate", map[string]any{"expression": expression, "returnByValue": true})
	if refused != "" {
		return nil, refused
	}
	if thrown, is := r["exceptionDetails"].(map[string]any); is {
		return nil, stringOf(thrown)
	}
	return r["result"].(map[string]any)["value"], ""
}

func stringOf(v map[string]any) string {
	text, err := json.Marshal(v)
	if err != nil {
		return err.Error()
	}
	return string(text)
}

// Said is what stood on the console since the page was opened, and what a policy kept
// from running.
func (b *Browser) Said() (said []string) {
	b.t.Helper()
	b.Value("document.title") // a round trip, so that what is under way has been told
	for _, e := range b.Events {
		switch e.Method {
		case "Log.entryAdded", "Runtime.consoleAPICalled", "Runtime.exceptionThrown":
			said = append(said, stringOf(e.Params))
		}
	}
	return said
}

// Bytes is what a command gives as base64: a picture or a PDF.
func (b *Browser) Bytes(method string, params map[string]any) []byte {
	b.t.Helper()
	out, err := base64.StdEncoding.DecodeString(b.Call(method, params)["data"].(string))
	require.NoError(b.t, err)
	return out
}
