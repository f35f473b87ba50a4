package result

import (
	"cmp"
	"strings"
)

// Action is one row of actions in the records that says which finding it answers, so
// that a new list of actions does not ask for it again. Days are ISO dates; "" where
// none is written.
type Action struct {
	ID         string `json:"id"`      // what the row is known by
	Finding    string `json:"finding"` // as written: a fingerprint, a check, or words
	DueOn      string `json:"due_on"`
	DoneOn     string `json:"done_on"`
	VerifiedOn string `json:"verified_on"`
	File       string `json:"file"`
	Row        int    `json:"row"`
}

// Answers reports whether the row names that finding by its fingerprint. An apostrophe
// in front is a spreadsheet's mark of text, and capitals are a spreadsheet's too.
func (a *Action) Answers(fingerprint string) bool {
	return fingerprint != "" && strings.EqualFold(strings.TrimSpace(strings.TrimLeft(strings.TrimSpace(a.Finding), "'’‘")), fingerprint)
}

func compareActions(a, b Action) int {
	return cmp.Or(cmp.Compare(a.File, b.File), cmp.Compare(a.Row, b.Row), cmp.Compare(a.ID, b.ID))
}
