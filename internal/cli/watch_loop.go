package cli

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime/debug"
	"time"

	"footing/internal/quantity"
	"footing/internal/report"
	"footing/internal/result"
)

// watching is one run of watch.
type watching struct {
	*app
	flags   watchFlags
	at      place
	reports string // where they go; "" where nothing is written
	eyes    *eyes
	page    *watchPage // nil without one

	last    *result.Result // the newest reading; nil before the first
	lastAt  time.Time
	lastDay quantity.Day
	trouble string // why the newest try failed; "" where it did not
}

const (
	// tries are how often a folder is read anew because a file was saved meanwhile.
	tries = 3
	// farewell is how long an audit that is called off may take to end.
	farewell = 500 * time.Millisecond
)

// loop reads, then waits for a file to be saved, until it is called off or the folder is gone.
func (w *watching) loop(ctx context.Context) error {
	defer func() {
		if ctx.Err() != nil {
			line(w.out, "The watching has ended. Your records are as you left them.")
		}
	}()
	for first := true; ; first = false {
		if err := w.there(); err != nil {
			return err
		}
		w.read(ctx)
		if ctx.Err() != nil {
			return nil
		}
		if first {
			w.greet()
		}
		if err := w.wait(ctx); err != nil || ctx.Err() != nil {
			return err
		}
	}
}

// greet says what happens next, and how to end it.
func (w *watching) greet() {
	line(w.out, "")
	if w.page != nil {
		line(w.out, "Page: "+w.page.address())
		if w.flags.open {
			if err := w.page.open(); err != nil {
				w.say(problem(fmt.Sprintf("the browser could not be opened: %v", reason(err)), "open the page's address in it yourself"))
			}
		}
	}
	line(w.out, "Watching: "+w.at.folder+"\nSave a file there, and it is read again. Ctrl-C ends the watching.")
	w.blind()
}

// blind says once that the system does not tell of saved files.
func (w *watching) blind() {
	if why := w.eyes.excuse(); why != "" {
		line(w.err, "footing: the computer does not tell when a file is saved here ("+why+"), so the folder is looked at every two seconds")
		line(w.err, "next: nothing is needed; --poll does the same from the start")
	}
}

// there is an error where the folder is gone.
func (w *watching) there() error {
	info, err := os.Stat(w.at.folder)
	switch {
	case errors.Is(err, fs.ErrNotExist), err == nil && !info.IsDir():
		return problem(w.at.folder+" is gone, or has another name, so the watching has ended", "footing watch FOLDER with the name that it has now")
	}
	return nil
}

// wait returns when there is something to read, with an error where the folder is gone.
func (w *watching) wait(ctx context.Context) error {
	tick := time.NewTicker(w.pace.look)
	defer tick.Stop()
	for n := 1; ; n++ {
		select {
		case <-ctx.Done():
			return nil
		case <-w.eyes.saved:
			return w.there()
		case <-tick.C:
		}
		if err := w.there(); err != nil {
			return err
		}
		w.blind()
		if (w.eyes.polling() || n%looksUnasked == 0) && w.eyes.changed() {
			w.eyes.settle(ctx)
			return w.there()
		}
		if day, err := w.day(w.flags.asOf); err == nil && w.last != nil && day != w.lastDay {
			return nil
		}
	}
}

// read makes one reading and tells of it. A file that is saved while it is read is read again.
func (w *watching) read(ctx context.Context) {
	if w.page != nil {
		w.page.begin()
	}
	for n := 1; ; n++ {
		w.eyes.remember()
		day, err := w.day(w.flags.asOf)
		var r *result.Result
		if err == nil {
			r, err = w.examineOnce(ctx, day)
		}
		if ctx.Err() != nil {
			return
		}
		if w.eyes.changed() {
			w.eyes.settle(ctx)
			if n < tries {
				continue
			}
			line(w.out, wallClock(w.now())+"  A file was saved again while it was read. What follows may rest on a half of it; it is read once more.")
			w.eyes.poke()
		}
		if err != nil {
			w.failed(err)
			return
		}
		w.told(ctx, r, day)
		return
	}
}

// examineOnce audits, and comes back soon when it is called off.
func (w *watching) examineOnce(ctx context.Context, day quantity.Day) (*result.Result, error) {
	type outcome struct {
		r   *result.Result
		err error
	}
	done := make(chan outcome, 1)
	go func() {
		defer func() {
			if p := recover(); p != nil {
				done <- outcome{err: problem(fmt.Sprintf("this reading broke off by a fault of the program: %v", p), "save the file again; if it stays so, tell who maintains the program:\n"+string(debug.Stack()))}
			}
		}()
		r, err := w.examine(ctx, w.at.folder, day, w.flags.auditFlags)
		done <- outcome{r, err}
	}()
	select {
	case o := <-done:
		return o.r, o.err
	case <-ctx.Done():
	}
	select {
	case <-done:
	case <-time.After(farewell):
	}
	return nil, ctx.Err()
}

// failed says why there is no reading; the page keeps the one before.
func (w *watching) failed(err error) {
	w.say(err)
	w.trouble = err.Error()
	var t trouble
	if errors.As(err, &t) && t.next != "" {
		w.trouble += "; " + t.next
	}
	w.publish(nil, "")
}

// told prints a reading: the first as audit does, the others by what changed.
func (w *watching) told(ctx context.Context, r *result.Result, day quantity.Day) {
	now, written := w.now(), w.write(ctx, r)
	w.trouble = ""
	var b bytes.Buffer
	var changes *report.Changes
	before := ""
	if w.last == nil {
		_ = report.Summary(&b, r, w.screenOptions(written))
	} else {
		before = wallClock(w.lastAt)
		changes = report.ChangesOf(w.last, r)
		line(&b, "\n"+wallClock(now)+"  "+w.occasion(day)+" "+upperFirst(changes.Short())+".")
		_ = changes.Text(&b, w.screenOptions(""))
	}
	_, _ = w.out.Write(b.Bytes())
	w.last, w.lastAt, w.lastDay = r, now, day
	w.publish(changes, before)
}

func (w *watching) occasion(day quantity.Day) string {
	if day != w.lastDay {
		return "Read again for " + day.Words() + "."
	}
	return "Read again."
}

// write writes the reports of a reading where --out names a place, and says where the page lies.
func (w *watching) write(ctx context.Context, r *result.Result) (page string) {
	if w.reports == "" {
		return ""
	}
	files, err := auditFiles(w.reports, r)
	if err == nil {
		err = writeFolder(ctx, w.reports, files)
	}
	switch {
	case err == nil:
		return filepath.Join(w.reports, pageFile)
	case ctx.Err() == nil:
		w.say(err)
	}
	return ""
}

// publish puts a reading, or why there is none, on the page.
func (w *watching) publish(changes *report.Changes, before string) {
	if w.page == nil {
		return
	}
	if err := w.page.publish(w.last, w.lastAt, before, changes, w.trouble); err != nil {
		w.say(err)
	}
}
