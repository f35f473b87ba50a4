package cli

import (
	"crypto/subtle"
	"fmt"
	"io"
	"log"
	"net/http"
	"strings"
	"time"

	"footing/internal/report"
)

const (
	// slow is how long a browser may take to accept what is sent to it.
	slow = 30 * time.Second
	// beat is how often a browser that waits is told that the watching goes on.
	beat = 15 * time.Second
)

func silent() *log.Logger { return log.New(io.Discard, "", 0) }

// ServeHTTP shows the page to a browser on this computer, and nothing to a page of another
// address that asks by way of it.
func (p *watchPage) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	h := w.Header()
	for name, value := range map[string]string{
		"Cache-Control": "no-store", "X-Content-Type-Options": "nosniff", "Referrer-Policy": "no-referrer", "X-Frame-Options": "DENY",
		"Cross-Origin-Resource-Policy": "same-origin", "Cross-Origin-Opener-Policy": "same-origin",
		"Content-Security-Policy": "default-src 'none'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'",
	} {
		h.Set(name, value)
	}
	site := r.Header.Get("Sec-Fetch-Site")
	switch {
	case r.Host != fmt.Sprintf("127.0.0.1:%d", p.port) && r.Host != fmt.Sprintf("localhost:%d", p.port):
		http.Error(w, "this page has another address", http.StatusMisdirectedRequest)
	case r.Method != http.MethodGet && r.Method != http.MethodHead:
		h.Set("Allow", "GET, HEAD")
		http.Error(w, "this page is only read", http.StatusMethodNotAllowed)
	case site != "" && site != "none" && site != "same-origin":
		http.Error(w, "this page is not for other pages", http.StatusForbidden)
	case p.uses(r.URL.Path):
		http.Redirect(w, r, "/"+p.word+"/", http.StatusSeeOther)
	case !p.knows(r.URL.Path):
		http.NotFound(w, r)
	case strings.HasSuffix(r.URL.Path, "/changes"):
		p.tell(w, r)
	default:
		p.serve(w)
	}
}

// knows reports whether a path is one of the page's, in a time that says nothing of the word.
func (p *watchPage) knows(path string) bool {
	return equal(path, "/"+p.word+"/") || equal(path, "/"+p.word+"/changes")
}

// uses reports whether a path is the one that leads to the page once, and uses it up.
func (p *watchPage) uses(path string) bool {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.once == "" || !equal(path, "/"+p.once) {
		return false
	}
	p.once = ""
	return true
}

func equal(a, b string) bool { return subtle.ConstantTimeCompare([]byte(a), []byte(b)) == 1 }

// serve sends the page as it is now.
func (p *watchPage) serve(w http.ResponseWriter) {
	p.mu.Lock()
	body, l := p.body, p.live
	p.mu.Unlock()
	l.Nonce = unguessable()
	page, err := report.LiveHTML(body, l)
	if err != nil {
		http.Error(w, err.Error(), http.StatusInternalServerError)
		return
	}
	w.Header().Set("Content-Security-Policy", "default-src 'none'; style-src 'unsafe-inline'; img-src data:; script-src 'nonce-"+l.Nonce+"'; connect-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'")
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	_, _ = w.Write(page)
}

// tell sends the number of the newest reading, and each that follows, as server-sent events.
func (p *watchPage) tell(w http.ResponseWriter, r *http.Request) {
	w.Header().Set("Content-Type", "text/event-stream")
	out := http.NewResponseController(w)
	if r.Method == http.MethodHead {
		return
	}
	for {
		p.mu.Lock()
		number, begun, closed, moved := p.live.Number, p.begun, p.closed, p.moved
		p.mu.Unlock()
		text := fmt.Sprintf("event: reading\ndata: %d\n\n", number)
		switch {
		case closed:
			text = "event: ended\ndata: 0\n\n"
		case begun:
			text = "event: begun\ndata: 0\n\n"
		}
		_ = out.SetWriteDeadline(time.Now().Add(slow))
		if _, err := io.WriteString(w, text); err != nil || out.Flush() != nil || closed {
			return
		}
		select {
		case <-moved:
		case <-time.After(beat):
		case <-r.Context().Done():
			return
		}
	}
}
