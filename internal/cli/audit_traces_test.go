package cli

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// loggerText is a made-up cycle at 121 °C for so many minutes, read every ten seconds.
func loggerText(minutes int) string {
	var b strings.Builder
	b.WriteString("elapsed [s],temperature [°F],pressure [psi absolute]\n")
	seconds := 0
	add := func(celsius, psi float64) {
		fmt.Fprintf(&b, "%d,%.1f,%.2f\n", seconds, celsius*9/5+32, psi)
		seconds += 10
	}
	for c := 20.0; c < 121.5; c += 3 {
		add(c, 14.7+(c-20)/6)
	}
	for i := range 6*minutes + 1 {
		add(121.5+float64(i%3)/10, 30.1+float64(i%3)/10)
	}
	for c := 118.0; c > 70; c -= 3 {
		add(c, 14.7)
	}
	return b.String()
}

// What is drawn from audit.json is what was drawn at first, to the last figure.
func TestRenderDrawsTheSameCharts(t *testing.T) {
	base := t.TempDir()
	require.Equal(t, Done, call(context.Background(), "demo", filepath.Join(base, "demo")).status)
	out := filepath.Join(base, "demo-audit-2026-11-24")
	again := filepath.Join(base, "again")
	require.Equal(t, Done, call(context.Background(), "render", filepath.Join(out, auditFile), "--out", again).status)
	first := tree(t, out)
	require.Contains(t, first[pageFile], "<svg")
	second := tree(t, again)
	for name := range first {
		assert.True(t, first[name] == second[name], "%s is another when it is rendered again", name)
	}
	assert.Len(t, second, len(first))
}

// Whatever lies in the folder traces is told, and stops nothing.
func TestOddFoldersOfTraces(t *testing.T) {
	base := t.TempDir()
	records := loads(t, filepath.Join(base, "records"))
	out := filepath.Join(base, "out")
	audit := func() said { return call(context.Background(), "audit", records, "--out", out) }

	require.NoError(t, os.Mkdir(filepath.Join(records, "traces"), 0o755))
	require.Equal(t, Findings, audit().status, "a folder without files")
	assert.Empty(t, audited(t, out).Traces)

	put(t, records, map[string]string{
		"traces/L1.csv":           loggerText(31),
		"traces/folder.csv/a.csv": loggerText(30),
		"traces/empty.csv":        "",
		"traces/picture.csv":      "\x89PNG\r\n\x1a\n\x00\x00",
		"traces/.hidden.csv":      loggerText(30),
		"traces/_draft.csv":       loggerText(30),
		"traces/shut.csv":         loggerText(30),
	})
	require.NoError(t, os.Chmod(filepath.Join(records, "traces", "shut.csv"), 0))
	linked := os.Symlink(filepath.Join(base, "elsewhere.csv"), filepath.Join(records, "traces", "link.csv")) == nil
	require.Equal(t, Findings, audit().status)
	r := audited(t, out)
	told := map[string]string{}
	for _, f := range r.Traces {
		told[f.File] = fmt.Sprint(f.Judged)
		assert.Equal(t, f.Lines, f.Heading+f.Readings+f.Aside, f.File)
		assert.True(t, f.Judged || f.Why != "", f.File)
	}
	for _, f := range r.NotRead {
		told[f.File] = "not read"
	}
	want := map[string]string{"traces/L1.csv": "true", "traces/folder.csv/a.csv": "true", "traces/empty.csv": "false", "traces/picture.csv": "false"}
	if linked {
		want["traces/link.csv"] = "not read"
	}
	for name, is := range want {
		assert.Equal(t, is, told[name], name)
	}
	if _, err := os.ReadFile(filepath.Join(records, "traces", "shut.csv")); err != nil { // to some who run this no file is shut
		assert.Equal(t, "false", told["traces/shut.csv"])
	}
}
