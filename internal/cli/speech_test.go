package cli

import (
	"bytes"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	terminal "github.com/jedib0t/go-pretty/v6/text"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"footing/checks"
)

// What can be piped has no escape code, and what is read on a screen is no wider
// than 80 columns, whatever the records hold; a path is printed whole, to be copied.
func TestWhatIsPrinted(t *testing.T) {
	base := t.TempDir()
	wide := loads(t, filepath.Join(base, "wide"))
	put(t, wide, map[string]string{
		"practice.yaml": "name: \"" + strings.Repeat("Fußpflege", 30) + " \\e[31mred\\u202E\"\nregulator: " + strings.Repeat("漢字", 60) + "\nrenewal_on: 2026-12-24\n",
		"loads.csv":     "id,started,sterilizer,exposure," + strings.Repeat("wide", 50) + "\nL1,2026-11-02," + strings.Repeat("S", 190) + "," + strings.Repeat("x", 300) + ",1\n",
	})
	calls := [][]string{{"demo", filepath.Join(base, "demo")}, {wide}, {"checks"}, {"version"}, {"render", filepath.Join(base, "demo-audit-2026-11-24", auditFile)}}
	for _, c := range checks.All() {
		calls = append(calls, []string{"checks", c.ID})
	}
	for _, args := range calls {
		got := call(t.Context(), args...)
		require.NotEqual(t, CouldNot, got.status, got.err)
		require.NotEmpty(t, got.out)
		assert.Empty(t, got.err, args)
		for line := range strings.Lines(got.out) {
			line = strings.TrimSuffix(line, "\n")
			for _, r := range line {
				require.False(t, r < ' ' || r == 0x7f || r == 0x202e, "%v: %q", args, line)
			}
			if !strings.Contains(line, base) {
				assert.LessOrEqual(t, terminal.StringWidth(line), screen, "%v: %s", args, line)
			}
		}
	}
}

// Every wrong use is told in one line that begins alike, and the thing to do.
func TestWrongUse(t *testing.T) {
	said := regexp.MustCompile(`^footing: [^A-Z\n][^\n]*\nnext: [^\n]+\n$`)
	for _, args := range [][]string{{"version", "x"}, {"checks", "a", "b"}, {"checks", "no/such"}, {"demo", "a", "b"}, {"completion", "tcsh"}, {"completion", "bash", "x"}, {"render"}, {"render", "none.json"},
		{"audit"}, {"audit", "a", "b"}, {"audit", ""}, {""}, {"nowhere"}, {"--seed", "x", "a"}, {"--frob"}, {"audit", "--as-of"}, {".", "--as-of", "2026-02-30"}, {".", "--as-of", "24/11/2026"}, {".", "--rules", "none"}} {
		got := call(t.Context(), args...)
		assert.Equal(t, CouldNot, got.status, args)
		assert.Regexp(t, said, got.err, args)
		assert.Empty(t, got.out, args)
	}
}

// The progress line is plain, and gone when the work is.
func TestMeter(t *testing.T) {
	var b bytes.Buffer
	m := &meter{w: &b, started: time.Now().Add(-2 * patience)}
	m.reading(0, 100)
	m.reading(50, 100)
	m.checking(1, 9)
	m.end()
	text := b.String()
	assert.Contains(t, text, "reading records")
	assert.Contains(t, text, "checking")
	assert.NotContains(t, text, "\x1b")
	parts := strings.Split(strings.TrimRight(text, "\r\n"), "\r")
	assert.Empty(t, strings.TrimSpace(parts[len(parts)-1]), "%q", text)

	b.Reset()
	m = &meter{w: &b, started: time.Now()}
	m.reading(1, 2)
	m.end()
	assert.Empty(t, b.String(), "nothing is shown of short work")
	newMeter(&b).reading(1, 2)
	assert.Empty(t, b.String(), "nothing is shown where no one looks")
}
