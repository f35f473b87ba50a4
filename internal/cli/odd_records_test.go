package cli

import (
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"footing/internal/result"
)

// only is the audit of a folder that holds these files, and what the call said.
func only(t *testing.T, files map[string]string) (*result.Result, said) {
	t.Helper()
	base := t.TempDir()
	got := call(t.Context(), put(t, filepath.Join(base, "records"), files), "--out", filepath.Join(base, "out"))
	require.Empty(t, got.err)
	r := audited(t, filepath.Join(base, "out"))
	require.Zero(t, r.Counts.Broken)
	return r, got
}

// A practice that has typed its name alone is told what to keep, and of no fault.
func TestOnlyPractice(t *testing.T) {
	r, got := only(t, map[string]string{"practice.yaml": practiceOfTest})
	assert.Equal(t, Done, got.status)
	assert.Empty(t, r.Findings)
	assert.Zero(t, r.Counts.Nonconforming)
	assert.Positive(t, r.Counts.NotAssessed)
	assert.False(t, r.Conclusion.Stop)
	require.NotNil(t, r.NextField)
	assert.Contains(t, got.out, "From today on")
}

// Bytes that are no records: named, with what to do, and nothing is made of them.
func TestOnlyJunk(t *testing.T) {
	junk := make([]byte, 1<<18)
	_, _ = rand.NewChaCha8([32]byte{}).Read(junk)
	for _, name := range []string{"loads.csv", "loads.json", "loads.jsonl", "loads.yaml", "practice.yaml"} {
		r, got := only(t, map[string]string{name: string(junk)})
		assert.Equal(t, Findings, got.status, name)
		require.Len(t, r.Findings, 1, name)
		f := r.Findings[0]
		assert.Equal(t, "records/valid", f.Check)
		assert.Equal(t, name, f.Subject.ID)
		assert.NotEmpty(t, f.Steps)
		assert.Contains(t, got.out, name)
		assert.False(t, r.Conclusion.Stop)
	}
	base := t.TempDir()
	got := call(t.Context(), put(t, filepath.Join(base, "records"), map[string]string{"scan.pdf": string(junk), "notes.txt": "hello"}))
	assert.Equal(t, CouldNot, got.status)
	assert.Contains(t, got.err, "no records were found")
	assert.Contains(t, got.err, "scan.pdf")
	assert.Contains(t, got.err, "\nnext: ")
	list, err := os.ReadDir(base)
	require.NoError(t, err)
	assert.Len(t, list, 1, "no report of nothing")
}

// 200 MB in one line is refused by its size before it is read; one just under the
// limit is read and refused. Neither takes long.
func TestOneEndlessLine(t *testing.T) {
	for size, says := range map[int64]string{200 << 20: "200 MiB", 60 << 20: "no text"} {
		base := t.TempDir()
		records := put(t, filepath.Join(base, "records"), map[string]string{"practice.yaml": practiceOfTest, "loads.csv": "id,started,exposure\nL1,2026-11-02,"})
		require.NoError(t, os.Truncate(filepath.Join(records, "loads.csv"), size))
		began := time.Now()
		got := call(t.Context(), records, "--out", filepath.Join(base, "out"))
		assert.Less(t, time.Since(began), 30*time.Second)
		require.Equal(t, Findings, got.status, got.err)
		r := audited(t, filepath.Join(base, "out"))
		require.Len(t, r.Findings, 1)
		assert.Contains(t, r.Findings[0].Summary, says)
		assert.NotEmpty(t, r.Findings[0].Steps)
		assert.Zero(t, r.Counts.Broken)
		assert.Less(t, len(tree(t, filepath.Join(base, "out"))[auditFile]), 1<<20, "the line is not told again")
	}
}

// A rules file that is named is followed in the place of the folder's own, and both are listed.
func TestRulesFileNamed(t *testing.T) {
	base := t.TempDir()
	records := loads(t, filepath.Join(base, "records"))
	own := "criteria:\n  - {criterion: cycles.exposure, value: 121 °C = 2 min, source: the folder's own}\n"
	put(t, records, map[string]string{"rules.yaml": own})
	exposure := func(args ...string) *result.Result {
		out := t.TempDir()
		got := call(t.Context(), append([]string{"audit", records, "--out", out}, args...)...)
		require.NotEqual(t, CouldNot, got.status, got.err)
		return audited(t, out)
	}
	source := func(r *result.Result) (list []string) {
		for _, rule := range r.Rules {
			list = append(list, rule.Theirs+", "+rule.Source)
		}
		return list
	}
	assert.Equal(t, []string{"2 min at 121 °C, the folder's own"}, source(exposure()))

	named := put(t, filepath.Join(base, "elsewhere"), map[string]string{"council rules.yaml": strings.ReplaceAll(strings.ReplaceAll(own, "2 min", "30 min"), "the folder's own", "the council")})
	t.Chdir(named)
	r := exposure("--rules", "council rules.yaml")
	assert.Equal(t, []string{"30 min at 121 °C, the council"}, source(r))
	assert.Equal(t, Findings, status(r), "the 3 min load falls short of the rules named")
	var read, not []string
	for _, f := range r.Intake {
		read = append(read, f.File)
	}
	for _, n := range r.NotRead {
		not = append(not, n.File)
		assert.NotEmpty(t, n.Why)
	}
	assert.Contains(t, read, "council rules.yaml")
	assert.NotContains(t, read, "rules.yaml")
	assert.Equal(t, []string{"rules.yaml"}, not)
	for _, bad := range []string{"none.yaml", ".", "council rules.txt"} {
		put(t, named, map[string]string{"council rules.txt": own})
		got := call(t.Context(), records, "--rules", bad)
		assert.Equal(t, CouldNot, got.status, bad)
		assert.Contains(t, got.err, "\nnext: ", bad)
		assert.Contains(t, got.err, "rules", bad)
	}
	assert.NoDirExists(t, records+"-audit-"+dayOfTest)
}
