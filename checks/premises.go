package checks

import (
	"fmt"
	"slices"

	"footing/internal/audit"
	"footing/internal/practice"
)

// premisesTask reports whether a task of upkeep has a date by which it is due again.
func premisesTask(task string) bool {
	return task == "service" || task == "calibration" || task == "validation"
}

// premisesNext is the first of later rows that fits, nil if none does.
func premisesNext(rows []*practice.Upkeep, fits func(*practice.Upkeep) bool) *practice.Upkeep {
	if i := slices.IndexFunc(rows, fits); i >= 0 {
		return rows[i]
	}
	return nil
}

// premisesLoads is a number of loads with the last day: "3 loads, the last on 2 Nov 2026, ran".
func premisesLoads(in []*practice.Load) string {
	if len(in) == 0 {
		return ""
	}
	last := in[len(in)-1].Started.Day().Words()
	if len(in) == 1 {
		return "1 load, on " + last + ", ran"
	}
	return fmt.Sprintf("%d loads, the last on %s, ran", len(in), last)
}

// premisesLost lists the rows of upkeep that lead to no single sterilizer or equipment.
func premisesLost(p *practice.Practice) (lost []*practice.Upkeep) {
	known := map[string]bool{}
	for i := range p.Sterilizers {
		known[practice.Key(&p.Sterilizers[i].Row)] = true
	}
	for i := range p.Equipment {
		known[practice.Key(&p.Equipment[i].Row)] = true
	}
	for i := range p.Upkeep {
		if u := &p.Upkeep[i]; !known[u.Equipment] {
			lost = append(lost, u)
		}
	}
	return lost
}

// premisesUpkeepDue lists the next dates up to the renewal or inspection, and those already past, of sterilizers and all
// other equipment, by the last row of each task.
func premisesUpkeepDue(x *audit.Examination) {
	horizon := x.P.Ahead()
	type key struct{ equipment, task string }
	last := map[key]*practice.Upkeep{}
	for i := range x.P.Upkeep {
		u := &x.P.Upkeep[i]
		k := key{u.Equipment, u.Task}
		if old := last[k]; old == nil || u.DoneOn >= old.DoneOn {
			last[k] = u
		}
	}
	for i := range x.P.Upkeep {
		u := &x.P.Upkeep[i]
		if last[key{u.Equipment, u.Task}] == u && u.NextDueOn.Written() && (u.NextDueOn < x.P.AsOf || u.NextDueOn <= horizon) {
			x.Due(audit.Due{Row: &u.Row, Field: "next_due_on", On: u.NextDueOn, What: u.Task + " of " + u.Equipment})
		}
	}
}
