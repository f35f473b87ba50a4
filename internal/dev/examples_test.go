package dev

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"footing/checks"
	"footing/internal/practice"
	"footing/internal/record"
	"footing/schemas"

	"footing/internal/quantity"
)

// What the pages show as an example of rules can be followed as it stands: each
// criterion exists, each circumstance fits, each value can be read.
func TestExamplesOfRulesCanBeFollowed(t *testing.T) {
	criteria, err := checks.Criteria()
	require.NoError(t, err)
	kind, ok := schemas.Lookup("rules")
	require.True(t, ok)
	var texts []string
	for _, e := range kind.Examples {
		texts = append(texts, string(e))
	}
	texts = append(texts, guideRules(t))
	for i, text := range texts {
		ext := ".json"
		if !strings.HasPrefix(strings.TrimSpace(text), "{") {
			ext = ".yaml"
		}
		dir := t.TempDir()
		require.NoError(t, os.WriteFile(filepath.Join(dir, "practice.yaml"), []byte("name: P\nregulator: R\n"), 0o644))
		require.NoError(t, os.WriteFile(filepath.Join(dir, "rules"+ext), []byte(text), 0o644))
		p, err := practice.Read(context.Background(), dir, quantity.NewDay(2026, 4, 2), record.Options{})
		require.NoError(t, err)
		assert.Empty(t, p.Intake.Problems)
		require.NotEmpty(t, p.Rules.Criteria, "example %d", i)
		for _, m := range criteria.Choose(p).Mistakes {
			assert.True(t, m.Looser || m.NoSource, "example %d: %s", i, m.Found)
		}
	}
}

// guideRules is the example of rules.yaml in the guide.
func guideRules(t *testing.T) string {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(root, "docs", "guide.md"))
	require.NoError(t, err)
	_, after, found := strings.Cut(string(data), "    # rules.yaml\n")
	require.True(t, found)
	var b strings.Builder
	for line := range strings.Lines(after) {
		text, indented := strings.CutPrefix(line, "    ")
		if !indented {
			break
		}
		b.WriteString(text)
	}
	return b.String()
}
