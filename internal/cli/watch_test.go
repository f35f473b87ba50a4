package cli

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// screenful keeps what was printed; others may read it meanwhile.
type screenful struct {
	mu sync.Mutex
	b  bytes.Buffer
}

func (s *screenful) Write(p []byte) (int, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.b.Write(p)
}

func (s *screenful) String() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.b.String()
}

// watched is a watch that runs in this process.
type watched struct {
	t        *testing.T
	out, err screenful
	stop     context.CancelFunc
	status   chan int
}

// brisk is a pace for what is seen by looking alone.
var brisk = pace{look: 20 * time.Millisecond, quiet: 50 * time.Millisecond, patience: 200 * time.Millisecond}

func watchOver(t *testing.T, now func() time.Time, args ...string) *watched {
	return watchAt(t, ordinary, now, args...)
}

func watchAt(t *testing.T, waits pace, now func() time.Time, args ...string) *watched {
	ctx, stop := context.WithCancel(t.Context())
	w := &watched{t: t, stop: stop, status: make(chan int, 1)}
	a := &app{out: &printed{Writer: &w.out}, err: &w.err, now: now, pace: waits}
	go func() { w.status <- a.run(ctx, append([]string{"watch"}, args...), nil) }()
	t.Cleanup(func() { stop() })
	return w
}

// generous is how long a test waits for what takes less than a second.
const generous = time.Minute

// says waits until so many lines hold the words.
func (w *watched) says(words string, times int) {
	w.t.Helper()
	require.Eventually(w.t, func() bool { return strings.Count(w.out.String()+w.err.String(), words) >= times }, generous, 5*time.Millisecond,
		"%q was not said %d times", words, times)
}

// ends waits for the end, and gives the exit status.
func (w *watched) ends() int {
	w.t.Helper()
	select {
	case status := <-w.status:
		return status
	case <-time.After(generous):
		require.Fail(w.t, "it does not end", "%s%s", w.out.String(), w.err.String())
		return -1
	}
}

func (w *watched) calledOff() {
	w.t.Helper()
	w.stop()
	require.Equal(w.t, Done, w.ends(), w.err.String())
	require.Contains(w.t, w.out.String(), "The watching has ended.")
}

const longer = "id,started,ended,sterilizer,temperature,exposure,wrapped,released by,decision\n" +
	"L1,2026-11-02 09:00,2026-11-02 10:10,S1,121 °C,30 min,yes,P-01,released\nL2,2026-11-03 09:00,2026-11-03 09:40,S1,121 °C,31 min,yes,P-01,released\n"

const rejected = "id,started,ended,sterilizer,temperature,exposure,wrapped,released by,decision\n" +
	"L1,2026-11-02 09:00,2026-11-02 10:10,S1,121 °C,30 min,yes,P-01,released\n,yesterday,,S1,121 °C,31 min,yes,P-01,released\n"

// With the system's word and without it: each way of saving is seen, and what changed is told.
func TestWatchSeesWhatIsSaved(t *testing.T) {
	for name, c := range map[string]struct {
		flags []string
		pace  pace
	}{"told": {nil, ordinary}, "polling": {[]string{"--poll"}, brisk}} {
		t.Run(name, func(t *testing.T) {
			dir := loads(t, filepath.Join(t.TempDir(), "records"))
			w := watchAt(t, c.pace, dayNow, append(c.flags, "--no-page", dir)...)
			w.says("Ctrl-C ends the watching", 1)
			assert.Contains(t, w.out.String(), "Readiness report: Heron Lane Foot Care")
			assert.NotContains(t, w.out.String(), "Read again")

			put(t, dir, map[string]string{"loads.csv": longer}) // saved in place
			w.says("Read again", 1)
			assert.Contains(t, w.out.String(), "- loads.csv: saved, 2 rows.")
			assert.Contains(t, w.out.String(), "- No longer found: ◆ critical. ")

			put(t, dir, map[string]string{".loads.new": rejected}) // saved aside, then put in its place
			require.NoError(t, os.Rename(filepath.Join(dir, ".loads.new"), filepath.Join(dir, "loads.csv")))
			w.says("Read again", 2)
			assert.Contains(t, w.out.String(), "1 row is set aside, 1 more.")

			put(t, dir, map[string]string{"tests/2026.csv": "id,kind,sterilizer,run_at,result\nT1,spore,S1,2026-11-03,pass\n"}) // a folder with a file in it
			w.says("tests/2026.csv: new, 1 row.", 1)
			put(t, dir, map[string]string{"tests/2026.csv": "id,kind,sterilizer,run_at,result\nT1,spore,S1,2026-11-03,pass\nT2,spore,S1,2026-11-10,pass\n"})
			w.says("tests/2026.csv: saved, 2 rows, 1 more.", 1)

			put(t, dir, map[string]string{"traces/a/1.csv": loggerText(30)}) // two folders deep
			w.says("new data-logger file", 1)

			require.NoError(t, os.Remove(filepath.Join(dir, "tests/2026.csv")))
			w.says("tests/2026.csv: gone from the folder.", 1)
			w.calledOff()
			assert.Empty(t, w.err.String())
			assert.Len(t, mustList(t, filepath.Dir(dir)), 1, "nothing is written without --out")
		})
	}
}

// What programs keep beside an open file is no save; a save after it is.
func TestWatchIgnoresWhatPasses(t *testing.T) {
	dir := loads(t, filepath.Join(t.TempDir(), "records"))
	w := watchOver(t, dayNow, "--no-page", dir)
	w.says("Ctrl-C ends the watching", 1)
	put(t, dir, map[string]string{".~lock.loads.ods#": "x", "~$records.xlsx": "x", ".loads.csv.swp": "x", "loads.csv~": "x", "#loads.csv#": "x", "lu1.tmp": "x", ".hidden/loads.csv": "x", "_drafts/loads.csv": "x"})
	put(t, dir, map[string]string{"loads.csv": longer})
	w.says("loads.csv: saved", 1)
	w.calledOff()
	assert.Equal(t, 1, strings.Count(w.out.String(), "Read again"), w.out.String())
}

func TestWhatMatters(t *testing.T) {
	for name, want := range map[string]bool{
		"loads.csv": true, "loads": true, "traces/1.csv": true, "traces/1.tmp": true, "Traces/x~": true, "loads/a.csv": true, "new folder": true, "letter.docx": true,
		".loads.csv": false, "_loads.csv": false, "loads/.a.csv": false, "traces/.b/1.csv": false, "traces/_b/1.csv": false, "~$a.xlsx": false, "a.csv~": false, "#a#": false, "a.TMP": false, "loads/a.tmp": false, "x.crdownload": false,
	} {
		assert.Equal(t, want, matters(filepath.FromSlash(name)), name)
	}
}

// Nothing that is found in the folder ends the watching: an empty folder, a torn file, a file that cannot be read.
func TestWatchGoesOn(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "records")
	require.NoError(t, os.Mkdir(dir, 0o755))
	w := watchOver(t, dayNow, "--no-page", dir)
	w.says("no records were found", 1)
	w.says("Ctrl-C ends the watching", 1)
	loads(t, dir)
	w.says("Readiness report: Heron Lane", 1)
	put(t, dir, map[string]string{"tests.json": `[{"id": "T1", "kind": "spo`})
	w.says("tests.json", 1)
	w.says("- New: ", 1)
	require.NoError(t, os.Remove(filepath.Join(dir, "tests.json")))
	w.says("gone from the folder", 1)
	for name := range tree(t, dir) {
		require.NoError(t, os.Remove(filepath.Join(dir, name)))
	}
	w.says("no records were found", 2)
	loads(t, dir)
	w.says("Read again", 3)
	w.calledOff()
}

func TestWatchEndsWithTheFolder(t *testing.T) {
	for name, away := range map[string]func(dir string) error{
		"removed": os.RemoveAll,
		"renamed": func(dir string) error { return os.Rename(dir, dir+"-2025") },
		"above":   func(dir string) error { return os.Rename(filepath.Dir(dir), filepath.Dir(dir)+"-2025") },
		"a file":  func(dir string) error { _ = os.RemoveAll(dir); return os.WriteFile(dir, nil, 0o644) },
	} {
		t.Run(name, func(t *testing.T) {
			dir := loads(t, filepath.Join(t.TempDir(), "all", "records"))
			w := watchAt(t, map[bool]pace{true: brisk, false: ordinary}[name == "above"], dayNow, "--no-page", dir)
			w.says("Ctrl-C ends the watching", 1)
			require.NoError(t, away(dir))
			assert.Equal(t, CouldNot, w.ends())
			assert.Contains(t, w.err.String(), "is gone, or has another name, so the watching has ended\nnext: footing watch FOLDER")
			assert.NotContains(t, w.out.String(), "as you left them")
		})
	}
}

// Called off at any point it ends in peace, also in the middle of an audit.
func TestWatchCalledOffAtAnyPoint(t *testing.T) {
	dir := loads(t, filepath.Join(t.TempDir(), "records"))
	put(t, dir, map[string]string{"traces/a.csv": loggerText(30)})
	for looks := 0; ; looks++ {
		got := call(stopAfter(looks), "watch", dir, "--no-page")
		require.Equal(t, Done, got.status, "%d: %s", looks, got.err)
		require.Contains(t, got.out, "The watching has ended.")
		require.Empty(t, got.err)
		if strings.Contains(got.out, "Ctrl-C ends") {
			assert.Greater(t, looks, 5)
			return
		}
		require.Less(t, looks, 10000)
	}
}

// With --out the reports of the newest reading stand there, whole.
func TestWatchWritesWhereAsked(t *testing.T) {
	base := t.TempDir()
	dir, out := loads(t, filepath.Join(base, "records")), filepath.Join(base, "latest")
	w := watchOver(t, dayNow, "--no-page", "--out", out, dir)
	w.says("Report: "+filepath.Join(out, pageFile), 1)
	require.Equal(t, 2, audited(t, out).Intake[0].Rows)
	first := audited(t, out)
	put(t, dir, map[string]string{"loads.csv": longer})
	w.says("Read again", 1)
	w.calledOff()
	assert.NotEqual(t, first.Counts, audited(t, out).Counts)
	assert.Len(t, tree(t, out), len(auditOutput.files))
}

// A rules file that was named is watched where it lies.
func TestWatchSeesTheRules(t *testing.T) {
	base := t.TempDir()
	dir := loads(t, filepath.Join(base, "records"))
	rules := filepath.Join(put(t, filepath.Join(base, "elsewhere"), map[string]string{"rules.yaml": "note: none yet\n"}), "rules.yaml")
	w := watchOver(t, dayNow, "--no-page", "--rules", rules, dir)
	w.says("Ctrl-C ends the watching", 1)
	put(t, filepath.Join(base, "elsewhere"), map[string]string{"letter.txt": "x", "rules.yaml": "note: one\n"})
	w.says("Read again", 1)
	w.calledOff()
}

// At midnight it is read again, for the new day.
func TestWatchSeesTheNewDay(t *testing.T) {
	dir := loads(t, filepath.Join(t.TempDir(), "records"))
	var mu sync.Mutex
	at := dayNow()
	w := watchAt(t, brisk, func() time.Time { mu.Lock(); defer mu.Unlock(); return at }, "--no-page", dir)
	w.says("Ctrl-C ends the watching", 1)
	mu.Lock()
	at = at.AddDate(0, 0, 1)
	mu.Unlock()
	w.says("Read again for 25 Nov 2026", 1)
	w.calledOff()
}

func TestWatchWrongUse(t *testing.T) {
	dir := loads(t, filepath.Join(t.TempDir(), "records"))
	for want, args := range map[string][]string{
		"watch takes one folder of records; 0 were named": {},
		"there is no folder nowhere":                      {"nowhere"},
		"--port 80 is no port":                            {dir, "--port", "80"},
		"--port -1 is no port":                            {dir, "--port", "-1"},
		"--no-page does not go with":                      {dir, "--no-page", "--open"},
		"--as-of: ":                                       {dir, "--as-of", "yesterday"},
		"cannot go into the folder of records":            {dir, "--out", filepath.Join(dir, "latest")},
	} {
		got := call(t.Context(), append([]string{"watch"}, args...)...)
		assert.Equal(t, CouldNot, got.status, want)
		assert.Contains(t, got.err, want)
		assert.Contains(t, got.err, "\nnext: ")
	}
}

// A file that is written without a pause is read all the same, and it is said that it may
// be a half; when it stands still, it is read whole.
func TestWatchWhileAFileIsWritten(t *testing.T) {
	dir := loads(t, filepath.Join(t.TempDir(), "records"))
	w := watchAt(t, brisk, dayNow, "--no-page", dir)
	w.says("Ctrl-C ends the watching", 1)
	stop, stopped := make(chan struct{}), make(chan struct{})
	go func() {
		defer close(stopped)
		f, err := os.OpenFile(filepath.Join(dir, "loads.csv"), os.O_APPEND|os.O_WRONLY, 0)
		if !assert.NoError(t, err) {
			return
		}
		defer f.Close()
		for n := 0; ; n++ {
			select {
			case <-stop:
				return
			case <-time.After(time.Millisecond):
				_, _ = f.WriteString("X,2026-11-04 09:00,2026-11-04 10:10,S1,121 °C,30 min,yes,P-01,released\n")
			}
		}
	}()
	w.says("A file was saved again while it was read.", 1)
	w.says("Read again", 1)
	close(stop)
	<-stopped
	put(t, dir, map[string]string{"loads.csv": longer})
	require.Eventually(t, func() bool { // what was read before may have been too torn to be read
		out := w.out.String()
		return strings.Contains(out, "loads.csv: saved, 2 rows") || strings.Contains(out, "loads.csv: can be read now, 2 rows")
	}, generous, 5*time.Millisecond)
	w.calledOff()
}

// Where the system cannot tell of saved files, it is said, and the folder is looked at.
func TestWatchFallsBackToLooking(t *testing.T) {
	dir := loads(t, filepath.Join(t.TempDir(), "records"))
	e := openEyes(place{folder: dir}, false, ordinary)
	defer e.close()
	require.NotNil(t, e.watcher)
	e.remember()
	require.False(t, e.polling())
	require.NoError(t, e.watcher.Close()) // as where the system has no room for one more
	e.remember()
	require.True(t, e.polling())
	require.NotEmpty(t, e.excuse())
	require.Empty(t, e.excuse(), "it is said once")
	require.False(t, e.changed())
	put(t, dir, map[string]string{"loads.csv": longer})
	require.True(t, e.changed())
}

// A look sees what a save changes, and nothing else.
func TestLooks(t *testing.T) {
	dir := loads(t, filepath.Join(t.TempDir(), "records"))
	put(t, dir, map[string]string{"photos/a.png": "x", "traces/a/1.csv": "x"})
	p := place{folder: dir}
	was := p.stamp()
	require.True(t, p.stamp().same(was))
	require.Equal(t, []string{dir, filepath.Join(dir, "traces"), filepath.Join(dir, "traces", "a")}, p.folders())
	put(t, dir, map[string]string{"photos/b.png": "x", ".x": "x", "~$x.xlsx": "x"})
	require.True(t, p.stamp().same(was), "no record lies there")
	for _, c := range []func(){
		func() { put(t, dir, map[string]string{"traces/a/2.csv": "x"}) },
		func() { put(t, dir, map[string]string{"traces/a/2.csv": "xy"}) },
		func() { require.NoError(t, os.Chtimes(filepath.Join(dir, "loads.csv"), dayNow(), dayNow())) },
		func() { // another file of the same size and time
			put(t, dir, map[string]string{".y": "zz"})
			info, err := os.Stat(filepath.Join(dir, "traces/a/2.csv"))
			require.NoError(t, err)
			require.NoError(t, os.Chtimes(filepath.Join(dir, ".y"), info.ModTime(), info.ModTime()))
			require.NoError(t, os.Rename(filepath.Join(dir, ".y"), filepath.Join(dir, "traces/a/2.csv")))
		},
		func() { require.NoError(t, os.Mkdir(filepath.Join(dir, "tests"), 0o755)) },
		func() { require.NoError(t, os.RemoveAll(filepath.Join(dir, "traces"))) },
	} {
		c()
		now := p.stamp()
		require.False(t, now.same(was))
		was = now
	}
}
