package report

import (
	"bytes"
	"encoding/csv"
	"regexp"
	"strings"

	"footing/internal/result"
)

// actionColumns are the fields of the kind actions, in the order of its schema.
var actionColumns = []string{"id", "action", "due_on", "finding", "owner", "done_on", "verified_on", "verified_by", "entered_on", "kept_at", "corrects", "note"}

// ActionsCSV writes what there is to do as rows of the kind actions, for a spreadsheet
// and then for the folder of records: a row a step of each finding, in the order of the
// report, with its fingerprint, and its grade and summary in the note. Who, by when and
// when done are left for people to fill in. A finding that a row of actions in the records
// answers already is left out, so that nothing stands in two lists (see followUp). The
// text begins with a byte order mark; no cell begins a formula.
func ActionsCSV(r *result.Result) []byte {
	ix := newIndex(r)
	var b bytes.Buffer
	b.WriteString(byteOrderMark)
	w := csv.NewWriter(&b)
	_ = w.Write(actionColumns) // into memory, which cannot fail
	for _, i := range ix.order {
		f := &ix.Findings[i]
		followed, earlier := ix.followUp(f)
		if followed {
			continue
		}
		note := ix.actionNote(f, earlier)
		for _, step := range actionSteps(f) {
			row := make([]string, len(actionColumns))
			row[1], row[3], row[len(row)-1] = harmlessCell(step), codeCell(f.Fingerprint), harmlessCell(note)
			_ = w.Write(row)
		}
	}
	w.Flush()
	return b.Bytes()
}

// actionSteps are the steps of a finding; one that has none is not lost.
func actionSteps(f *result.Finding) (out []string) {
	for _, s := range f.Steps {
		if plain(s) != "" {
			out = append(out, s)
		}
	}
	if len(out) == 0 {
		return []string{"Read this finding in the report, and settle what is to be done"}
	}
	return out
}

// actionNote is the grade, what it is about and what was found; then that it is
// accepted, and what the records say of earlier actions.
func (ix *index) actionNote(f *result.Finding, earlier string) string {
	note := orElse(upper(plain(f.Grade)), "Without a grade") + ": " + ix.about(f) + ": " + stop(f.Summary)
	if f.Accepted {
		note += " " + ix.acceptance(f)
	}
	return strings.TrimSpace(note + " " + earlier)
}

// acceptance says who accepted a finding, until when and why.
func (ix *index) acceptance(f *result.Finding) string {
	if a := ix.AcceptedBy(f); a != nil {
		return "Accepted until " + orElse(day(a.Until), "a day not written") + " by " + orElse(ident("people", a.By), "nobody named") + ": " + stop(orElse(a.Reason, "no reason written"))
	}
	return "Accepted by the practice for a time."
}

// followUp looks for rows of actions that answer a finding. It is followed where one of
// them is not verified yet, or where the last was verified and nothing that was found is
// of a later day. Else earlier says what the records have: that it was verified and is
// found still, or that a row names the whole check.
func (ix *index) followUp(f *result.Finding) (followed bool, earlier string) {
	verified, check := -1, -1
	for i := range ix.Actions {
		a := &ix.Actions[i]
		switch {
		case a.Answers(f.Fingerprint) && a.VerifiedOn == "":
			return true, ""
		case a.Answers(f.Fingerprint) && (verified < 0 || a.VerifiedOn > ix.Actions[verified].VerifiedOn):
			verified = i
		case plain(a.Finding) == f.Check && check < 0:
			check = i
		}
	}
	switch {
	case verified >= 0 && f.Extent.Last != "" && firstTen(f.Extent.Last) <= ix.Actions[verified].VerifiedOn:
		return true, ""
	case verified >= 0:
		return false, "An action for it was verified on " + day(ix.Actions[verified].VerifiedOn) + " (" + actionAt(&ix.Actions[verified]) + "), and it is found still."
	case check >= 0:
		return false, "An action for this check is typed already (" + actionAt(&ix.Actions[check]) + ")."
	}
	return false, ""
}

// actionAt names a row of actions: its id, else its place.
func actionAt(a *result.Action) string {
	if a.Row > 0 && strings.HasPrefix(a.ID, a.File+" ") || a.ID == "" {
		return place(result.Evidence{File: a.File, Row: a.Row})
	}
	return ident("actions", a.ID)
}

// firstTen is the day of a moment.
func firstTen(s string) string { return s[:min(len(s), 10)] }

var readsAsNumber = regexp.MustCompile(`^[0-9]+([eE][0-9]+)?$`)

// codeCell marks a code that a spreadsheet program would take for a number, and write
// anew in another form, as text: 123456789012 or 1e2345678901.
func codeCell(s string) string {
	if s = harmlessCell(s); readsAsNumber.MatchString(s) {
		return "'" + s
	}
	return s
}
