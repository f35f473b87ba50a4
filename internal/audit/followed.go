package audit

import (
	"footing/internal/practice"
	"footing/internal/result"
)

// followed lists the rows of actions that say which finding they answer.
func followed(p *practice.Practice) (list []result.Action) {
	for i := range p.Actions {
		a := &p.Actions[i]
		if a.Finding == "" {
			continue
		}
		at := a.Row.Place("finding")
		list = append(list, result.Action{ID: practice.Key(&a.Row), Finding: a.Finding, DueOn: a.DueOn.String(), DoneOn: a.DoneOn.String(), VerifiedOn: a.VerifiedOn.String(),
			File: at.File, Row: at.Row})
	}
	return list
}
