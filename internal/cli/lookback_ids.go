package cli

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"footing/checks"
	"footing/internal/practice"
	"footing/internal/record"
	"footing/internal/result"
)

// manyNear is how many ids are named in place of one that is not known.
const manyNear = 3

// unknown reports whether no row of the kind has the id, as far as all were read: then
// nothing need be looked at before that is said. A client may be named by visits alone.
func unknown(p *practice.Practice, kind, id string) bool {
	return p.Intake.StateOf(kind, id) == record.IDUnknown && !slices.Contains(idsOf(p, kind), id)
}

// noSuch is why a record that was asked for gives no answer, with the ids near its own.
func noSuch(p *practice.Practice, no *checks.LookbackRefusal) error {
	thing := strings.TrimSuffix(no.Kind, "s")
	name := fmt.Sprintf("%s %s", thing, plain(no.ID))
	where := filesOf(p, no.Kind)
	switch {
	case no.What != "":
		return problem(plain(no.What), no.Next)
	case no.State == practice.Shared:
		return problem(fmt.Sprintf("several rows of %s have the id %s, so which one is meant cannot be told", where, plain(no.ID)), "give each row an id of its own, as it stands on the paper; then ask again")
	case no.State == practice.SetAside && len(replacing(p, no.Kind, no.ID)) > 0:
		by := replacing(p, no.Kind, no.ID)
		return problem(fmt.Sprintf("the row of %s in %s is not judged: another row corrects it", name, where), "ask for the row that replaces it: "+strings.Join(by, ", "))
	case no.State == practice.SetAside:
		return problem(fmt.Sprintf("the row of %s in %s is not judged: it was set aside, lies after the day of the look-back, or is corrected by another row", name, where), "footing audit FOLDER says which rows were set aside and why; for a later day use --as-of")
	}
	ids := idsOf(p, no.Kind)
	if len(ids) == 0 {
		return problem(fmt.Sprintf("there is no %s: no row of %s is typed in the folder", name, no.Kind), "type the row, or start from another record: footing lookback --help")
	}
	next := "write the id as it stands there"
	ids = slices.DeleteFunc(ids, func(id string) bool { return result.ReadsLikeName(no.Kind, id) })
	if len(ids) > 0 {
		next += "; near it are " + strings.Join(nearest(no.ID, ids), ", ")
	}
	return problem(fmt.Sprintf("there is no %s in %s", name, where), next)
}

// filesOf names the files that hold a kind.
func filesOf(p *practice.Practice, kind string) string {
	var names []string
	for _, f := range p.Intake.Files {
		if f.Kind == kind {
			names = append(names, plain(f.Name))
		}
	}
	if len(names) == 0 {
		return kind
	}
	if len(names) > manyNear {
		return fmt.Sprintf("%s and %d other files of %s", names[0], len(names)-1, kind)
	}
	return strings.Join(names, ", ")
}

// nearest are the ids that differ least from one that is not known.
func nearest(id string, ids []string) []string {
	ids = slices.Clone(ids)
	slices.Sort(ids)
	ids = slices.Compact(ids)
	slices.SortStableFunc(ids, func(a, b string) int { return cmp.Compare(apart(id, a), apart(id, b)) })
	ids = ids[:min(len(ids), manyNear)]
	for i := range ids {
		ids[i] = plain(ids[i])
	}
	return ids
}

// apart is how many letters must be put in, left out or changed to make one word
// another, whatever the case; words are short, or cut.
func apart(a, b string) int {
	x, y := []rune(strings.ToLower(a)), []rune(strings.ToLower(b))
	x, y = x[:min(len(x), 64)], y[:min(len(y), 64)]
	row := make([]int, len(y)+1)
	for j := range row {
		row[j] = j
	}
	for i, r := range x {
		corner := row[0]
		row[0] = i + 1
		for j, s := range y {
			change := corner
			if r != s {
				change++
			}
			corner = row[j+1]
			row[j+1] = min(change, row[j]+1, row[j+1]+1)
		}
	}
	return row[len(y)]
}

// idsOf are the ids of the rows of a kind that a look-back can start from.
func idsOf(p *practice.Practice, kind string) (ids []string) {
	for _, e := range entriesOf(p, kind) {
		ids = append(ids, practice.Key(&e.Row))
	}
	if kind == "clients" {
		for i := range p.Visits {
			if c := p.Visits[i].Client; c != "" {
				ids = append(ids, c)
			}
		}
	}
	return ids
}

// replacing are the ids of the rows that are judged in place of one.
func replacing(p *practice.Practice, kind, id string) (ids []string) {
	for _, e := range entriesOf(p, kind) {
		if key := practice.Key(&e.Row); strings.TrimSpace(e.Corrects) == id && !result.ReadsLikeName(kind, key) {
			ids = append(ids, plain(key))
		}
	}
	return ids
}

// entriesOf are the rows of a kind that a look-back can start from.
func entriesOf(p *practice.Practice, kind string) []*practice.Entry {
	switch kind {
	case "loads":
		return entries(p.Loads, func(l *practice.Load) *practice.Entry { return &l.Entry })
	case "tests":
		return entries(p.Tests, func(t *practice.Test) *practice.Entry { return &t.Entry })
	case "sterilizers":
		return entries(p.Sterilizers, func(s *practice.Sterilizer) *practice.Entry { return &s.Entry })
	case "packs":
		return entries(p.Packs, func(k *practice.Pack) *practice.Entry { return &k.Entry })
	case "instruments":
		return entries(p.Instruments, func(i *practice.Instrument) *practice.Entry { return &i.Entry })
	case "visits":
		return entries(p.Visits, func(v *practice.Visit) *practice.Entry { return &v.Entry })
	case "complaints":
		return entries(p.Complaints, func(c *practice.Complaint) *practice.Entry { return &c.Entry })
	case "clients":
		return entries(p.Clients, func(c *practice.Client) *practice.Entry { return &c.Entry })
	}
	return nil
}

func entries[T any](rows []T, entry func(*T) *practice.Entry) []*practice.Entry {
	all := make([]*practice.Entry, len(rows))
	for i := range rows {
		all[i] = entry(&rows[i])
	}
	return all
}
