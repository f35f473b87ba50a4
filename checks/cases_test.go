package checks

import (
	"context"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/rogpeppe/go-internal/txtar"
	"github.com/stretchr/testify/require"

	"footing/internal/audit"
	"footing/internal/practice"
	"footing/internal/quantity"
	"footing/internal/record"
	"footing/internal/result"
)

var update = flag.Bool("update", false, "write what each case renders into its archive; read every line of the change")

const (
	casesDir    = "../testdata/checks"
	defaultAsOf = "2026-11-24"
	defaultSelf = "name: Practice of the case\nregulator: Council of the case\n"
)

// kase is one folder of an archive: a small practice, and what its check says of it.
type kase struct {
	name, want string
	practice   *practice.Practice
}

// archive is the cases of one check.
type archive struct {
	id, path string
	text     *txtar.Archive
	cases    []kase
}

func archives(t testing.TB) []archive {
	t.Helper()
	paths, err := filepath.Glob(casesDir + "/*/*.txtar")
	require.NoError(t, err)
	var all []archive
	for _, path := range paths {
		all = append(all, openArchive(t, path))
	}
	return all
}

func openArchive(t testing.TB, path string) archive {
	t.Helper()
	text, err := txtar.ParseFile(path)
	require.NoError(t, err)
	rel, _ := filepath.Rel(casesDir, path)
	a := archive{id: strings.TrimSuffix(filepath.ToSlash(rel), ".txtar"), path: path, text: text}
	var names []string
	files := map[string]map[string]string{}
	for _, f := range text.Files {
		name, file, ok := strings.Cut(f.Name, "/")
		require.True(t, ok, "%s: %s stands in no case: write CASE/FILE", path, f.Name)
		if files[name] == nil {
			files[name] = map[string]string{}
			names = append(names, name)
		}
		files[name][file] = string(f.Data)
	}
	for _, name := range names {
		a.cases = append(a.cases, openCase(t, name, files[name]))
	}
	return a
}

func openCase(t testing.TB, name string, files map[string]string) kase {
	t.Helper()
	dir := t.TempDir()
	asOf := defaultAsOf
	own := false
	for file, data := range files {
		switch {
		case file == "want":
			continue
		case file == "asof":
			asOf = strings.TrimSpace(data)
			continue
		case strings.HasPrefix(file, "practice."):
			own = true
		}
		path := filepath.Join(dir, filepath.FromSlash(file))
		require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o755))
		require.NoError(t, os.WriteFile(path, []byte(data), 0o644))
	}
	if !own {
		require.NoError(t, os.WriteFile(filepath.Join(dir, "practice.yaml"), []byte(defaultSelf), 0o644))
	}
	day, err := quantity.ParseDay(asOf, quantity.ISO)
	require.NoError(t, err, "case %s", name)
	p, err := practice.Read(context.Background(), dir, day, record.Options{})
	require.NoError(t, err, "case %s", name)
	return kase{name: name, want: files["want"], practice: p}
}

// battery is the one check of an archive.
func battery(t testing.TB, id string) []audit.Check {
	t.Helper()
	all := All()
	i := slices.IndexFunc(all, func(c audit.Check) bool { return c.ID == id })
	require.GreaterOrEqual(t, i, 0, "testdata/checks has cases of %s, but there is no such check", id)
	return all[i : i+1]
}

func run(t testing.TB, c kase, battery []audit.Check, criteria *audit.Criteria) *result.Result {
	t.Helper()
	r, err := audit.Run(context.Background(), c.practice, battery, criteria, audit.Options{Workers: 1})
	require.NoError(t, err)
	return r
}

// rendered is a case's outcome as its want file has it: counts, what is
// missing, each finding with its places.
func rendered(r *result.Result) string {
	var b strings.Builder
	c := r.Checks[0]
	fmt.Fprintf(&b, "%s: examined %d, conforming %d, nonconforming %d, not assessed %d, outside %d\n", c.Outcome, c.Counts.Examined, c.Counts.Conforming, c.Counts.Nonconforming, c.Counts.NotAssessed, c.Counts.NotApplicable)
	if c.Reason != "" {
		fmt.Fprintf(&b, "reason: %s\n", c.Reason)
	}
	for _, m := range c.Missing {
		fmt.Fprintf(&b, "missing: %s %s (%d)\n", m.Kind, m.Field, m.Subjects)
	}
	for _, s := range c.Reasons {
		fmt.Fprintf(&b, "unclear: %d: %s\n", s.Count, s.Text)
	}
	for _, f := range r.Findings {
		fmt.Fprintf(&b, "%s: %s %s: %d of %d: %s\n", f.Grade, f.Subject.Kind, f.Subject.ID, f.Extent.N, f.Extent.Of, f.Summary)
		if f.Criterion != nil {
			fmt.Fprintf(&b, "  criterion %s %s: %s %s\n", f.Criterion.Set, f.Criterion.ID, f.Criterion.Value, f.Criterion.Unit)
		}
		for _, v := range f.Verdicts {
			fmt.Fprintf(&b, "  under %s: %s\n", v.Set, v.Verdict)
		}
		for _, e := range f.Evidence {
			fmt.Fprintf(&b, "  at %s:%d:%d %s %q %s\n", e.File, e.Line, e.Column, e.Field, e.Value, e.Note)
		}
	}
	for _, d := range r.Due {
		fmt.Fprintf(&b, "due: %s %s %s\n", d.On, d.State, d.What)
	}
	return trimLines(b.String())
}

func trimLines(s string) string {
	lines := strings.Split(s, "\n")
	for i := range lines {
		lines[i] = strings.TrimRight(lines[i], " ")
	}
	return strings.Join(lines, "\n")
}

func TestCases(t *testing.T) {
	criteria, err := Criteria()
	require.NoError(t, err)
	paths, err := filepath.Glob(casesDir + "/*/*.txtar")
	require.NoError(t, err)
	for _, path := range paths {
		rel, _ := filepath.Rel(casesDir, path)
		t.Run(strings.TrimSuffix(filepath.ToSlash(rel), ".txtar"), func(t *testing.T) {
			a := openArchive(t, path)
			check := battery(t, a.id)
			got := map[string]string{}
			for _, c := range a.cases {
				got[c.name] = rendered(run(t, c, check, criteria))
				if *update {
					continue
				}
				t.Run(c.name, func(t *testing.T) {
					if diff := cmp.Diff(c.want, got[c.name]); diff != "" {
						t.Errorf("%s, case %s (-want +got):\n%s", a.path, c.name, diff)
					}
				})
			}
			if *update {
				rewrite(t, a, got)
			}
		})
	}
}

// rewrite puts each case's outcome into its want file, at the end of the case.
func rewrite(t *testing.T, a archive, got map[string]string) {
	out := &txtar.Archive{Comment: a.text.Comment}
	for i, f := range a.text.Files {
		name, file, _ := strings.Cut(f.Name, "/")
		if file != "want" {
			out.Files = append(out.Files, f)
		}
		last := i+1 == len(a.text.Files) || !strings.HasPrefix(a.text.Files[i+1].Name, name+"/")
		if last {
			out.Files = append(out.Files, txtar.File{Name: name + "/want", Data: []byte(got[name])})
		}
	}
	require.NoError(t, os.WriteFile(a.path, txtar.Format(out), 0o644))
}
