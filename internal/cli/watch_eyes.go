package cli

import (
	"context"
	"errors"
	"path/filepath"
	"sync"
	"time"

	"github.com/fsnotify/fsnotify"
)

// looksUnasked is after how many looks names and times are compared though the system
// tells of saved files: it may not tell of all.
const looksUnasked = 5

// pace is how long watching waits.
type pace struct {
	look     time.Duration // between two looks at the folder
	quiet    time.Duration // until nothing more is told: one save is several events
	patience time.Duration // with a file that is written without a pause
}

// ordinary is the pace of which the help speaks.
var ordinary = pace{look: 2 * time.Second, quiet: 250 * time.Millisecond, patience: 2 * time.Second}

// eyes see that a file of the folder was saved. Where the system does not tell, the
// names, sizes and times of the files do.
type eyes struct {
	at      place
	pace    pace
	saved   chan struct{} // holds one: a file was saved since the last reading began
	watcher *fsnotify.Watcher
	seen    stamp

	mu   sync.Mutex
	poll bool
	why  string // why the system does not tell, until it is said
}

func openEyes(at place, poll bool, pace pace) *eyes {
	e := &eyes{at: at, poll: poll, pace: pace, saved: make(chan struct{}, 1)}
	if poll {
		return e
	}
	watcher, err := fsnotify.NewWatcher()
	if err != nil {
		e.fail(err)
		return e
	}
	e.watcher = watcher
	go e.look(watcher)
	return e
}

func (e *eyes) close() {
	if e.watcher != nil {
		_ = e.watcher.Close()
	}
}

// poke says that there is something to read.
func (e *eyes) poke() {
	select {
	case e.saved <- struct{}{}:
	default:
	}
}

func (e *eyes) polling() bool {
	e.mu.Lock()
	defer e.mu.Unlock()
	return e.poll
}

func (e *eyes) fail(err error) {
	e.mu.Lock()
	defer e.mu.Unlock()
	if !e.poll {
		e.poll, e.why = true, reason(err).Error()
	}
}

// excuse is why the system does not tell of saved files, once; else "".
func (e *eyes) excuse() string {
	e.mu.Lock()
	defer e.mu.Unlock()
	why := e.why
	e.why = ""
	return why
}

// remember takes the folder as it is for what is read now. The folders in it are watched
// first, so that whatever is saved after this is seen.
func (e *eyes) remember() {
	if e.watcher != nil && !e.polling() {
		for _, dir := range e.at.folders() {
			if err := e.watcher.Add(dir); err != nil && !gone(dir) {
				e.fail(err)
			}
		}
	}
	e.seen = e.at.stamp()
}

// changed reports whether the folder is another than the one remembered.
func (e *eyes) changed() bool { return !e.at.stamp().same(e.seen) }

// settle waits until the files stand still, or for no longer than its patience.
func (e *eyes) settle(ctx context.Context) {
	for last, n := e.at.stamp(), 0; n < int(e.pace.patience/e.pace.quiet); n++ {
		select {
		case <-ctx.Done():
			return
		case <-time.After(e.pace.quiet):
		}
		now := e.at.stamp()
		if now.same(last) {
			return
		}
		last = now
	}
}

// look hears what the system tells, until the watcher is closed.
func (e *eyes) look(watcher *fsnotify.Watcher) {
	var quiet <-chan time.Time
	var began time.Time
	stir := func() {
		if quiet == nil {
			began = time.Now()
		}
		quiet = time.After(min(e.pace.quiet, max(0, e.pace.patience-time.Since(began))))
	}
	for {
		select {
		case event, open := <-watcher.Events:
			if !open {
				return
			}
			if e.concerns(event) {
				stir()
			}
		case err, open := <-watcher.Errors:
			if !open {
				return
			}
			if !errors.Is(err, fsnotify.ErrEventOverflow) { // else only some events were lost
				e.fail(err)
			}
			stir()
		case <-quiet:
			quiet = nil
			e.poke()
		}
	}
}

// concerns reports whether an event may change what the records say. That a file was
// opened, or who may read it, does not.
func (e *eyes) concerns(event fsnotify.Event) bool {
	if event.Op == fsnotify.Chmod {
		return false
	}
	name := filepath.Clean(event.Name)
	if name == e.at.rules || name == e.at.folder {
		return true
	}
	rel, err := filepath.Rel(e.at.folder, name)
	return err == nil && filepath.IsLocal(rel) && matters(rel)
}
