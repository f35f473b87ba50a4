package cli

import (
	"bufio"
	"context"
	"io"
	"net"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime"
	"strings"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var addressForm = regexp.MustCompile(`(?m)^Page: (http://127\.0\.0\.1:(\d+)/([0-9a-f]{32})/)$`)

// address waits for the page's address; it gives it with its port.
func (w *watched) address() (url, port string) {
	w.t.Helper()
	w.says("Ctrl-C ends the watching", 1)
	found := addressForm.FindStringSubmatch(w.out.String())
	require.NotNil(w.t, found, w.out.String())
	return found[1], found[2]
}

// ask sends one request, and gives the answer with its body.
func ask(t *testing.T, method, url string, header map[string]string) (*http.Response, string) {
	t.Helper()
	r, err := http.NewRequestWithContext(t.Context(), method, url, nil)
	require.NoError(t, err)
	for name, value := range header {
		r.Header.Set(name, value)
		if name == "Host" {
			r.Host = value
		}
	}
	client := http.Client{Transport: &http.Transport{DisableKeepAlives: true}, CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}
	answer, err := client.Do(r)
	require.NoError(t, err)
	defer answer.Body.Close()
	body, err := io.ReadAll(answer.Body)
	require.NoError(t, err)
	return answer, string(body)
}

func TestWatchPageIsForThisComputerAlone(t *testing.T) {
	dir := loads(t, filepath.Join(t.TempDir(), "records"))
	w := watchOver(t, dayNow, dir)
	url, port := w.address()
	answer, page := ask(t, "GET", url, nil)
	require.Equal(t, 200, answer.StatusCode)
	require.True(t, strings.Contains(page, "Heron Lane Foot Care"))
	require.True(t, strings.Contains(page, "Read at <strong>12:00:00</strong>"))
	h := answer.Header
	assert.Equal(t, []string{"no-store", "nosniff", "no-referrer", "DENY", "same-origin"},
		[]string{h.Get("Cache-Control"), h.Get("X-Content-Type-Options"), h.Get("Referrer-Policy"), h.Get("X-Frame-Options"), h.Get("Cross-Origin-Resource-Policy")})
	assert.Empty(t, h.Get("Access-Control-Allow-Origin"))
	nonce := regexp.MustCompile(`script-src 'nonce-([0-9a-f]{32})'`).FindStringSubmatch(h.Get("Content-Security-Policy"))
	require.NotNil(t, nonce)
	require.True(t, strings.Contains(page, `<script nonce="`+nonce[1]+`"`))
	again, _ := ask(t, "GET", url, nil)
	assert.NotEqual(t, h.Get("Content-Security-Policy"), again.Header.Get("Content-Security-Policy"), "a nonce serves once")
	answer, body := ask(t, "HEAD", url, nil)
	assert.Equal(t, 200, answer.StatusCode)
	assert.Empty(t, body)

	home := "http://127.0.0.1:" + port
	for _, c := range []struct {
		name, method, url string
		header            map[string]string
		want              int
	}{
		{"by its other name", "GET", url, map[string]string{"Host": "localhost:" + port}, 200},
		{"typed or followed", "GET", url, map[string]string{"Sec-Fetch-Site": "none"}, 200},
		{"loaded again", "GET", url, map[string]string{"Sec-Fetch-Site": "same-origin"}, 200},
		{"another host", "GET", url, map[string]string{"Host": "footing.example:" + port}, 421},
		{"no port", "GET", url, map[string]string{"Host": "127.0.0.1"}, 421},
		{"another port", "GET", url, map[string]string{"Host": "127.0.0.1:1"}, 421},
		{"another page", "GET", url, map[string]string{"Sec-Fetch-Site": "cross-site"}, 403},
		{"another port's page", "GET", url, map[string]string{"Sec-Fetch-Site": "same-site"}, 403},
		{"another page's events", "GET", url + "changes", map[string]string{"Sec-Fetch-Site": "cross-site"}, 403},
		{"post", "POST", url, nil, 405},
		{"options", "OPTIONS", url, nil, 405},
		{"put", "PUT", url + "changes", nil, 405},
		{"no word", "GET", home + "/", nil, 404},
		{"no word, events", "GET", home + "/changes", nil, 404},
		{"half a word", "GET", url[:len(url)-10] + "/", nil, 404},
		{"another word", "GET", home + "/" + strings.Repeat("0", 32) + "/", nil, 404},
		{"no such page", "GET", url + "audit.json", nil, 404},
		{"out of it", "GET", url + "../../etc/passwd", nil, 404},
		{"a record", "GET", url + "loads.csv", nil, 404},
		{"no end", "GET", strings.TrimSuffix(url, "/"), nil, 404},
	} {
		answer, body := ask(t, c.method, c.url, c.header)
		assert.Equal(t, c.want, answer.StatusCode, c.name)
		if c.want != 200 {
			assert.Less(t, len(body), 200, c.name)
			assert.Equal(t, "no-store", answer.Header.Get("Cache-Control"), c.name)
			assert.False(t, strings.Contains(body, "Heron"), c.name)
		}
	}
	w.calledOff()
	_, err := net.DialTimeout("tcp4", "127.0.0.1:"+port, time.Second)
	assert.Error(t, err, "the page is closed")
}

// Each other address of the computer finds no one there.
func TestWatchPageListensOnTheLoopAlone(t *testing.T) {
	w := watchOver(t, dayNow, loads(t, filepath.Join(t.TempDir(), "records")))
	_, port := w.address()
	others, err := net.InterfaceAddrs()
	require.NoError(t, err)
	for _, a := range others {
		ip := a.(*net.IPNet).IP
		if ip.Equal(net.IPv4(127, 0, 0, 1)) || ip.IsLinkLocalUnicast() {
			continue
		}
		c, err := net.DialTimeout("tcp", net.JoinHostPort(ip.String(), port), time.Second)
		if assert.Error(t, err, ip) {
			continue
		}
		c.Close()
	}
	w.calledOff()
}

// A browser that waits is told that a file is read, of the new reading, and of the end.
func TestWatchPageTells(t *testing.T) {
	dir := loads(t, filepath.Join(t.TempDir(), "records"))
	w := watchOver(t, dayNow, dir)
	url, _ := w.address()
	r, err := http.NewRequestWithContext(t.Context(), "GET", url+"changes", nil)
	require.NoError(t, err)
	answer, err := http.DefaultClient.Do(r)
	require.NoError(t, err)
	defer answer.Body.Close()
	require.Equal(t, "text/event-stream", answer.Header.Get("Content-Type"))
	told := bufio.NewScanner(answer.Body)
	until := func(want string) {
		for told.Scan() {
			if told.Text() == want {
				return
			}
		}
		require.Fail(t, "not told", want)
	}
	until("data: 1")
	put(t, dir, map[string]string{"loads.csv": longer})
	until("data: 2")
	_, page := ask(t, "GET", url, nil)
	assert.True(t, strings.Contains(page, `data-reading="2"`))
	assert.True(t, strings.Contains(page, "<strong>No longer found:</strong> ◆ critical."))
	require.NoError(t, os.Remove(filepath.Join(dir, "loads.csv")))
	for _, name := range []string{"practice.yaml", "sterilizers.csv"} {
		require.NoError(t, os.Remove(filepath.Join(dir, name)))
	}
	until("data: 3")
	_, page = ask(t, "GET", url, nil)
	assert.True(t, strings.Contains(page, "could not be read.</strong> no records were found"))
	assert.True(t, strings.Contains(page, "Heron Lane"), "the page keeps the reading before")
	w.stop()
	until("event: ended")
	require.Equal(t, Done, w.ends())
}

func TestWatchPortTaken(t *testing.T) {
	l, err := net.Listen("tcp4", "127.0.0.1:0")
	require.NoError(t, err)
	defer l.Close()
	_, port, err := net.SplitHostPort(l.Addr().String())
	require.NoError(t, err)
	got := call(t.Context(), "watch", loads(t, filepath.Join(t.TempDir(), "records")), "--port", port)
	assert.Equal(t, CouldNot, got.status)
	assert.Contains(t, got.err, "footing: port "+port+" is taken by another program\nnext: ")
}

// The browser is started with a path that serves once, since others can see what it was started with.
func TestWatchOpens(t *testing.T) {
	was := opener
	defer func() { opener = was }()
	opened := make(chan string, 1)
	opener = func(address string) error { opened <- address; return nil }
	w := watchOver(t, dayNow, loads(t, filepath.Join(t.TempDir(), "records")), "--open")
	url, _ := w.address()
	once := <-opened
	assert.NotContains(t, once, strings.Split(url, "/")[3])
	answer, _ := ask(t, "GET", once, nil)
	assert.Equal(t, http.StatusSeeOther, answer.StatusCode)
	assert.True(t, strings.HasSuffix(url, answer.Header.Get("Location")))
	answer, _ = ask(t, "GET", once, nil)
	assert.Equal(t, http.StatusNotFound, answer.StatusCode)
	w.calledOff()

	opener = func(string) error { return &exec.Error{Name: "xdg-open", Err: exec.ErrNotFound} }
	w = watchOver(t, dayNow, loads(t, filepath.Join(t.TempDir(), "records")), "--open")
	w.says("the browser could not be opened", 1)
	w.calledOff()
}

// The real program: Ctrl-C while it reads a file without an end in sight, and while it waits.
func TestWatchCtrlC(t *testing.T) {
	if runtime.GOOS == "windows" {
		return // no process can send it to another there
	}
	dir := loads(t, filepath.Join(t.TempDir(), "records"))
	for name, ready := range map[string]func(pid int, out string) bool{
		"waiting": func(_ int, out string) bool { return strings.Contains(out, "Ctrl-C ends") },
		"reading": func(pid int, _ string) bool { return reads(pid, filepath.Join(dir, "traces", "endless.csv")) },
	} {
		if name == "reading" {
			put(t, dir, map[string]string{"traces/endless.csv": ""})
			require.NoError(t, os.Truncate(filepath.Join(dir, "traces", "endless.csv"), 1<<38))
		} else {
			_ = os.RemoveAll(filepath.Join(dir, "traces"))
		}
		ctx, cancel := context.WithTimeout(t.Context(), generous)
		cmd := exec.CommandContext(ctx, "footing", "watch", dir) // TestMain puts it where it is found
		var out, errOut screenful
		cmd.Stdout, cmd.Stderr = &out, &errOut
		require.NoError(t, cmd.Start())
		require.Eventually(t, func() bool { return ready(cmd.Process.Pid, out.String()) }, generous, 20*time.Millisecond, name)
		require.NoError(t, cmd.Process.Signal(syscall.SIGINT))
		require.NoError(t, cmd.Wait(), name)
		assert.Contains(t, out.String(), "The watching has ended.", name)
		assert.Empty(t, errOut.String(), name)
		cancel()
	}
}
