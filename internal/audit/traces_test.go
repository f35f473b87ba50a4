package audit

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"footing/internal/practice"
	"footing/internal/quantity"
	"footing/internal/record"
	"footing/internal/result"
	"footing/internal/steam"
)

// cycleText is a made-up cycle read every ten seconds: heating, so many seconds at a
// temperature, cooling.
func cycleText(head string, celsius float64, hold int) string {
	var b strings.Builder
	b.WriteString(head + "time,temperature [°C]\n")
	t := 0
	add := func(c float64) {
		fmt.Fprintf(&b, "%02d:%02d:%02d,%.1f\n", 9+t/3600, t/60%60, t%60, c)
		t += 10
	}
	for c := 20.0; c < celsius; c += 5 {
		add(c)
	}
	for range hold/10 + 1 {
		add(celsius)
	}
	for c := celsius - 4; c > 60; c -= 4 {
		add(c)
	}
	return b.String()
}

func tracePractice(t *testing.T, files map[string]string) *practice.Practice {
	t.Helper()
	return tracePracticeIn(t, t.TempDir(), files)
}

func tracePracticeIn(t *testing.T, dir string, files map[string]string) *practice.Practice {
	t.Helper()
	files["practice.yaml"] = "{name: A, regulator: B, altitude: 350 m}"
	for name, text := range files {
		path := filepath.Join(dir, filepath.FromSlash(name))
		require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o755))
		require.NoError(t, os.WriteFile(path, []byte(text), 0o644))
	}
	p, err := practice.Read(context.Background(), dir, quantity.NewDay(2026, 11, 24), record.Options{})
	require.NoError(t, err)
	return p
}

// watching is a check that wants holds at a level and says what a function says.
func watching(id string, level float64, run func(*Examination)) Check {
	c := checkOfTest(id, run)
	c.Needs, c.Thing, c.Things, c.Subject = []string{"traces"}, "file", "files", "sterilizers"
	c.Watch = func(*Examination, *practice.Traced) steam.Setting {
		return steam.Setting{Levels: []float64{level}, Over: []float64{3}, Below: level / 1000}
	}
	return c
}

func auditTraces(t *testing.T, p *practice.Practice, battery ...Check) *result.Result {
	t.Helper()
	r, err := Run(context.Background(), p, battery, shippedOfTest(t), Options{})
	require.NoError(t, err)
	return r
}

func TestTracesAreReadOnceWithWhatAllChecksWant(t *testing.T) {
	p := tracePractice(t, map[string]string{
		"sterilizers.csv":  "id,method\nS1,steam\n",
		"loads.csv":        "id,started,sterilizer,trace\nL1,2026-03-02 09:00,S1,a.csv\nL2,2026-03-03 09:00,S1,\n",
		"traces/a.csv":     cycleText("date,2026-03-02\n", 134, 240),
		"traces/b.csv":     cycleText("date,2026-03-03\n", 134, 120),
		"traces/empty.csv": "",
		"traces/later.csv": cycleText("date,2026-11-25\n", 134, 240),
	})
	var seen []string
	short := watching("traces/short", 134, func(x *Examination) {
		for _, tr := range x.P.Traces() {
			if tr.Unusable != "" {
				x.Unclear(Whole, "cannot be read")
				continue
			}
			seen = append(seen, fmt.Sprintf("%s %s %v %v", tr.Name, tr.By, tr.Cycle.Setting.Levels, tr.Cycle.Setting.Below))
			h := tr.Cycle.Holds[1]
			if h.Seconds() >= 200 {
				x.Met(About("sterilizers", &tr.Sterilizer.Row))
				x.Ranked(tr, h.Seconds()/200)
				continue
			}
			x.Mark(tr, 134, 137)
			x.NotMet(About("sterilizers", &tr.Sterilizer.Row), Fault{Grade: Major, Matter: "short", Found: "held short", Evidence: []Evidence{InTrace(tr, 0, "held 2 min")}})
		}
	})
	r := auditTraces(t, p, short, watching("traces/warm", 121, func(x *Examination) { x.Met(Whole) }))
	assert.ElementsMatch(t, []string{"a.csv name [121 134] 0.134", "b.csv start [121 134] 0.134"}, seen)
	require.Len(t, r.Findings, 1)
	ev := r.Findings[0].Evidence
	require.Len(t, ev, 1)
	assert.Equal(t, "traces traces/b.csv load L2", ev[0].Kind+" "+ev[0].File+" "+ev[0].Note)

	require.Len(t, r.Traces, 4)
	var told []string
	for _, f := range r.Traces {
		told = append(told, fmt.Sprintf("%s %s %s %v", f.File, f.Load, f.By, f.Judged))
		assert.Equal(t, f.Lines, f.Heading+f.Readings+f.Aside)
	}
	assert.Equal(t, []string{"traces/a.csv L1 name true", "traces/b.csv L2 start true", "traces/empty.csv   false", "traces/later.csv   false"}, told)
	assert.Equal(t, "it lies after the day of the audit", r.Traces[3].Why)

	var charts []string
	for _, x := range r.Exhibits {
		require.Equal(t, "trace", x.Kind)
		charts = append(charts, x.Chart.File+" "+x.Chart.Conforming+" "+x.Check)
		assert.NotEmpty(t, x.Chart.Time)
	}
	assert.Equal(t, []string{"traces/b.csv  traces/short", "traces/a.csv most traces/short"}, charts)
	assert.Equal(t, []string{r.Findings[0].Fingerprint}, r.Exhibits[0].Chart.Findings)
	assert.Equal(t, 137.0, *r.Exhibits[0].Chart.Band)
	require.NotNil(t, r.Exhibits[0].Chart.Hold)
	assert.InDelta(t, 120, r.Exhibits[0].Chart.Hold.Until-r.Exhibits[0].Chart.Hold.From, 0.01)
	assert.Zero(t, r.Undrawn)
}

func TestAtMost24Charts(t *testing.T) {
	files := map[string]string{"sterilizers.csv": "id,method\nS1,steam\n"}
	for i := range 30 {
		files[fmt.Sprintf("traces/%02d.csv", i)] = cycleText("", 134, 60+10*i)
	}
	p := tracePractice(t, files)
	r := auditTraces(t, p, watching("traces/short", 134, func(x *Examination) {
		for i, tr := range x.P.Traces() {
			if i < 2 {
				x.Met(Whole)
				x.Ranked(tr, float64(i))
				continue
			}
			x.NotMet(Whole, Fault{Grade: Minor, Matter: "m", Found: "f", Weight: float64(i), Evidence: []Evidence{InTrace(tr, 3, "v")}})
		}
	}))
	require.Len(t, r.Exhibits, 24)
	assert.Equal(t, 6, r.Undrawn)
	assert.Equal(t, "traces/29.csv", r.Exhibits[0].Chart.File, "the furthest off first")
	assert.Equal(t, "traces/00.csv least", r.Exhibits[22].Chart.File+" "+r.Exhibits[22].Chart.Conforming)
	assert.Equal(t, "traces/01.csv most", r.Exhibits[23].Chart.File+" "+r.Exhibits[23].Chart.Conforming)
}

// Files of which nothing can be drawn take no chart away from the others.
func TestFilesWithoutReadingsTakeNoChart(t *testing.T) {
	files := map[string]string{}
	for i := range 30 {
		files[fmt.Sprintf("traces/%02d.csv", i)] = "no table\n"
	}
	files["traces/z.csv"] = cycleText("", 134, 60)
	r := auditTraces(t, tracePractice(t, files), watching("traces/a", 134, func(x *Examination) {
		for _, tr := range x.P.Traces() {
			x.NotMet(Whole, Fault{Grade: Minor, Matter: "m", Found: "f", Evidence: []Evidence{InTrace(tr, 0, "v")}})
		}
	}))
	require.Len(t, r.Exhibits, 1)
	assert.Equal(t, "traces/z.csv", r.Exhibits[0].Chart.File)
	assert.Nil(t, r.Exhibits[0].Chart.Band, "no check said which it is")
	assert.NotContains(t, fmt.Sprint(r.Exhibits[0].Rows), "band")
	assert.Equal(t, 30, r.Undrawn)
}

func TestAPanicInWatchBreaksItsCheckAlone(t *testing.T) {
	p := tracePractice(t, map[string]string{"traces/a.csv": cycleText("", 134, 60)})
	bad := watching("traces/bad", 134, func(x *Examination) { x.Met(Whole) })
	bad.Watch = func(*Examination, *practice.Traced) steam.Setting { panic("oops") }
	r := auditTraces(t, p, bad, watching("traces/good", 121, func(x *Examination) { x.Met(Whole) }))
	assert.Equal(t, result.Broken, r.Checks[0].Outcome)
	assert.Equal(t, result.Conforming, r.Checks[1].Outcome)
}

func TestWithoutTraces(t *testing.T) {
	met := func(x *Examination) { x.Met(Whole) }
	r := auditTraces(t, tracePractice(t, map[string]string{"sterilizers.csv": "id,method,logger\nS1,steam,no\n"}), watching("traces/a", 134, met))
	assert.Equal(t, result.NotApplicable, r.Checks[0].Outcome)
	assert.Contains(t, r.Checks[0].Reason, "no sterilizer has a data logger")

	r = auditTraces(t, tracePractice(t, map[string]string{"sterilizers.csv": "id,method\nS1,steam\n"}), watching("traces/a", 134, met))
	assert.Equal(t, result.NotAssessed, r.Checks[0].Outcome)
	assert.Contains(t, r.Checks[0].Reason, "no data-logger file")
	assert.Nil(t, r.NextField, "not every sterilizer has a logger")

	r = auditTraces(t, tracePractice(t, map[string]string{"sterilizers.csv": "id,method,logger\nS1,steam,yes\n", "traces/a.csv": cycleText("date,2026-11-25\n", 134, 60)}), watching("traces/a", 134, met))
	assert.Equal(t, result.NotAssessed, r.Checks[0].Outcome)
	assert.Equal(t, "every data-logger file lies after the day of the audit, so not judged", r.Checks[0].Reason)
	assert.Nil(t, r.NextField, "they are kept already")

	r = auditTraces(t, tracePractice(t, map[string]string{"sterilizers.csv": "id,method,logger\nS1,steam,yes\n"}), watching("traces/a", 134, met))
	require.NotNil(t, r.NextField)
	assert.Contains(t, r.NextField.Why, "data logger")
}

// A file that is gone, or changes its length while the folder is being read, is told.
func TestFilesThatChange(t *testing.T) {
	dir := t.TempDir()
	p := tracePracticeIn(t, dir, map[string]string{"traces/a.csv": cycleText("", 134, 60), "traces/b.csv": cycleText("", 134, 60)})
	require.NoError(t, os.Remove(filepath.Join(dir, "traces", "a.csv")))
	require.NoError(t, os.Truncate(filepath.Join(dir, "traces", "b.csv"), 40))
	r := auditTraces(t, p, watching("traces/a", 134, func(x *Examination) { x.Met(Whole) }))
	require.Len(t, r.Traces, 2)
	assert.Contains(t, r.Traces[0].Why, "is gone")
	assert.Contains(t, r.Traces[1].Why, "its length changed")
	assert.False(t, r.Traces[0].Judged || r.Traces[1].Judged)
}

// Which counter a file has that cannot be opened nobody knows: it is not nought.
func TestAFileThatIsGoneHasNoCounter(t *testing.T) {
	dir := t.TempDir()
	p := tracePracticeIn(t, dir, map[string]string{"sterilizers.csv": "id,method\nS1,steam\n", "loads.csv": "id,started,sterilizer,counter\nL0,2026-03-02 09:00,S1,0\n", "traces/a.csv": cycleText("", 134, 60)})
	require.NoError(t, os.Remove(filepath.Join(dir, "traces", "a.csv")))
	r := auditTraces(t, p, watching("traces/a", 134, func(x *Examination) { x.Met(Whole) }))
	require.Len(t, r.Traces, 1)
	assert.Equal(t, " ", r.Traces[0].Load+" "+r.Traces[0].By)
}

// A check that panics at each file in another way is broken in the same words, however
// many workers meet the files in whatever order.
func TestSameWordsOfAPanicWhateverTheWorkers(t *testing.T) {
	files := map[string]string{}
	for i := range 12 {
		files[fmt.Sprintf("traces/%02d.csv", i)] = cycleText("", 134, 60)
	}
	p := tracePractice(t, files)
	bad := watching("traces/bad", 134, func(x *Examination) { x.Met(Whole) })
	bad.Watch = func(_ *Examination, t *practice.Traced) steam.Setting { panic("at " + t.Name) }
	for _, workers := range []int{1, 2, 4, 8, 8, 8} {
		r, err := Run(context.Background(), p, []Check{bad}, shippedOfTest(t), Options{Workers: workers})
		require.NoError(t, err)
		assert.Contains(t, r.Checks[0].Reason, "at 00.csv")
	}
}

// A logger that writes Greenwich time is brought to the clock on the practice's wall,
// where that is named.
func TestAFileInGreenwichTime(t *testing.T) {
	text := strings.ReplaceAll(cycleText("", 134, 240), "\n09:", "\n2026-07-02T12:")
	text = strings.ReplaceAll(text, ",", "Z,")
	text = strings.Replace(text, "timeZ,", "time,", 1)
	files := map[string]string{
		"sterilizers.csv": "id,method\nS1,steam\n",
		"loads.csv":       "id,started,sterilizer\nL1,2026-07-02 09:03,S1\n",
		"traces/a.csv":    text,
	}
	run := func(profile string) result.Trace {
		dir := t.TempDir()
		tracePracticeIn(t, dir, files)
		require.NoError(t, os.WriteFile(filepath.Join(dir, "practice.yaml"), []byte(profile), 0o644))
		p, err := practice.Read(context.Background(), dir, quantity.NewDay(2026, 11, 24), record.Options{})
		require.NoError(t, err)
		r := auditTraces(t, p, watching("traces/a", 134, func(x *Examination) { x.Met(Whole) }))
		require.Len(t, r.Traces, 1)
		return r.Traces[0]
	}
	got := run("{name: A, regulator: B, time_zone: America/Halifax}")
	assert.Equal(t, []string{"L1", "start", "2026-07-02 09:00:00"}, []string{got.Load, got.By, got.Start})
	got = run("{name: A, regulator: B}")
	assert.Equal(t, []string{"", "2026-07-02 12:00:00"}, []string{got.Load, got.Start})
}

// Where no check could judge any file, the first ones are drawn all the same.
func TestFilesThatNoCheckCouldJudgeAreDrawn(t *testing.T) {
	p := tracePractice(t, map[string]string{"traces/a.csv": "", "traces/b.csv": cycleText("", 134, 240), "traces/c.csv": cycleText("", 134, 60), "traces/d.csv": cycleText("", 134, 60)})
	unclear := watching("traces/a", 134, func(x *Examination) {
		for range x.P.Traces() {
			x.Unclear(Whole, "no sterilizer is typed")
		}
	})
	r := auditTraces(t, p, unclear)
	var drawn []string
	for _, x := range r.Exhibits {
		drawn = append(drawn, x.Chart.File)
		assert.Empty(t, x.Chart.Findings)
	}
	assert.Equal(t, []string{"traces/b.csv", "traces/c.csv"}, drawn)
	assert.Zero(t, r.Undrawn)
}
