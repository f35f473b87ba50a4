package cli

import (
	"io"
	"os"
	"sync"
	"time"

	"github.com/schollz/progressbar/v3"
	"golang.org/x/term"
)

// patience is how long work may take before a progress line appears.
const patience = time.Second

// meter shows on standard error, if that is a terminal, how far long work has come.
type meter struct {
	mu      sync.Mutex
	w       io.Writer
	started time.Time
	bar     *progressbar.ProgressBar
	what    string
}

func newMeter(w io.Writer) *meter {
	f, ok := w.(*os.File)
	if !ok || !term.IsTerminal(int(f.Fd())) {
		w = nil
	}
	return &meter{w: w, started: time.Now()}
}

func (m *meter) reading(done, total int64) { m.show("reading records", done, total) }
func (m *meter) tracing(done, total int64) { m.show("reading data-logger files", done, total) }
func (m *meter) checking(done, total int)  { m.show("checking", int64(done), int64(total)) }

func (m *meter) show(what string, done, total int64) {
	if m.w == nil || time.Since(m.started) < patience {
		return
	}
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.bar == nil || m.what != what {
		if m.bar != nil {
			_ = m.bar.Finish() // clears its line
		}
		m.what = what
		m.bar = progressbar.NewOptions64(total, progressbar.OptionSetWriter(m.w), progressbar.OptionSetDescription(what),
			progressbar.OptionThrottle(patience/10), progressbar.OptionClearOnFinish(), progressbar.OptionSetPredictTime(false), progressbar.OptionSetWidth(30))
	}
	_ = m.bar.Set64(done)
}

func (m *meter) end() {
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.bar != nil {
		_ = m.bar.Finish()
	}
}
