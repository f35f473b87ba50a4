package cli

import (
	"context"
	"os"
	"path/filepath"
	"runtime"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const dayOfTest = "2026-11-24"

// link makes a link to a folder; false where the system gives this user none.
func link(t *testing.T, to, at string) bool {
	t.Helper()
	err := os.Symlink(to, at)
	if runtime.GOOS == "windows" && err != nil {
		return false
	}
	require.NoError(t, err)
	return true
}

func isReport(t *testing.T, dir string) {
	t.Helper()
	for _, name := range auditOutput.files {
		assert.FileExists(t, filepath.Join(dir, name))
	}
	left, err := filepath.Glob(filepath.Join(dir, ".footing-*"))
	require.NoError(t, err)
	assert.Empty(t, left)
}

// A folder that is there already stays the same folder: someone stands in it, or
// a link leads to it.
func TestReportsIntoAFolderThatIsThere(t *testing.T) {
	base := t.TempDir()
	records := loads(t, filepath.Join(base, "records"))
	here := put(t, filepath.Join(base, "here"), map[string]string{".DS_Store": "left by a file manager"})
	t.Chdir(here)
	for range 2 {
		got := call(t.Context(), "audit", "../records", "--out", ".")
		require.Equal(t, Findings, got.status, got.err)
		isReport(t, ".")
		require.Equal(t, Done, call(t.Context(), "render", auditFile).status)
		isReport(t, ".")
	}
	assert.FileExists(t, ".DS_Store")

	target := put(t, filepath.Join(base, "target"), nil)
	at := filepath.Join(base, "link")
	if link(t, target, at) {
		require.Equal(t, Findings, call(t.Context(), "audit", records, "--out", at).status)
		isReport(t, target)
		info, err := os.Lstat(at)
		require.NoError(t, err)
		assert.NotZero(t, info.Mode()&os.ModeSymlink, "the link stays")
	}
}

// What is not this program's is left alone.
func TestPlacesThatAreRefused(t *testing.T) {
	base := t.TempDir()
	records := loads(t, filepath.Join(base, "records"))
	mine := put(t, filepath.Join(base, "mine"), map[string]string{markdownFile: "my own report\n"})
	other := put(t, filepath.Join(base, "other"), map[string]string{auditFile: `{"format": "something else"}`})
	put(t, filepath.Join(base, "deep"), map[string]string{auditFile: `{"format": "footing audit 2"}`, "report.html/mine.txt": "mine"})
	put(t, base, map[string]string{"file": ""})
	links := link(t, "nowhere", filepath.Join(base, "dangling")) && link(t, records, filepath.Join(records, "self"))
	before := tree(t, base)
	type place struct{ folder, out, says string }
	places := []place{
		{records, mine, "already holds a file report.md"},
		{records, other, "already holds a file audit.json"},
		{records, filepath.Join(base, "deep"), "already holds other files, such as report.html"},
		{records, base, "already holds other files, such as"},
		{records, records, "which is only read"},
		{records, filepath.Join(records, "new", "deeper"), "which is only read"},
		{records, filepath.Join(base, "file"), "cannot take the reports"},
		{records, filepath.Join(base, "file", "below"), "cannot take the reports"},
		{"", "", "the folder's name is empty"},
	}
	if links {
		places = append(places, place{records, filepath.Join(base, "dangling"), "is a link that leads nowhere"},
			place{records, filepath.Join(records, "self", "new"), "which is only read"},
			place{filepath.Join(records, "self"), "", "which is only read"})
	}
	for _, p := range places {
		args := []string{"audit", p.folder}
		if p.out != "" {
			args = append(args, "--out", p.out)
		}
		got := call(t.Context(), args...)
		assert.Equal(t, CouldNot, got.status, p.out)
		assert.Contains(t, got.err, p.says)
		assert.Contains(t, got.err, "next: ")
		assert.Empty(t, got.out)
	}
	assert.Equal(t, before, tree(t, base))
}

// Where one file cannot take its place, the earlier ones all come back.
func TestExchangeIsWholeOrNotAtAll(t *testing.T) {
	base := t.TempDir()
	from := put(t, filepath.Join(base, "from"), map[string]string{"a": "new", "b": "new"})
	to := put(t, filepath.Join(base, "to"), map[string]string{"a": "old", "c": "old", "mine": "mine"})
	earlier := put(t, filepath.Join(base, "earlier"), nil)
	before := tree(t, to)
	require.Error(t, exchange(from, to, earlier, []file{{name: "a"}, {name: "b"}, {name: "c"}}), "there is no new c")
	assert.Equal(t, before, tree(t, to))
	put(t, from, map[string]string{"a": "new", "b": "new", "c": "new"})
	require.NoError(t, exchange(from, to, earlier, []file{{name: "a"}, {name: "b"}, {name: "c"}}))
	assert.Equal(t, map[string]string{"a": "new", "b": "new", "c": "new", "mine": "mine"}, tree(t, to))
}

// Names that a shell makes hard: spaces, a slash at the end, parts that lead up and down again.
func TestNamesOfFolders(t *testing.T) {
	base := t.TempDir()
	t.Chdir(base)
	for folder, out := range map[string]string{
		"two words/my records":         "two words/my records-audit-" + dayOfTest,
		"slash/":                       "slash-audit-" + dayOfTest,
		"up/../around":                 "around-audit-" + dayOfTest,
		"100% – “Zürich” & #1;records": "100% – “Zürich” & #1;records-audit-" + dayOfTest,
	} {
		loads(t, folder)
		got := call(t.Context(), folder)
		require.Equal(t, Findings, got.status, got.err)
		isReport(t, out)
	}
	loads(t, "records")
	require.Equal(t, Findings, call(t.Context(), "records", "--out", "made/as/needed/").status)
	isReport(t, "made/as/needed")
	t.Chdir("records")
	require.Equal(t, Findings, call(context.Background(), ".").status)
	isReport(t, "../records-audit-"+dayOfTest)
}

func TestTheQuotationMarkThatWindowsLeaves(t *testing.T) {
	assert.Equal(t, `C:\my records\`, unquoted(`C:\my records\"`, "windows"))
	assert.Equal(t, `C:\my records`, unquoted(`C:\my records`, "windows"))
	assert.Equal(t, `6" pots`, unquoted(`6" pots`, "windows"), "one in the middle is for the system to refuse")
	assert.Equal(t, `pots 6"`, unquoted(`pots 6"`, "linux"))
}

// Nothing in the reports tells where on this machine the records lie.
func TestReportsDoNotTellWhereTheRecordsLie(t *testing.T) {
	base := t.TempDir()
	records := loads(t, filepath.Join(base, "records"))
	put(t, records, map[string]string{"letter.doc": "x", "traces/a.csv": "x", "broken.json": "{", "stock.json": "{", "packs/a/b.csv": "id\nK1\n"})
	rules := put(t, filepath.Join(base, "elsewhere"), map[string]string{"rules.yaml": "criteria: [\n"})
	out := filepath.Join(base, "out")
	require.Equal(t, Findings, call(t.Context(), "audit", records, "--out", out, "--rules", filepath.Join(rules, "rules.yaml")).status)
	for name, text := range tree(t, out) {
		assert.NotContains(t, text, base, name)
		assert.NotContains(t, text, filepath.ToSlash(base), name)
	}
}

// Each command takes the place of an earlier output of its own, and of nothing else.
func TestOutputsOfOtherCommandsAreLeftAlone(t *testing.T) {
	base := t.TempDir()
	outputs := []output{auditOutput, lookbackOutput, drawOutput}
	for _, of := range outputs {
		dir := put(t, filepath.Join(base, of.name), map[string]string{of.files[0]: `{"format": "` + of.lead + `1"}`, of.files[1]: "", ".DS_Store": ""})
		page := put(t, filepath.Join(base, of.name+"-page"), map[string]string{of.files[1]: "mine"})
		for _, o := range outputs {
			err := o.free(dir)
			if o.name == of.name {
				require.NoError(t, err)
				assert.ErrorContains(t, o.free(page), "already holds a file "+o.files[1]+", and no "+o.files[0]+" of this program")
				continue
			}
			assert.ErrorContains(t, err, "already holds other files, such as", "%s into %s", o.name, of.name)
		}
	}
}
