package record

import (
	"maps"
	"slices"
	"strings"
	"sync"
)

// IDs is what is known of the ids of one kind; of nil, nothing.
type IDs struct {
	states map[string]IDState
	veiled bool // rows were set aside whose ids are not known
	shared bool // some id stands on several rows
}

// IDs is what is known of those of a kind.
func (in *Intake) IDs(kind string) *IDs { return in.ids[kind] }

// StateOf says what is known of an id of a kind.
func (in *Intake) StateOf(kind, id string) IDState { return in.IDs(kind).State(id) }

// AnyShared reports whether any id stands on several rows.
func (x *IDs) AnyShared() bool { return x != nil && x.shared }

// State says what is known of an id. Where a row was set aside whose id cannot be
// read, or a file of the kind was refused, an id that is on no row may be one of those:
// it answers IDSetAside, never IDUnknown.
func (x *IDs) State(id string) IDState {
	if x == nil {
		return IDUnknown
	}
	if state, ok := x.states[id]; ok {
		return state
	}
	if x.veiled {
		return IDSetAside
	}
	return IDUnknown
}

// index makes the index of ids of every kind, and tells of ids that several rows share.
func (r *reading) index(in *Intake, byKind map[*plan][]*sheet) []Problem {
	var problems []Problem
	var mu sync.Mutex
	var tasks []task
	for p, sheets := range byKind {
		rows := int64(0)
		for _, s := range sheets {
			rows += int64(s.file.Rows)
		}
		tasks = append(tasks, task{rows, func() error {
			x, shared := indexKind(sheets)
			mu.Lock()
			defer mu.Unlock()
			in.ids[p.kind.Name] = x
			problems = append(problems, shared...)
			return nil
		}})
	}
	r.run(tasks)
	for _, p := range r.folder.refused {
		if p.Any {
			for _, plan := range r.folder.plans {
				if in.ids[plan.kind.Name] == nil {
					in.ids[plan.kind.Name] = &IDs{}
				}
				in.ids[plan.kind.Name].veiled = true
			}
		}
		if p.Kind == "" {
			continue
		}
		if in.ids[p.Kind] == nil {
			in.ids[p.Kind] = &IDs{}
		}
		in.ids[p.Kind].veiled = true
	}
	return problems
}

// indexKind makes the index of one kind's ids.
func indexKind(sheets []*sheet) (*IDs, []Problem) {
	n := 0
	for _, s := range sheets {
		n += len(s.ids) + len(s.lost)
	}
	x := &IDs{states: make(map[string]IDState, n)}
	shared := false
	for _, s := range sheets {
		x.veiled = x.veiled || s.veiled
		for _, id := range s.ids {
			if x.states[id] == IDUnknown {
				x.states[id] = IDOne
			} else {
				x.states[id], shared = IDShared, true
			}
		}
	}
	for _, s := range sheets {
		for _, id := range s.lost {
			switch x.states[id] {
			case IDUnknown:
				x.states[id] = IDSetAside
			case IDOne: // one of the two was set aside, and a reference could mean either
				x.states[id], shared = IDShared, true
			}
		}
	}
	if x.shared = shared; !shared {
		return x, nil
	}
	return x, tellShared(x, sheets)
}

// tellShared makes a problem for each file that has rows with an id that others have too.
func tellShared(x *IDs, sheets []*sheet) []Problem {
	var problems []Problem
	for _, s := range sheets {
		met := map[string]bool{}
		p := Problem{File: s.src.name, Kind: s.plan.kind.Name, Field: "id", Cause: "shared-id", Effect: Noted}
		l := s.src.laneOf("id")
		if l != nil {
			p.Heading = l.written
		}
		for i := range s.file.Accepted {
			row := s.rowOf(i)
			if row.ID == "" || x.states[row.ID] != IDShared {
				continue
			}
			p.Places = append(p.Places, s.src.find(int(row.start), int(row.number), l, nil))
			met[row.ID] = true
		}
		if len(p.Places) == 0 {
			continue
		}
		p.IDs = slices.Sorted(maps.Keys(met))
		p.Found = shorten(strings.Join(p.IDs[:min(len(p.IDs), mostFound)], ", "))
		p.Allowed = "an id of its own for each row"
		p.Todo = "give each row an id of its own"
		where, what := "", `the id "`+p.Found+`" stands`
		if len(p.IDs) > 1 {
			what = `the ids "` + p.Found + `"` + map[bool]string{true: " and others", false: ""}[len(p.IDs) > mostFound] + " stand"
		}
		if where = " row " + itoa(p.Places[0].Row); s.src.grid != nil {
			where = "," + where
		}
		if len(p.Places) > 1 {
			where = ", " + itoa(len(p.Places)) + " rows (the first: row " + itoa(p.Places[0].Row) + ")"
		}
		p.Sentence = s.src.name + where + ": " + what + " on other rows too; " + p.Todo + "; until then what refers to it is not assessed"
		problems = append(problems, p)
	}
	return problems
}
