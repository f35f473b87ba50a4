package checks

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"footing/internal/audit"
	"footing/internal/result"
)

func TestBatteryIsValid(t *testing.T) {
	criteria, err := Criteria()
	require.NoError(t, err)
	require.NoError(t, audit.Validate(All(), criteria))
}

// Each check has a case in which it is met, one in which it finds something and
// one in which it cannot tell.
func TestEveryCheckHasItsCases(t *testing.T) {
	criteria, err := Criteria()
	require.NoError(t, err)
	have := map[string]map[string]bool{}
	for _, a := range archives(t) {
		have[a.id] = map[string]bool{}
		for _, c := range a.cases {
			r := run(t, c, battery(t, a.id), criteria)
			have[a.id][r.Checks[0].Outcome] = true
			for _, f := range r.Findings {
				have[a.id][f.Grade] = true
			}
		}
	}
	for _, c := range All() {
		if !assert.NotNil(t, have[c.ID], "%s has no archive in testdata/checks", c.ID) {
			continue
		}
		assert.True(t, have[c.ID][result.Conforming], "%s has no case in which it is met", c.ID)
		assert.True(t, have[c.ID][result.NotAssessed], "%s has no case in which it is not assessed", c.ID)
		for _, g := range c.Grades {
			assert.True(t, have[c.ID][g.String()], "%s may give %v, and has no case that does", c.ID, g)
		}
		assert.False(t, have[c.ID][result.Broken], "%s breaks on one of its cases", c.ID)
	}
}

func TestEveryCriterionIsUsed(t *testing.T) {
	criteria, err := Criteria()
	require.NoError(t, err)
	used := map[string]bool{}
	for _, c := range All() {
		for _, id := range c.Uses {
			used[id] = true
		}
	}
	for _, id := range criteria.IDs() {
		assert.True(t, used[id], "no check uses the criterion %s", id)
	}
}

// A check's file is named after its ID, holds no number but 0 and 1, and declares
// no package-level name but helpers with its own prefix.
func TestCheckFiles(t *testing.T) {
	for _, c := range All() {
		name := strings.NewReplacer("/", "_", "-", "_").Replace(c.ID) + ".go"
		_, err := os.Stat(name)
		assert.NoError(t, err, "%s should stand in %s", c.ID, name)
	}
	files, err := filepath.Glob("*.go")
	require.NoError(t, err)
	for _, name := range files {
		if strings.HasSuffix(name, "_test.go") || name == "checks.go" {
			continue
		}
		fset := token.NewFileSet()
		file, err := parser.ParseFile(fset, name, nil, 0)
		require.NoError(t, err)
		ast.Inspect(file, func(n ast.Node) bool {
			if lit, ok := n.(*ast.BasicLit); ok && (lit.Kind == token.INT || lit.Kind == token.FLOAT) && lit.Value != "0" && lit.Value != "1" {
				t.Errorf("%s: the number %s belongs into criteria", fset.Position(lit.Pos()), lit.Value)
			}
			return true
		})
		family, _, _ := strings.Cut(strings.TrimSuffix(name, ".go"), "_")
		for _, d := range file.Decls {
			for _, id := range declared(d) {
				assert.True(t, id == "_" || strings.HasPrefix(strings.ToLower(id), family), "%s declares %s, which has not the prefix %s", name, id, family)
			}
		}
	}
}

func declared(d ast.Decl) (names []string) {
	switch d := d.(type) {
	case *ast.FuncDecl:
		if d.Recv == nil {
			names = append(names, d.Name.Name)
		}
	case *ast.GenDecl:
		for _, s := range d.Specs {
			switch s := s.(type) {
			case *ast.ValueSpec:
				for _, n := range s.Names {
					names = append(names, n.Name)
				}
			case *ast.TypeSpec:
				names = append(names, s.Name.Name)
			}
		}
	}
	return names
}

// Moving any shipped value by a tenth, either way, or taking a word from a list,
// changes some archived case: no criterion is decoration, and no case misses its limit.
func TestEveryCriterionMatters(t *testing.T) {
	shipped, err := Criteria()
	require.NoError(t, err)
	type ready struct {
		kase
		check []audit.Check
		want  string
	}
	using := map[string][]ready{}
	for _, a := range archives(t) {
		check := battery(t, a.id)
		for _, c := range a.cases {
			r := ready{c, check, rendered(run(t, c, check, shipped))}
			for _, id := range check[0].Uses {
				using[id] = append(using[id], r)
			}
		}
	}
	for _, m := range moves(t) {
		changed := slices.ContainsFunc(using[m.id], func(r ready) bool {
			return outcomeOf(rendered(run(t, r.kase, r.check, m.criteria))) != outcomeOf(r.want)
		})
		assert.True(t, changed, "%s: no case notices %s", m.id, m.what)
	}
}

// outcomeOf is a rendered case without the criterion's own words, so that only a
// change of verdict counts.
func outcomeOf(text string) string {
	var b strings.Builder
	for line := range strings.Lines(text) {
		if strings.HasPrefix(line, "  criterion") {
			continue
		}
		grade, rest, ok := strings.Cut(line, ": ")
		if ok && !strings.HasPrefix(line, " ") && slices.Contains([]string{"critical", "major", "minor", "observation"}, grade) {
			parts := strings.SplitN(rest, ": ", 3)
			line = fmt.Sprintln(grade, parts[0], parts[1])
		}
		b.WriteString(line)
	}
	return b.String()
}
