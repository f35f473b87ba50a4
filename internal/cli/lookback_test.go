package cli

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	terminal "github.com/jedib0t/go-pretty/v6/text"
	"github.com/santhosh-tekuri/jsonschema/v5"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// lookbackSchema is the schema of lookback.json, from our own files alone.
func lookbackSchema(t *testing.T) *jsonschema.Schema {
	t.Helper()
	c := jsonschema.NewCompiler()
	files, err := filepath.Glob("../../schemas/*.json")
	require.NoError(t, err)
	for _, name := range files {
		data, err := os.ReadFile(name)
		require.NoError(t, err)
		var head struct {
			ID string `json:"$id"`
		}
		require.NoError(t, json.Unmarshal(data, &head))
		require.NoError(t, c.AddResource(head.ID, bytes.NewReader(data)))
	}
	s, err := c.Compile("urn:footing:lookback")
	require.NoError(t, err)
	return s
}

// everyLookback is a question of each kind about the demonstration's records.
var everyLookback = [][]string{
	{"--load", "L-226"}, {"--test", "T-015"}, {"--sterilizer", "S1"}, {"--sterilizer", "S1", "--since", "2026-09-01"}, {"--pack", "K-001"},
	{"--instrument", "N-5"}, {"--client", "C-001"}, {"--visit", "V-001"}, {"--complaint", "Q-1"},
}

// never are words that no page of ours says of what is the user's.
var never = regexp.MustCompile(`(?i)\b(safe|compliant|guarantee\w*|will pass|was exposed|were exposed)\b`)

// Whatever is asked: the document has its shape, what is printed fits the screen, and
// nothing is said that must not be.
func TestEveryLookback(t *testing.T) {
	schema := lookbackSchema(t)
	base := t.TempDir()
	folder := filepath.Join(base, "demo")
	require.Zero(t, call(t.Context(), "demo", folder).status)
	put(t, folder, map[string]string{"complaints.csv": "id,received_on,client\nQ-1,2026-11-20,C-001\n"})
	for _, args := range everyLookback {
		out := filepath.Join(base, "out")
		got := call(t.Context(), append([]string{"lookback", folder, "--out", out}, args...)...)
		require.Zero(t, got.status, "%v: %s", args, got.err)
		assert.Empty(t, got.err, args)
		for line := range strings.Lines(got.out) {
			line = strings.TrimSuffix(line, "\n")
			assert.False(t, strings.ContainsFunc(line, func(r rune) bool { return r < ' ' || r == 0x7f }), "%v: %q", args, line)
			if !strings.Contains(line, base) {
				assert.LessOrEqual(t, terminal.StringWidth(line), screen, "%v: %s", args, line)
			}
		}
		var doc any
		data, err := os.ReadFile(filepath.Join(out, lookbackJSON))
		require.NoError(t, err)
		require.NoError(t, json.Unmarshal(data, &doc))
		assert.NoError(t, schema.Validate(doc), args)
		for name, text := range tree(t, out) {
			assert.NotEmpty(t, text, "%v: %s", args, name)
			// What the figures are not is said in these words.
			text = strings.ReplaceAll(text, "do not say that anyone was exposed", "")
			if name != lookbackPage { // whose style sheet has words of its own
				assert.NotRegexp(t, never, text, "%v: %s", args, name)
			}
		}
	}
}

// Every wrong use is told in one line that begins alike, and the thing to do.
func TestWrongUseOfLookback(t *testing.T) {
	told := regexp.MustCompile(`^footing: [^A-Z\n][^\n]*\nnext: [^\n]+\n$`)
	folder := loads(t, filepath.Join(t.TempDir(), "records"))
	before := tree(t, filepath.Dir(folder))
	for _, args := range [][]string{{}, {folder}, {folder, folder, "--load", "L1"}, {folder, "--load", ""}, {folder, "--load", "L1", "--pack", "K1"}, {folder, "--load", "L9"}, {folder, "--load", "\x1b[31m"},
		{folder, "--pack", "K1"}, {folder, "--load", "L1", "--since", "2026-11-01"}, {folder, "--sterilizer", "S1", "--since", "x"}, {folder, "--sterilizer", "S1", "--until", "2026-02-30"},
		{folder, "--sterilizer", "S1", "--since", "2026-11-25"}, {folder, "--sterilizer", "S1", "--as-of", "x"}, {folder, "--frob"}, {"nowhere", "--load", "L1"}, {folder, "--load", "L1", "--out", filepath.Join(folder, "in")}} {
		got := call(t.Context(), append([]string{"lookback"}, args...)...)
		assert.Equal(t, CouldNot, got.status, args)
		assert.Regexp(t, told, got.err, args)
		assert.Empty(t, got.out, args)
	}
	assert.Equal(t, before, tree(t, filepath.Dir(folder)), "nothing is left behind")
}

// The same question gives the same bytes.
func TestALookbackIsRepeated(t *testing.T) {
	folder := loads(t, filepath.Join(t.TempDir(), "records"))
	for range 2 {
		require.Zero(t, call(t.Context(), "lookback", folder, "--sterilizer", "S1").status)
	}
	assert.Equal(t, tree(t, folder+"-lookback-2026-11-24"), tree(t, folder+"-lookback-2026-11-24-2"))
}

// A record that another row corrects names it; an id that reads like a name is named to nobody.
func TestWhatToAskInstead(t *testing.T) {
	folder := loads(t, filepath.Join(t.TempDir(), "records"))
	put(t, folder, map[string]string{"tests.csv": "id,kind,run_at,result,corrects\nT-7,spore,2026-11-02,fail,\nT-7K,spore,2026-11-02,pass,T-7\n", "visits.csv": "id,client,started\nV-1,Ada Vale,2026-11-02\nV-2,C-7,2026-11-03\n"})
	got := call(t.Context(), "lookback", folder, "--test", "T-7")
	assert.Contains(t, got.err, "another row corrects it")
	assert.Contains(t, got.err, "next: ask for the row that replaces it: T-7K\n")
	got = call(t.Context(), "lookback", folder, "--client", "Ada Val")
	assert.NotContains(t, got.err, "Vale")
	assert.Contains(t, got.err, "near it are C-7\n")
	put(t, folder, map[string]string{"visits.csv": "id,client,started\nV-1,Ada Vale,2026-11-02\n"})
	got = call(t.Context(), "lookback", folder, "--client", "C-7")
	assert.Contains(t, got.err, "next: write the id as it stands there\n")
}

func TestNearestIDs(t *testing.T) {
	assert.Equal(t, []string{"L-22", "l-221", "L-2"}, nearest("L-22x", []string{"T-9", "L-2", "l-221", "L-22", "Q"}))
	assert.Equal(t, []string{"only"}, nearest("L-1", []string{"only", "only"}))
	for _, c := range []struct {
		a, b string
		want int
	}{{"", "", 0}, {"L-1", "l-1", 0}, {"L-1", "L-12", 1}, {"L-12", "L-1", 1}, {"L-1", "L-2", 1}, {"kitten", "sitting", 3}, {"", "abc", 3}} {
		assert.Equal(t, c.want, apart(c.a, c.b), "%s %s", c.a, c.b)
	}
}
