package cli

import (
	"cmp"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"footing/internal/result"
	"footing/schemas"
)

// mostLike is how many sheets one audit adds: more than a few are not kept.
const mostLike = 5

// like adds the sheets that the last audit of a folder missed most.
func (p *newPlan) like(name string, at *newPlace) error {
	r, path, err := lastAudit(name)
	if err != nil {
		return err
	}
	missed := missedMost(r, at)
	said := fmt.Sprintf("The last audit (%s, of %s)", filepath.Join(filepath.Base(filepath.Dir(path)), filepath.Base(path)), r.AsOf)
	if len(missed) == 0 {
		p.why = append(p.why, said+" missed no record that has a sheet and is not kept already.")
	}
	var had []string
	added := 0
	for _, w := range missed {
		switch {
		case slices.Contains(p.kinds, w.kind):
			had = append(had, w.kind)
		case added < mostLike:
			added++
			p.add(at, w.kind)
			p.why = append(p.why, fmt.Sprintf("Added %s: without it %s of the last audit could not look (%s).", w.kind, count(len(w.checks), "check", "checks"), someOf(w.checks)))
		}
	}
	if len(missed) > 0 {
		p.why = append(p.why, said+" is the one that was read.")
	}
	if len(had) > 0 {
		p.why = append(p.why, "It also missed "+strings.Join(had, ", ")+", which are among the sheets of a first evening.")
	}
	if n := r.NextField; n != nil && (n.Field != "" || n.Kind == "traces") {
		p.why = append(p.why, upperFirst(n.Why)+".")
	}
	return nil
}

// wanted is a kind that an audit missed, and the checks that could not look without it.
type wanted struct {
	kind   string
	checks []string
	weight float64
}

// missedMost gives the kinds without which the most, and the gravest, checks could not
// look, and that neither the audit nor a workbook here has.
func missedMost(r *result.Result, at *newPlace) []wanted {
	kept := map[string]bool{}
	for _, f := range r.Intake {
		kept[f.Kind] = kept[f.Kind] || f.Rows > 0
	}
	byKind := map[string]*wanted{}
	for _, c := range r.Checks {
		if c.Outcome != result.NotAssessed {
			continue
		}
		for _, m := range c.Missing {
			k, ok := schemas.Lookup(m.Kind)
			if !ok || k.Single || m.Field != "" || kept[m.Kind] || at.sheets[m.Kind] {
				continue
			}
			w := byKind[m.Kind]
			if w == nil {
				w = &wanted{kind: m.Kind}
				byKind[m.Kind] = w
			}
			w.checks = append(w.checks, c.ID)
			w.weight += gravity(c.Grades) / float64(len(c.Missing))
		}
	}
	var all []wanted
	for _, kind := range rowKinds() {
		if w := byKind[kind]; w != nil {
			all = append(all, *w)
		}
	}
	first := ""
	if r.NextField != nil && r.NextField.Field == "" {
		first = r.NextField.Kind // what the audit itself asked for
	}
	slices.SortStableFunc(all, func(x, y wanted) int {
		if (x.kind == first) != (y.kind == first) {
			if x.kind == first {
				return -1
			}
			return 1
		}
		return cmp.Compare(y.weight, x.weight)
	})
	return all
}

// gravity is what seeing one more check is worth, by the highest grade that it may give.
func gravity(grades []string) float64 {
	worth := 0.0
	for _, g := range grades {
		worth = max(worth, result.GradeWeight(g))
	}
	return worth
}

// lastAudit is the newest audit of a folder: in it, in a folder within, or beside it.
func lastAudit(name string) (*result.Result, string, error) {
	folder, err := filepath.Abs(name)
	if err != nil {
		return nil, "", err
	}
	paths := []string{filepath.Join(folder, auditFile)}
	for _, p := range []string{folder, filepath.Dir(folder)} {
		entries, _ := os.ReadDir(p) // what cannot be listed has no audit to show
		for _, e := range entries {
			if p == folder || strings.HasPrefix(e.Name(), filepath.Base(folder)+"-"+auditOutput.name+"-") {
				paths = append(paths, filepath.Join(p, e.Name(), auditFile))
			}
		}
	}
	var last *result.Result
	lastPath := ""
	var failed error
	for _, path := range paths {
		if !auditOutput.wrote(path) {
			continue
		}
		r, err := readAudit(path)
		if err != nil {
			failed = problem(fmt.Sprintf("%s: %v", path, err), "run the audit again")
			continue
		}
		if last == nil || newer(r, path, last, lastPath) {
			last, lastPath = r, path
		}
	}
	switch {
	case last != nil:
		return last, lastPath, nil
	case failed != nil:
		return nil, "", failed
	}
	return nil, "", problem("no audit of "+name+" was found, in it or beside it", "footing audit "+argument(name)+" makes one; then ask again")
}

func readAudit(path string) (*result.Result, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, reason(err)
	}
	defer f.Close()
	return result.Read(f)
}

// newer tells the later of two audits: by their day, and of one day by the number that
// the folder's name ends in.
func newer(a *result.Result, aPath string, b *result.Result, bPath string) bool {
	return cmp.Or(cmp.Compare(a.AsOf, b.AsOf), cmp.Compare(len(aPath), len(bPath)), cmp.Compare(aPath, bPath)) > 0
}
