package cli

import (
	"context"
	"crypto/rand"
	"encoding/hex"
	"errors"
	"fmt"
	"net"
	"net/http"
	"os/exec"
	"runtime"
	"sync"
	"syscall"
	"time"

	"footing/internal/report"
	"footing/internal/result"
)

// watchPage shows the newest reading to the browsers of this computer. Its address
// begins with a word that others on the computer do not know.
type watchPage struct {
	port   int
	word   string // the first part of every path
	server *http.Server
	ended  chan struct{}

	mu     sync.Mutex
	once   string // a path that leads to the page one time; "" when it was used
	body   []byte // nil before the first reading
	live   report.Live
	begun  bool          // the folder is being read
	moved  chan struct{} // closed when something changes
	closed bool
}

// show opens the page, before there is anything on it.
func (w *watching) show(ctx context.Context) error {
	var config net.ListenConfig
	listener, err := config.Listen(ctx, "tcp4", fmt.Sprintf("127.0.0.1:%d", w.flags.port))
	if err != nil {
		if errors.Is(err, syscall.EADDRINUSE) {
			return problem(fmt.Sprintf("port %d is taken by another program", w.flags.port), "name another with --port, or leave it out")
		}
		return problem(fmt.Sprintf("the page cannot be shown: %v", err), "leave it out with --no-page, or name another port with --port")
	}
	p := &watchPage{port: listener.Addr().(*net.TCPAddr).Port, word: unguessable(), ended: make(chan struct{}), moved: make(chan struct{})}
	p.server = &http.Server{Handler: p, ReadHeaderTimeout: 5 * time.Second, ReadTimeout: 10 * time.Second, WriteTimeout: slow,
		IdleTimeout: time.Minute, MaxHeaderBytes: 16 << 10, ErrorLog: silent()}
	go func() {
		defer close(p.ended)
		_ = p.server.Serve(listener)
	}()
	w.page = p
	return nil
}

// unguessable is a word of 32 hexadecimal digits, 128 bits from the system's source of chance.
func unguessable() string {
	b := make([]byte, 16)
	_, _ = rand.Read(b) // it gives no error; without chance it ends the program
	return hex.EncodeToString(b)
}

func (p *watchPage) address() string { return p.base() + p.word + "/" }

func (p *watchPage) base() string { return fmt.Sprintf("http://127.0.0.1:%d/", p.port) }

// open shows the page in the browser, by a path that works once: others on the
// computer can read what programs are started with.
func (p *watchPage) open() error {
	once := unguessable()
	p.mu.Lock()
	p.once = once
	p.mu.Unlock()
	return opener(p.base() + once)
}

// opener hands an address to the system's browser.
var opener = func(address string) error {
	command := []string{"xdg-open", address}
	switch runtime.GOOS {
	case "darwin":
		command[0] = "open"
	case "windows":
		command = []string{"rundll32", "url.dll,FileProtocolHandler", address}
	}
	c := exec.Command(command[0], command[1:]...)
	if err := c.Start(); err != nil {
		return err
	}
	go func() { _ = c.Wait() }()
	return nil
}

// begin says that the folder is being read.
func (p *watchPage) begin() {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.begun = true
	p.stir()
}

// publish puts a reading on the page, or the trouble with the newest one.
func (p *watchPage) publish(r *result.Result, at time.Time, before string, changes *report.Changes, trouble string) error {
	var body []byte
	var err error
	l := report.Live{Before: before, Changes: changes, Trouble: trouble}
	if r != nil {
		l.At = wallClock(at)
		body, err = report.HTML(r)
	}
	p.mu.Lock()
	defer p.mu.Unlock()
	l.Number = p.live.Number + 1
	p.live, p.begun = l, false
	if err == nil {
		p.body = body
	}
	p.stir()
	return err
}

// stir wakes who waits for a change. The lock must be held.
func (p *watchPage) stir() {
	close(p.moved)
	p.moved = make(chan struct{})
}

// end says goodbye to the browsers and closes the page.
func (p *watchPage) end() {
	p.mu.Lock()
	p.closed = true
	p.stir()
	p.mu.Unlock()
	ctx, cancel := context.WithTimeout(context.Background(), farewell/2)
	defer cancel()
	if p.server.Shutdown(ctx) != nil {
		_ = p.server.Close()
	}
	<-p.ended
}
