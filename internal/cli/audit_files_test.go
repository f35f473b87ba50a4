package cli

import (
	"bytes"
	"encoding/csv"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"footing/internal/demo"
	"footing/internal/report"
	"footing/internal/result"
)

func auditOf(t *testing.T, dir string) *result.Result {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(dir, auditFile))
	require.NoError(t, err)
	r, err := result.Read(bytes.NewReader(data))
	require.NoError(t, err)
	return r
}

func listOf(t *testing.T, dir string) [][]string {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(dir, actionsFile))
	require.NoError(t, err)
	rows, err := csv.NewReader(bytes.NewReader(bytes.TrimPrefix(data, []byte("\ufeff")))).ReadAll()
	require.NoError(t, err)
	return rows
}

// filled writes rows into the folder of records, as a spreadsheet program saves them.
func filled(t *testing.T, at string, rows [][]string) {
	t.Helper()
	var b bytes.Buffer
	b.WriteString("\ufeff")
	require.NoError(t, csv.NewWriter(&b).WriteAll(rows))
	require.NoError(t, os.MkdirAll(filepath.Dir(at), 0o755))
	require.NoError(t, os.WriteFile(at, b.Bytes(), 0o644))
}

// The demo is audited; its list of actions is filled in and put back; it is audited again.
func TestTheListOfActionsComesBack(t *testing.T) {
	base := t.TempDir()
	records := filepath.Join(base, "records")
	require.NoError(t, os.CopyFS(records, demo.FS()))
	audit := func(name string) (string, *result.Result) {
		out := filepath.Join(base, name)
		got := call(t.Context(), "audit", records, "--as-of", "2026-11-24", "--out", out)
		require.Equal(t, Findings, got.status, got.err)
		return out, auditOf(t, out)
	}
	out, first := audit("first")
	list := listOf(t, out)
	steps := 0
	for _, f := range first.Findings {
		steps += len(f.Steps)
	}
	require.Greater(t, steps, 100)
	require.Len(t, list, steps+1)

	column := func(name string) int { return slices.Index(list[0], name) }
	for i := range list[1:] {
		list[i+1][column("owner")], list[i+1][column("due_on")] = "P-01", "2026-12-15"
	}
	filled(t, filepath.Join(records, actionsFile), list)
	out, second := audit("second")
	at := slices.IndexFunc(second.Intake, func(f result.File) bool { return f.File == actionsFile })
	require.GreaterOrEqual(t, at, 0)
	f := second.Intake[at]
	assert.Equal(t, [3]int{steps, steps, 0}, [3]int{f.Rows, f.Accepted, f.SetAside})
	for _, h := range f.Headings {
		assert.NotEmpty(t, h.Field, h.Written)
	}
	require.Len(t, second.Actions, steps)
	answered := map[string]bool{}
	for _, f := range first.Findings {
		answered[f.Fingerprint] = true
	}
	for _, row := range listOf(t, out)[1:] {
		assert.False(t, answered[strings.TrimPrefix(row[column("finding")], "'")], "asked for again: %v", row)
	}

	// One finding's actions are verified: it is found still where it is of a later day, or of none.
	again := first.Findings[0]
	for i := range list[1:] {
		if list[i+1][column("finding")] == again.Fingerprint {
			list[i+1][column("done_on")], list[i+1][column("verified_on")] = "2026-01-02", "2026-01-02"
		}
	}
	filled(t, filepath.Join(records, actionsFile), list)
	out, _ = audit("third")
	var back [][]string
	for _, row := range listOf(t, out)[1:] {
		if row[column("finding")] == again.Fingerprint {
			back = append(back, row)
		}
	}
	require.Len(t, back, len(again.Steps))
	assert.Contains(t, back[0][column("note")], "was verified on 2 Jan 2026")
}

// Nobody's entry in the calendar, and no value of a client, leaves the folder in the
// files that other programs read.
func TestFilesForOtherProgramsNameNoClient(t *testing.T) {
	base := t.TempDir()
	records := filepath.Join(base, "records")
	require.NoError(t, os.CopyFS(records, demo.FS()))
	out := filepath.Join(base, "out")
	require.Equal(t, Findings, call(t.Context(), "audit", records, "--as-of", "2026-11-24", "--out", out).status)
	clients, err := os.ReadFile(filepath.Join(records, "clients.csv"))
	require.NoError(t, err)
	ids := regexp.MustCompile(`(?m)^[A-Z]+-?[0-9]+`).FindAllString(string(clients), -1)
	require.Greater(t, len(ids), 5)
	due, err := os.ReadFile(filepath.Join(out, dueFile))
	require.NoError(t, err)
	require.Contains(t, string(due), "BEGIN:VEVENT")
	for _, id := range ids {
		assert.NotContains(t, string(due), id)
	}
}

// What somebody wrote into actions.csv beside the report is not written over.
func TestAFilledListIsNotWrittenOver(t *testing.T) {
	base := t.TempDir()
	records := loads(t, filepath.Join(base, "records"))
	out := filepath.Join(base, "out")
	require.Equal(t, Findings, call(t.Context(), "audit", records, "--out", out).status)
	require.Equal(t, Findings, call(t.Context(), "audit", records, "--out", out).status)
	at := filepath.Join(out, actionsFile)
	list, err := os.ReadFile(at)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(at, append(list, ",call the technician,2026-12-01,,,,,,,,,\n"...), 0o644))
	before := tree(t, out)
	for _, args := range [][]string{{"audit", records, "--out", out}, {"render", filepath.Join(out, auditFile)}} {
		got := call(t.Context(), args...)
		assert.Equal(t, CouldNot, got.status)
		assert.Contains(t, got.err, "is not written over")
		assert.Contains(t, got.err, "next: move it into the folder of records")
		assert.Equal(t, before, tree(t, out))
	}
	require.NoError(t, os.Rename(at, filepath.Join(records, actionsFile)))
	got := call(t.Context(), "audit", records, "--out", out)
	require.Equal(t, Findings, got.status, got.err)
	assert.Len(t, listOf(t, out), 1, "all of it is in the records now")
}

// What a formula's sign got in front of it does no harm: the reader takes every row.
func TestAHarmlessListIsReadWhole(t *testing.T) {
	base := t.TempDir()
	records := loads(t, filepath.Join(base, "records"))
	out := filepath.Join(base, "out")
	require.Equal(t, Findings, call(t.Context(), "audit", records, "--out", out).status)
	r := auditOf(t, out)
	steps := []string{"=1+1", "+1 more box", "- book the service", "@noon, call", "a\n=1+1", "\"quoted\"; and, so", "'=x"}
	r.Findings = []result.Finding{{Fingerprint: "123456789012", Check: "a/b", Grade: "=2+2", Summary: "=3+3", Steps: steps}}
	require.NoError(t, os.WriteFile(filepath.Join(records, actionsFile), report.ActionsCSV(r), 0o644))
	out = filepath.Join(base, "again")
	require.Equal(t, Findings, call(t.Context(), "audit", records, "--out", out).status)
	again := auditOf(t, out)
	at := slices.IndexFunc(again.Intake, func(f result.File) bool { return f.File == actionsFile })
	assert.Equal(t, [2]int{len(steps), 0}, [2]int{again.Intake[at].Accepted, again.Intake[at].SetAside})
	require.Len(t, again.Actions, len(steps))
	assert.True(t, again.Actions[0].Answers("123456789012"), again.Actions[0].Finding)
}

// Nor does watch write over it: it says so, and goes on reading.
func TestWatchLeavesAFilledList(t *testing.T) {
	base := t.TempDir()
	dir, out := loads(t, filepath.Join(base, "records")), filepath.Join(base, "latest")
	w := watchOver(t, dayNow, "--no-page", "--out", out, dir)
	w.says("Ctrl-C ends the watching", 1)
	put(t, out, map[string]string{actionsFile: "action\ncall the technician\n"})
	before := tree(t, out)
	put(t, dir, map[string]string{"loads.csv": longer})
	w.says("Read again", 1)
	w.says("is not written over", 1)
	w.calledOff()
	assert.Equal(t, before, tree(t, out))
}
