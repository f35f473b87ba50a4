package record

import (
	"cmp"
	"hash/maphash"
	"slices"
	"strings"
)

// Two tables of one kind hold the same rows where at least so many rows of the smaller,
// and nine in ten of them, stand in the other word for word.
const fewestSame = 3

// copies tells of tables in which rows of another stand again, as after a copy of the
// file: each of those rows counts twice.
func (r *reading) copies() (list []Problem) {
	byPlan := map[*plan][]*sheet{}
	var plans []*plan
	for _, s := range r.sheets {
		if s.src.format != formatCSV || s.plan.kind.Single || s.file.Accepted < fewestSame {
			continue
		}
		if byPlan[s.plan] == nil {
			plans = append(plans, s.plan)
		}
		byPlan[s.plan] = append(byPlan[s.plan], s)
	}
	seed := maphash.MakeSeed()
	for _, p := range plans {
		if sheets := byPlan[p]; len(sheets) > 1 {
			list = append(list, copiesOf(sheets, seed)...)
		}
	}
	return list
}

// copiesOf compares the tables of one kind, the largest first, with all before it.
func copiesOf(sheets []*sheet, seed maphash.Seed) (list []Problem) {
	sheets = slices.Clone(sheets)
	slices.SortStableFunc(sheets, func(a, b *sheet) int {
		return cmp.Or(cmp.Compare(b.file.Accepted, a.file.Accepted), cmp.Compare(len(a.src.name), len(b.src.name)))
	})
	met := map[uint64]int{} // the first table that each row stands in
	for n, s := range sheets {
		same, in := 0, map[int]int{}
		for i := range s.file.Accepted {
			row := maphash.String(seed, s.lineAt(i))
			if at, there := met[row]; !there {
				met[row] = n
			} else if at != n {
				same++
				in[at]++
			}
		}
		if same < fewestSame || 10*same < 9*s.file.Accepted {
			continue
		}
		most := -1
		for at, count := range in {
			if most < 0 || count > in[most] || count == in[most] && at < most {
				most = at
			}
		}
		list = append(list, s.copied(sheets[most], same))
	}
	return list
}

// lineAt is the first line of an accepted row as it is written.
func (s *sheet) lineAt(i int) string {
	line, _, _ := strings.Cut(s.src.text[s.rowOf(i).start:], "\n")
	return strings.TrimRight(line, "\r")
}

func (s *sheet) copied(of *sheet, same int) Problem {
	rows := itoa(same) + " of its " + itoa(s.file.Accepted) + " rows"
	if same == s.file.Accepted {
		rows = "all of its " + itoa(same) + " rows"
	}
	todo := "if one is a copy, take it out of the folder"
	return Problem{File: s.src.name, Kind: s.plan.kind.Name, Cause: "copy", Effect: Noted, Todo: todo, Places: []Place{s.rowOf(0).Place("")}, Values: []string{""},
		Sentence: s.src.name + ": " + rows + " stand word for word in " + of.src.name + " too, and count twice; " + todo}
}

// sameBooks leaves out workbooks that are the same, byte for byte, as another: of each
// kind one is read, that with the shortest name.
func (r *reading) sameBooks() {
	f, bySum := r.folder, map[string]*book{}
	for _, b := range f.books {
		if first := bySum[b.sum]; b.sum != "" && (first == nil || len(b.entry.name) < len(first.entry.name)) {
			bySum[b.sum] = b
		}
	}
	f.books = slices.DeleteFunc(f.books, func(b *book) bool {
		first := bySum[b.sum]
		if first == nil || first == b || len(b.tabs) == 0 {
			return false
		}
		f.skip(b.entry.name, "it is the same, to the last byte, as "+first.entry.name+", which is read")
		r.progress(b.entry.info.Size())
		return true
	})
}
