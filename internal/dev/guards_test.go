package dev

import (
	"go/build"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

const root = "../.."

// floors is architecture's table: an import of ours goes down, never level, never up.
var floors = map[string]int{
	"schemas": 0, "internal/quantity": 0, "internal/steam": 0, "internal/demo": 0, "internal/workbook": 0, "internal/words": 0,
	"internal/record": 1, "internal/trace": 1, "internal/result": 1,
	"internal/practice": 2,
	"internal/chain":    3, "internal/audit": 3,
	"checks": 4, "internal/report": 4,
	"internal/cli": 5,
	"cmd/footing":  6,
}

// narrow lists packages that may import only these of ours.
var narrow = map[string][]string{
	"internal/report":   {"internal/result", "internal/words"},
	"internal/result":   {"schemas"},
	"internal/record":   {"schemas", "internal/quantity", "internal/workbook"},
	"internal/trace":    {"schemas", "internal/quantity", "internal/steam"},
	"internal/practice": {"schemas", "internal/record", "internal/trace", "internal/quantity"},
	"internal/audit":    {"schemas", "internal/practice", "internal/record", "internal/trace", "internal/result", "internal/quantity", "internal/steam"},
	"internal/chain":    {"internal/practice", "internal/record", "internal/quantity"},
	"checks":            {"internal/audit", "internal/practice", "internal/chain", "internal/quantity", "internal/steam"},
}

func TestImportsGoDown(t *testing.T) {
	for _, dir := range packages(t) {
		if dir == "internal/dev" || strings.HasPrefix(dir, "internal/dev/") {
			continue
		}
		floor, known := floors[dir]
		if !assert.True(t, known, "%s stands on no floor", dir) {
			continue
		}
		pkg, err := build.ImportDir(filepath.Join(root, dir), 0)
		require.NoError(t, err)
		for _, path := range pkg.Imports {
			ours, ok := strings.CutPrefix(path, "footing/")
			if !ok {
				continue
			}
			below, known := floors[ours]
			assert.True(t, known && below < floor, "%s (floor %d) imports %s (floor %d): an import goes down", dir, floor, ours, below)
			if allowed, ok := narrow[dir]; ok {
				assert.Contains(t, allowed, ours, "%s may not import %s", dir, ours)
			}
		}
	}
}

func packages(t *testing.T) (dirs []string) {
	t.Helper()
	err := fs.WalkDir(os.DirFS(root), ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && name != "." && (strings.HasPrefix(d.Name(), ".") || d.Name() == "testdata" || d.Name() == "node_modules") {
			return fs.SkipDir
		}
		if !d.IsDir() && strings.HasSuffix(name, ".go") && !strings.HasSuffix(name, "_test.go") {
			if dir := filepath.ToSlash(filepath.Dir(name)); len(dirs) == 0 || dirs[len(dirs)-1] != dir {
				dirs = append(dirs, dir)
			}
		}
		return nil
	})
	require.NoError(t, err)
	return dirs
}

func TestGeneratedPagesAreFresh(t *testing.T) {
	want, err := Docs(root)
	require.NoError(t, err)
	have, err := Pages(root)
	require.NoError(t, err)
	for name, page := range want {
		assert.Equal(t, string(page), string(have[name]), "docs/%s is stale: go run ./internal/dev/cmd/refresh", name)
	}
	for name := range have {
		assert.Contains(t, want, name, "docs/%s belongs to nothing: go run ./internal/dev/cmd/refresh", name)
	}
}

// Formatting, vet and file length are habits; they are kept here so that one
// command is the whole gate.
func TestHabits(t *testing.T) {
	out, err := exec.Command("gofmt", "-l", root).CombinedOutput()
	require.NoError(t, err)
	assert.Empty(t, string(out), "gofmt would change these")
	if !testing.Short() {
		vet := exec.Command("go", "vet", "./...")
		vet.Dir = root
		out, err = vet.CombinedOutput()
		assert.NoError(t, err, "%s", out)
	}
	for _, dir := range packages(t) {
		files, err := filepath.Glob(filepath.Join(root, dir, "*.go"))
		require.NoError(t, err)
		for _, f := range files {
			data, err := os.ReadFile(f)
			require.NoError(t, err)
			assert.LessOrEqual(t, strings.Count(string(data), "\n"), 500, "%s is too long", f)
		}
	}
}

// What reports and pages never claim. DEVELOPERS.md alone quotes it, to refuse it.
func TestNoClaims(t *testing.T) {
	banned := []string{"will pass", "guarantee", "is compliant", "are compliant", "fully compliant", "is sterile", "are sterile", "is safe", "are safe"}
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if d.IsDir() && path != root && (strings.HasPrefix(d.Name(), ".") && d.Name() != ".." || d.Name() == "node_modules") {
			return fs.SkipDir
		}
		ext := filepath.Ext(path)
		if d.IsDir() || strings.HasSuffix(path, "_test.go") || ext != ".go" && ext != ".yaml" && ext != ".md" && ext != ".json" && ext != ".html" {
			return nil
		}
		data, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		for line := range strings.Lines(strings.ToLower(string(data))) {
			for _, claim := range banned {
				if strings.Contains(line, claim) && !strings.HasPrefix(line, "- to say of anything that it is") {
					t.Errorf("%s claims %q: %s", path, claim, line)
				}
			}
		}
		return nil
	})
	require.NoError(t, err)
}

// What a property test writes down of a failure names the machine it ran on. The case
// goes into a test of its own, and the file goes.
func TestNoLeftoversOfFailures(t *testing.T) {
	err := fs.WalkDir(os.DirFS(root), ".", func(name string, d fs.DirEntry, err error) error {
		if err == nil && d.IsDir() && (d.Name() == ".git" || d.Name() == "node_modules") {
			return fs.SkipDir
		}
		assert.NotEqual(t, ".fail", filepath.Ext(name), name)
		return err
	})
	require.NoError(t, err)
}
