package cli

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	terminal "github.com/jedib0t/go-pretty/v6/text"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"footing/internal/trace"
)

// cycleOf is a data-logger file with a reading every 10 s: heating, a hold at 134 °C
// and a little, with readings as many as asked, cooling.
func cycleOf(day, readings int) string {
	var b strings.Builder
	fmt.Fprintf(&b, "sterilizer,S1\ncounter,%d\ndate,2026-03-%02d\ntime,temperature [°C],pressure [kPa absolute]\n", 400+day, day)
	at := 0
	add := func(celsius, kPa float64) {
		fmt.Fprintf(&b, "09:%02d:%02d,%.1f,%.1f\n", at/60, at%60, celsius, kPa)
		at += 10
	}
	for c := 20.0; c < 134; c += 10 {
		add(c, 101.3)
	}
	for range readings {
		add(134.5, 308)
	}
	add(120, 190)
	add(95, 101.3)
	return b.String()
}

func TestCycleOfOneFile(t *testing.T) {
	base := put(t, t.TempDir(), map[string]string{"398.csv": cycleOf(2, 20)})
	got := call(t.Context(), "cycle", filepath.Join(base, "398.csv"), "--set", "134 °C", "--hold", "3 min")
	require.Equal(t, Done, got.status, got.err)
	assert.Empty(t, got.err)
	text := strings.Join(strings.Fields(got.out), " ")
	for _, says := range []string{"First reading 2 Mar 2026 09:00", "Held as asked met: held for 3 min 10 s at least; 3 min was asked", "a second opinion, and never a ground for release",
		"A reading of a trace is no release", "A trace never overrules"} {
		assert.Contains(t, text, says)
	}
}

// What is read on a screen is no wider than 80 columns, and nothing in a file steers it.
func TestCyclePrintsForAScreen(t *testing.T) {
	odd := strings.Repeat("wide", 40) + "\x1b[31m\u202e漢字"
	file := strings.Replace(cycleOf(2, 20), "temperature [°C]", odd+" temperature [°C]", 1)
	base := put(t, t.TempDir(), map[string]string{"a.csv": file, "b.csv": cycleOf(3, 4), strings.Repeat("long", 30) + ".csv": cycleOf(4, 20), "junk.csv": "nothing\nof\nours\n"})
	t.Chdir(base)
	for _, args := range [][]string{{"cycle", "a.csv"}, {"cycle", "a.csv", "b.csv"}, {"cycle", "."}, {"cycle", ".", "--hold", "3 min"}} {
		got := call(t.Context(), args...)
		require.NotEmpty(t, got.out, args)
		for line := range strings.Lines(got.out) {
			line = strings.TrimSuffix(line, "\n")
			assert.LessOrEqual(t, terminal.StringWidth(line), screen, "%v: %s", args, line)
			for _, r := range line {
				require.False(t, r < ' ' || r == 0x7f || r == 0x202e, "%v: %q", args, line)
			}
		}
	}
}

// Many files: a row each, in the order of their names, whatever worker reads them; a
// count of all; what could not be read is told after the others.
func TestCycleOfMany(t *testing.T) {
	files := map[string]string{"2026/junk.csv": "nothing of ours\n", "layout.yaml": "- {files: other-*.csv, time: t}\n", ".hidden.csv": "x", "_old/x.csv": "x"}
	for i := range 60 {
		files[fmt.Sprintf("2026/S1-%05d.csv", i)] = cycleOf(1+i%28, 10+i%12)
	}
	base := put(t, filepath.Join(t.TempDir(), "traces"), files)
	before := tree(t, base)
	got := call(t.Context(), "cycle", base, "--set", "134 °C", "--hold", "3 min", "--tolerance", "0 K")
	assert.Equal(t, CouldNot, got.status)
	names := regexp.MustCompile(`(?m)^2026/S1-\d+\.csv `).FindAllString(got.out, -1)
	assert.Len(t, names, 60)
	assert.True(t, slices.IsSorted(names))
	assert.Regexp(t, `(?m)^2026/S1-00000\.csv +2026-03-01 09:00 +134 .*not met$`, got.out)
	assert.Regexp(t, `(?m)^2026/S1-00011\.csv +2026-03-12 09:00 +134 .* met$`, got.out)
	assert.Regexp(t, `61 data-logger files; 15 met; \d+ not met; \d+ cannot be told; 1 could\s+not\s+be\s+judged\.`, got.out)
	assert.Contains(t, got.err, "footing: 2026/junk.csv cannot be judged")
	assert.Equal(t, got.out, call(t.Context(), "cycle", base, "--set", "134 °C", "--hold", "3 min", "--tolerance", "0 K").out)
	assert.Equal(t, before, tree(t, base), "files are only read")
}

// With --out: a chart of each file, and a page whose parts have ids of their own, which
// fetches nothing and holds no script.
func TestCycleOut(t *testing.T) {
	files := map[string]string{"odd <script>alert(1)<script> & \"x\".csv": cycleOf(1, 3)}
	for i := range 30 {
		files[fmt.Sprintf("S1-%02d.csv", i)] = cycleOf(1+i%28, 20)
	}
	base := t.TempDir()
	put(t, filepath.Join(base, "traces"), files)
	out := filepath.Join(base, "made", "charts")
	got := call(t.Context(), "cycle", filepath.Join(base, "traces"), "--hold", "3 min", "--set", "134 °C", "--out", out)
	require.Equal(t, Done, got.status, got.err)
	assert.Contains(t, got.out, filepath.Join(out, cyclePage))
	written := tree(t, out)
	assert.Len(t, written, 32)
	page := written[cyclePage]
	assert.Contains(t, page, "default-src 'none'")
	assert.NotContains(t, page, "<script")
	assert.NotContains(t, page, base)
	assert.Equal(t, sections, strings.Count(page, "<svg"))
	assert.Contains(t, page, "<h2>odd &lt;script&gt;alert(1)", "the one that is not met has its section though its name is the last")
	assert.Contains(t, page, "the charts of the other 7 lie beside this page")
	seen := map[string]bool{}
	for _, m := range regexp.MustCompile(`\sid="([^"]+)"`).FindAllStringSubmatch(page, -1) {
		assert.False(t, seen[m[1]], m[1])
		seen[m[1]] = true
	}
	for _, m := range regexp.MustCompile(`aria-labelledby="([^"]+)"`).FindAllStringSubmatch(page, -1) {
		for _, id := range strings.Fields(m[1]) {
			assert.True(t, seen[id], id)
		}
	}
	for _, m := range regexp.MustCompile(`href="([^"]+\.svg)"`).FindAllStringSubmatch(page, -1) {
		assert.Contains(t, written, m[1])
	}
	left, err := filepath.Glob(filepath.Join(base, "made", ".footing-*"))
	require.NoError(t, err)
	assert.Empty(t, left)
}

func TestCyclePlacesThatAreRefused(t *testing.T) {
	base := t.TempDir()
	traces := put(t, filepath.Join(base, "traces"), map[string]string{"a.csv": cycleOf(1, 20)})
	put(t, base, map[string]string{"mine/letter.txt": "mine", "file": ""})
	shut := unwritable(t)
	before := tree(t, base)
	for out, says := range map[string]string{filepath.Join(base, "mine"): "already holds other files, such as letter.txt", traces: "which is only read", filepath.Join(traces, "new"): "which is only read",
		filepath.Join(base, "file"): "cannot take the charts", filepath.Join(shut, "out"): "the charts could not be written to"} {
		got := call(t.Context(), "cycle", traces, "--out", out)
		assert.Equal(t, CouldNot, got.status, out)
		assert.Contains(t, got.err, says)
		assert.Contains(t, got.err, "\nnext: ")
		assert.Empty(t, got.out)
	}
	assert.Equal(t, before, tree(t, base))
	empty := put(t, filepath.Join(base, "empty"), map[string]string{".DS_Store": "left by a file manager"})
	require.Equal(t, Done, call(t.Context(), "cycle", traces, "--out", empty).status)
	assert.FileExists(t, filepath.Join(empty, "a.svg"))
	assert.FileExists(t, filepath.Join(empty, ".DS_Store"))
}

// Wherever it is called off, it leaves things as they were and prints nothing.
func TestCycleCalledOffAtAnyPoint(t *testing.T) {
	base := t.TempDir()
	traces := put(t, filepath.Join(base, "traces"), map[string]string{"a.csv": cycleOf(1, 20), "b.csv": cycleOf(2, 20), "c.csv": cycleOf(3, 20)})
	before := tree(t, base)
	stopped := 0
	for ; ; stopped++ {
		got := call(stopAfter(stopped), "cycle", traces, "--out", filepath.Join(base, "out"))
		if got.status != CouldNot {
			break
		}
		require.Contains(t, got.err, "footing: stopped before the end", stopped)
		require.Empty(t, got.out)
		require.Equal(t, before, tree(t, base), stopped)
		require.Less(t, stopped, 10000)
	}
	assert.Greater(t, stopped, 3)
	assert.FileExists(t, filepath.Join(base, "out", cyclePage))
}

// What cannot be printed was not done, unless it stands in a folder.
func TestCycleThatCannotBePrinted(t *testing.T) {
	base := put(t, t.TempDir(), map[string]string{"a.csv": cycleOf(1, 20)})
	for _, c := range []struct {
		args   []string
		status int
	}{{[]string{"cycle", filepath.Join(base, "a.csv")}, CouldNot}, {[]string{"cycle", filepath.Join(base, "a.csv"), "--out", filepath.Join(base, "out")}, Done}} {
		var errOut strings.Builder
		assert.Equal(t, c.status, run(context.Background(), c.args, nil, full{}, &errOut, dayNow))
		assert.Contains(t, errOut.String(), "could not be printed")
	}
}

// Published pairs of time and temperature, as a file of readings that stay where they
// are. A0: the equivalents in the answers of the World Forum for Hospital Sterile
// Supply. F0: the reference cycle of the European Pharmacopoeia, 15 min at 121 °C, as in
// the EMA's decision tree. FH: 60 min at 170 °C, British Pharmacopoeia 1993, second hand.
func TestCycleAgainstPublishedPairs(t *testing.T) {
	base := t.TempDir()
	for i, c := range []struct {
		celsius, minutes int
		args             []string
		says             string
	}{
		{80, 10, []string{"--method", "washer"}, "A0 600 s over all readings"},
		{90, 1, []string{"--method", "washer"}, "A0 600 s over all readings"},
		{70, 100, []string{"--method", "washer"}, "A0 600 s over all readings"},
		{90, 5, []string{"--method", "washer"}, "A0 3,000 s over all readings"},
		{121, 15, []string{"--reference", "121.0 °C"}, "F0 15.0 min over all readings"},
		{170, 60, []string{"--method", "dry-heat"}, "FH 60.0 min over all readings"},
	} {
		var b strings.Builder
		b.WriteString("elapsed [s],temperature [°C]\n")
		for at := 0; at <= c.minutes*60; at += 20 {
			fmt.Fprintf(&b, "%d,%d.0\n", at, c.celsius)
		}
		name := fmt.Sprintf("%d.csv", i)
		put(t, base, map[string]string{name: b.String()})
		got := call(t.Context(), append([]string{"cycle", filepath.Join(base, name)}, c.args...)...)
		require.Equal(t, Done, got.status, got.err)
		assert.Contains(t, strings.Join(strings.Fields(got.out), " "), c.says)
	}
}

// The layout that the guide shows is one that can be read.
func TestTheGuidesLayout(t *testing.T) {
	guide, err := os.ReadFile("../../docs/guide.md")
	require.NoError(t, err)
	_, after, found := strings.Cut(string(guide), "of which the first that fits a file is used.\n\n")
	require.True(t, found)
	var text strings.Builder
	for line := range strings.Lines(after) {
		code, ok := strings.CutPrefix(line, "    ")
		if !ok {
			break
		}
		text.WriteString(code)
	}
	require.Greater(t, strings.Count(text.String(), "\n"), 5)
	layouts, problems := trace.ParseLayouts([]byte(text.String()))
	assert.Empty(t, problems)
	assert.Equal(t, 2, layouts.Entries)
}

// A layout of which no entry is for the file is told, and why that may be.
func TestCycleWithALayoutForOtherFiles(t *testing.T) {
	mapped := "A,B\n09:00:00,20.0\n09:00:10,90.0\n09:00:20,134.5\n"
	entry := "- {files: \"a*.csv\", sterilizer: S1, time: A, temperature: {column: B, unit: °C}}\n"
	base := put(t, t.TempDir(), map[string]string{"a.csv": mapped, "named.csv": mapped, "a-own.csv": "Sterilizer: S1\n" + mapped, "picture.csv": "\x89PNG\r\n\x1a\n\x00",
		"layout.yaml": entry, "other.yaml": strings.Replace(entry, "time: A", "time: X", 1), "bare.yaml": strings.Replace(entry, ", sterilizer: S1, time: A", ", time: X", 1)})
	t.Chdir(base)
	const told = "no entry of the layout is for this file"
	for _, c := range []struct {
		file, layout string
		says, says2  bool
	}{{"a.csv", "layout.yaml", true, false}, {"named.csv", "layout.yaml", true, false}, {"a-own.csv", "layout.yaml", false, false}, {"a.csv", "bare.yaml", false, true}, {"picture.csv", "layout.yaml", false, false}} {
		got := call(t.Context(), "cycle", c.file, "--layout", c.layout)
		text := strings.Join(strings.Fields(got.out+got.err), " ")
		assert.Equal(t, c.says, strings.Contains(text, told), "%s: %s", c.file, text)
		assert.Equal(t, c.says2, strings.Contains(text, "its columns were not found in it"), "%s: %s", c.file, text)
	}
}

// A file that begins or ends at temperature does not show how long it was held.
func TestCycleThatIsCutOff(t *testing.T) {
	whole := cycleOf(2, 20)
	torn := strings.Join(strings.SplitAfter(whole, "\n")[:26], "")
	base := put(t, t.TempDir(), map[string]string{"torn.csv": torn, "whole.csv": whole})
	t.Chdir(base)
	const told = "; the file ends in it, so that it may have lasted longer"
	out := func(args ...string) string { return strings.Join(strings.Fields(call(t.Context(), args...).out), " ") }
	assert.Contains(t, out("cycle", "torn.csv", "--set", "134 °C"), told)
	assert.NotContains(t, out("cycle", "whole.csv", "--set", "134 °C"), told)
	assert.Regexp(t, `torn.csv 2026-03-02 09:00 134 \d:\d\d– 134.5 .* whole.csv 2026-03-02 09:00 134 3:10–3:\d\d 134.5`, out("cycle", ".", "--set", "134 °C"))
}

// F0 is the name of one reference; a value by another one does not bear it.
func TestCycleByAnotherReference(t *testing.T) {
	base := put(t, t.TempDir(), map[string]string{"a.csv": cycleOf(2, 20)})
	for reference, name := range map[string]string{"121.0 °C": "F0", "250 °F": "F0", "120.9 °C": "F", "134 °C": "F"} {
		got := call(t.Context(), "cycle", filepath.Join(base, "a.csv"), "--reference", reference)
		assert.Regexp(t, `(?m)^`+name+` +\d`, got.out, reference)
	}
	assert.Regexp(t, `(?m)^A0 `, call(t.Context(), "cycle", filepath.Join(base, "a.csv"), "--method", "washer", "--reference", "80 °C").out)
}

// A flag has no heading in which the unit could stand.
func TestCycleFlagsWithoutUnits(t *testing.T) {
	for _, flag := range []string{"--set", "--hold", "--altitude", "--reference", "--tolerance"} {
		got := call(t.Context(), "cycle", "a.csv", flag, "5")
		assert.Equal(t, CouldNot, got.status)
		assert.Contains(t, got.err, "write the unit with it")
		assert.NotContains(t, got.err, "heading", flag)
	}
}
