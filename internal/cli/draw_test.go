package cli

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v5"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"footing/checks"
	"footing/internal/audit"
	"footing/internal/result"
	"footing/schemas"
)

// drawSchema is the description of draw.json, compiled by a library that is not ours.
func drawSchema(t testing.TB) *jsonschema.Schema {
	t.Helper()
	c := jsonschema.NewCompiler()
	c.Draft = jsonschema.Draft2020
	for _, name := range []string{"draw", "result"} {
		raw, ok := schemas.Resource(name)
		require.True(t, ok, name)
		require.NoError(t, c.AddResource("urn:footing:"+name, bytes.NewReader(raw)))
	}
	s, err := c.Compile("urn:footing:draw")
	require.NoError(t, err)
	return s
}

func drawOf(t testing.TB, out string) (d result.Draw) {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(out, drawJSON))
	require.NoError(t, err)
	var any any
	require.NoError(t, json.Unmarshal(data, &any))
	require.NoError(t, drawSchema(t).Validate(any))
	require.NoError(t, json.Unmarshal(data, &d))
	return d
}

func demoFolder(t testing.TB) string {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "demo")
	require.NotEqual(t, CouldNot, call(t.Context(), "demo", dir).status)
	return dir
}

// What is written is valid by its schema, and the same draw gives the same bytes; the
// visits are those that the audit's check draws with the same number.
func TestDrawIsThatOfTheAudit(t *testing.T) {
	dir := demoFolder(t)
	one, two, report := dir+"-one", dir+"-two", dir+"-report"
	for _, out := range []string{one, two} {
		got := call(t.Context(), "draw", dir, "--seed", "5", "--out", out)
		require.Equal(t, Done, got.status, got.err)
		require.NotContains(t, got.out, "No --seed was given")
	}
	require.Equal(t, tree(t, one), tree(t, two))
	require.NotEqual(t, CouldNot, call(t.Context(), dir, "--seed", "5", "--out", report).status)
	d, r := drawOf(t, one), audited(t, report)
	require.NotNil(t, r.Trail)
	assert.Equal(t, *r.Trail, d.Trail)
	assert.Equal(t, "extension 12", d.Contacts["public_health"][len(d.Contacts["public_health"])-len("extension 12"):])
	var drawn []string
	for _, c := range d.Chains {
		drawn = append(drawn, c.Visit)
	}
	assert.Equal(t, d.Trail.Drawn, drawn)
	assert.Len(t, drawn, 10)
	assert.True(t, slices.ContainsFunc(checks.All(), func(c audit.Check) bool { return c.ID == checks.TrailCheck() }))
}

// Without a seed, the day is one, and that is said; more visits than there are, are all.
func TestDrawWithoutSeed(t *testing.T) {
	dir := demoFolder(t)
	got := call(t.Context(), "draw", dir, "--visits", "1000")
	require.Equal(t, Done, got.status, got.err)
	assert.Contains(t, got.out, "20261124")
	assert.Contains(t, got.out, "all of them are here")
	d := drawOf(t, dir+"-draw-2026-11-24")
	assert.Equal(t, int64(20261124), d.Trail.Seed)
	assert.Equal(t, d.Trail.Of, len(d.Chains))
	again := call(t.Context(), "draw", dir, "--visits", "3", "--as-of", "2026-11-20")
	require.Equal(t, Done, again.status, again.err)
	assert.Equal(t, int64(20261120), drawOf(t, dir+"-draw-2026-11-20").Trail.Seed)
}

func TestDrawWrongUse(t *testing.T) {
	dir := loads(t, filepath.Join(t.TempDir(), "records"))
	other := put(t, filepath.Join(t.TempDir(), "other"), map[string]string{"letter.txt": "mine"})
	half := put(t, filepath.Join(t.TempDir(), "half"), map[string]string{"draw.json": "{}"})
	said := regexp.MustCompile(`^footing: [^A-Z\n][^\n]*\nnext: [^\n]+\n$`)
	paths := regexp.MustCompile(`/[^ ;:]*`)
	before := tree(t, dir)
	for _, args := range [][]string{{"draw"}, {"draw", "a", "b"}, {"draw", "nowhere"}, {"draw", dir}, {"draw", dir, "--visits", "0"}, {"draw", dir, "--visits", "-3"}, {"draw", dir, "--visits", "1001"},
		{"draw", dir, "--visits", "x"}, {"draw", dir, "--seed", "1.5"}, {"draw", dir, "--as-of", "24/11/2026"}, {"draw", dir, "--out", dir + "/pages"}, {"draw", dir, "--out", other}, {"draw", dir, "--out", half}, {"draw", t.TempDir()}} {
		got := call(t.Context(), args...)
		assert.Equal(t, CouldNot, got.status, args)
		assert.Regexp(t, said, paths.ReplaceAllString(got.err, "folder"), args)
		assert.Empty(t, got.out, args)
	}
	assert.Equal(t, before, tree(t, dir))
	assert.Equal(t, map[string]string{"letter.txt": "mine"}, tree(t, other))
	_, err := os.Stat(dir + "-draw-2026-11-24")
	assert.ErrorIs(t, err, os.ErrNotExist, "nothing is left behind")
}
