package cli

import (
	"fmt"
	"slices"
	"strings"

	"footing/internal/audit"
	"footing/internal/practice"
	"footing/internal/record"
	"footing/schemas"
)

const (
	mostKinds  = 4
	mostFields = 3
)

// needed says what is still needed for a useful audit, and how long typing it takes.
func (w *proof) needed(p *practice.Practice, battery []audit.Check, folder string) {
	w.heading("What would let more be seen")
	reach := audit.NewReach(p, battery)
	w.para(fmt.Sprintf("By what is typed, %d of %d checks can look. Not typed does not mean not done.", reach.Looking(), len(battery)))
	var works []work
	var missing []string
	for _, kind := range audit.FirstEvening() {
		if !p.Typed(kind) && !p.Unread(kind) {
			if kind != "practice" { // which has a section of its own
				missing = append(missing, kind)
			}
			works = append(works, workOf(p, kind))
		}
	}
	if len(missing) > 0 {
		w.para(fmt.Sprintf("Of the first evening's records there is nothing yet of %s. Typing them: %s, by our estimate.", listed(missing), about(seconds(works))))
	}
	if len(p.Intake.Traces) == 0 && !p.NoLogger() && !p.HasLogger() {
		w.para("No data-logger files are there. If a sterilizer keeps data-logger files, copy them into the folder traces as they are.")
	}
	kinds, fields := reach.Kinds(append(audit.FirstEvening(), "traces"), mostKinds), reach.Fields(mostFields)
	if len(kinds)+len(fields) == 0 {
		return
	}
	w.para("What would let most be seen, best first; each counts with those above it:")
	for _, k := range kinds {
		w.item(wantedKind(p, k, len(battery)))
	}
	for _, f := range fields {
		w.item(wantedField(p, f))
	}
	sheets := []string{}
	for _, k := range kinds {
		if k.Kind != "traces" && k.Kind != "practice" && !hasFile(p, k.Kind) {
			sheets = append(sheets, k.Kind)
		}
	}
	w.para("Times are our estimate: five seconds a value and five a row, with the paper beside you.")
	if len(sheets) > 0 {
		w.para("Empty sheets to type into:")
		w.command("  footing new " + folder + " --with " + strings.Join(sheets, ","))
	}
}

func wantedKind(p *practice.Practice, k audit.Want, all int) string {
	var gains []string
	if k.Look > 0 {
		gains = append(gains, fmt.Sprintf("%s could look (then %d of %d)", count(k.Look, "more check", "more checks"), k.Then, all))
	}
	if k.See > 0 {
		gains = append(gains, sees(k.See))
	}
	if len(gains) == 0 {
		gains = append(gains, "alone it opens no check, but together with another record it does")
	}
	if k.Kind == "traces" {
		return "traces, the data logger's files: " + strings.Join(gains, ", ") + ". Copy them into the folder traces as they are; nothing is to be typed."
	}
	w := workOf(p, k.Kind)
	return fmt.Sprintf("%s: %s. %s%s: %s.", k.Kind, strings.Join(gains, ", "), count(w.rows, "row", "rows"), inBrackets(w.basis), about(w.seconds))
}

func sees(n int) string { return count(n, "check", "checks") + " could see more" }

// hasFile reports whether a file or sheet of a kind is there, even without rows.
func hasFile(p *practice.Practice, kind string) bool {
	return slices.ContainsFunc(p.Intake.Files, func(f record.File) bool { return f.Kind == kind })
}

// longest is how long typing a column back may take, in seconds, and still be worth naming
// before keeping it from today on.
const longest = 2 * 60 * 60

func wantedField(p *practice.Practice, f audit.Want) string {
	what := ""
	if f.Gloss != "" {
		what = " (" + f.Gloss + ")"
	}
	if kind, ok := schemas.Lookup(f.Kind); ok && kind.Single {
		return fmt.Sprintf("%s in the %s file%s: %s. %s.", f.Name, f.Kind, what, sees(f.See), upperFirst(about(workOfField(1))))
	}
	_, rows := p.Filled(f.Kind, f.Name)
	name := headingIn(p.Intake, f.Kind, "", f.Name)
	back := about(workOfField(rows))
	if workOfField(rows) > longest {
		return fmt.Sprintf("the column %s of %s%s, filled from today on: %s. A few seconds a row; for all %s it would be %s.", name, f.Kind, what, sees(f.See), count(rows, "row", "rows"), back)
	}
	return fmt.Sprintf("the column %s of %s%s, in which nothing is written: %s. %s: %s.", name, f.Kind, what, sees(f.See), count(rows, "row", "rows"), back)
}

func seconds(list []work) (n int) {
	for _, w := range list {
		n += w.seconds
	}
	return n
}
