package dev

import (
	"bytes"
	"context"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"sync"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"footing/checks"
	"footing/internal/audit"
	"footing/internal/practice"
	"footing/internal/quantity"
	"footing/internal/record"
	"footing/internal/report"
	"footing/internal/result"
)

// Each benchmark compares two things in one run, turn and turn about, and reports
// the ratio of their medians: seconds differ from machine to machine, ratios hardly.

// practiceOf is a practice of some years without traces, made once for all benchmarks.
func practiceOf(b *testing.B, years int) string {
	b.Helper()
	plan := DefaultPlan()
	plan.Years, plan.Traces = years, false
	return madeOnce(b, plan)
}

// tracedPractice is one with a trace a load, a reading a second.
func tracedPractice(b *testing.B, years int) string {
	b.Helper()
	plan := DefaultPlan()
	plan.Years = years
	return madeOnce(b, plan)
}

// madeOnce is the practice of a plan, made once for all that ask for it.
func madeOnce(t testing.TB, plan Plan) string {
	t.Helper()
	madeMu.Lock()
	defer madeMu.Unlock()
	if madeRoot == "" {
		root, err := os.MkdirTemp("", "footing-made-")
		require.NoError(t, err)
		madeRoot = root
	}
	dir, ok := madeDirs[plan]
	if !ok {
		dir = filepath.Join(madeRoot, strconv.Itoa(len(madeDirs)))
		require.NoError(t, Generate(dir, plan))
		madeDirs[plan] = dir
	}
	return dir
}

var (
	madeMu   sync.Mutex
	madeRoot string
	madeDirs = map[Plan]string{}
)

func TestMain(m *testing.M) {
	code := m.Run()
	if madeRoot != "" {
		os.RemoveAll(madeRoot)
	}
	os.Exit(code)
}

func load(b *testing.B, dir string) *practice.Practice {
	b.Helper()
	p, err := practice.Read(context.Background(), dir, quantity.NewDay(LastDay.Date()), record.Options{})
	require.NoError(b, err)
	return p
}

func judge(b *testing.B, p *practice.Practice) *result.Result { return judgeBy(b, p, checks.All()) }

func judgeBy(b *testing.B, p *practice.Practice, battery []audit.Check) *result.Result {
	b.Helper()
	criteria, err := checks.Criteria()
	require.NoError(b, err)
	r, err := audit.Run(context.Background(), p, battery, criteria, audit.Options{})
	require.NoError(b, err)
	return r
}

func write(b *testing.B, r *result.Result) {
	b.Helper()
	require.NoError(b, result.Write(io.Discard, r))
	report.Markdown(r)
	page, err := report.HTML(r)
	require.NoError(b, err)
	_, _ = io.Copy(io.Discard, bytes.NewReader(page))
}

// ratio runs a and c in turn and reports median(a) / median(c).
func ratio(b *testing.B, name string, a, c func()) {
	var as, cs []time.Duration
	timed := func(f func()) time.Duration {
		start := time.Now()
		f()
		return time.Since(start)
	}
	a()
	c()
	for b.Loop() {
		as, cs = append(as, timed(a)), append(cs, timed(c))
	}
	median := func(d []time.Duration) float64 { slices.Sort(d); return float64(d[len(d)/2]) }
	b.ReportMetric(median(as)/median(cs), name)
}

func BenchmarkRatioLoadToPlainDecode(b *testing.B) {
	dir := practiceOf(b, 10)
	ratio(b, "load/decode", func() { load(b, dir) }, func() {
		_, _, err := Plain(dir, false, false)
		require.NoError(b, err)
	})
}

func BenchmarkRatioChecksToLoad(b *testing.B) {
	dir := practiceOf(b, 10)
	p := load(b, dir)
	ratio(b, "checks/load", func() { judge(b, p) }, func() { load(b, dir) })
}

// The checks that follow chains, against loading: less than 1 is asked for.
func BenchmarkRatioChainsToLoad(b *testing.B) {
	dir := practiceOf(b, 10)
	p := load(b, dir)
	battery := ChainChecks()
	ratio(b, "chains/load", func() { judgeBy(b, p, battery) }, func() { load(b, dir) })
}

// A look-back from a load, from a client and from a sterilizer tonight, against loading.
func BenchmarkRatioLookbackToLoad(b *testing.B) {
	dir := practiceOf(b, 10)
	p := load(b, dir)
	middle := p.Loads[len(p.Loads)/2].Row.ID
	ratio(b, "lookback/load", func() {
		answered(b, p, "loads", middle)
		answered(b, p, "clients", p.Clients[0].Row.ID)
		answered(b, p, "sterilizers", p.Sterilizers[0].Row.ID)
	}, func() { load(b, dir) })
}

// The widest there is: of no spore test it is written whether its control grew, so that
// a failure of today, and one of the first weeks, reach through ten years.
func BenchmarkRatioUnboundedLookbackToLoad(b *testing.B) {
	dir := practiceOf(b, 10)
	p := load(b, dir)
	early := ""
	for i := range p.Tests {
		t := &p.Tests[i]
		if t.Control = ""; t.Type == "spore" && early == "" && i > 100 {
			early = t.Row.ID
		}
	}
	require.NotEmpty(b, early)
	ratio(b, "lookback/load", func() {
		answered(b, p, "tests", early)
		answered(b, p, "sterilizers", p.Sterilizers[0].Row.ID)
	}, func() { load(b, dir) })
}

func BenchmarkRatioReportToChecks(b *testing.B) {
	p := load(b, practiceOf(b, 10))
	r := judge(b, p)
	ratio(b, "report/checks", func() { write(b, r) }, func() { judge(b, p) })
}

func BenchmarkRatioTwiceTheSize(b *testing.B) {
	once, twice := practiceOf(b, 5), practiceOf(b, 10)
	all := func(dir string) func() { return func() { write(b, judge(b, load(b, dir))) } }
	ratio(b, "twice/once", all(twice), all(once))
}

// Traces are read, measured and judged, against taking them apart and turning their
// cells into numbers: 0.6 is asked for.
func BenchmarkRatioTracesToPlainTraces(b *testing.B) {
	dir := tracedPractice(b, 1)
	p := load(b, dir)
	battery := TraceChecks()
	ratio(b, "traces/plain", func() { judgeBy(b, p, battery) }, func() {
		_, _, err := PlainTraces(dir, false)
		require.NoError(b, err)
	})
}

func BenchmarkRatioAuditToPlain(b *testing.B) {
	dir := tracedPractice(b, 2)
	ratio(b, "audit/plain", func() { write(b, judge(b, load(b, dir))) }, func() {
		_, _, err := Plain(dir, true, false)
		require.NoError(b, err)
	})
}

func BenchmarkRatioTwiceTheTraces(b *testing.B) {
	one, two := load(b, tracedPractice(b, 1)), load(b, tracedPractice(b, 2))
	battery := TraceChecks()
	ratio(b, "twice/once", func() { judgeBy(b, two, battery) }, func() { judgeBy(b, one, battery) })
}
