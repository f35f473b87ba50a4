package cli

import (
	"fmt"
	"strings"

	"footing/internal/record"
)

// convertWords says what convert wrote.
func convertWords(done *record.Exported, out string) string {
	var b strings.Builder
	say := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	say("The records were written into %s, read again there, and found to be the same.", out)
	say("")
	rows, aside := 0, 0
	for _, k := range done.Kinds {
		rows, aside = rows+k.Rows, aside+k.SetAside
		say("  %-13s %s", k.Kind, exportedWords(k))
	}
	if done.Traces > 0 {
		say("  %-13s %s copied unchanged", "traces", count(done.Traces, "data-logger file", "data-logger files"))
	}
	say("  %-13s %d found, %d written, %d set aside", "all rows", rows, rows-aside, aside)
	for _, k := range done.Kinds {
		if k.AsTyped > 0 {
			say("")
			say("%s of %s cannot be held by the format as typed, such as an item of a list with a", count(k.AsTyped, "row", "rows"), k.Kind)
			say("semicolon in it, or a value whose unit is not that of its heading. They are in %s", inFiles(k.Files, "as-typed"))
		}
	}
	list := func(head string, names []string) {
		if len(names) > 0 {
			say("")
			say("%s", head)
			for _, n := range names {
				say("  %s", n)
			}
		}
	}
	list("These files cannot be read. They were copied as they are:", done.Refused)
	var left, sheets []string
	for _, n := range done.Left {
		if strings.Contains(n.Name, ", sheet ") {
			sheets = append(sheets, n.Name+": "+n.Why)
			continue
		}
		left = append(left, n.Name+": "+n.Why)
	}
	var missing []string
	for _, n := range done.Missing {
		missing = append(missing, n.Name+": "+n.Why)
	}
	list("These files can be neither read nor copied, so that an audit of the new folder does not know of\nthem. It may call a record unknown that stands in one:", missing)
	list("These workbooks hold more than the records read from them, such as titles, notes, other sheets\nor formulas that failed. They were copied as they are, to where they are not read:", done.Books)
	list("These sheets are not read as records, and are in those copies alone:", sheets)
	list("Comments stay behind in these files:", done.Comments)
	list("These are no records that can be read, and were not copied:", left)
	say("")
	if aside > 0 || len(done.Refused) > 0 {
		say("next: footing proofread %s says why rows were set aside", out)
	} else {
		say("next: look at the new folder, and keep the old one until you have")
	}
	return b.String()
}

// exportedWords tells of one kind.
func exportedWords(k record.ExportedKind) string {
	if k.AsItWas {
		return fmt.Sprintf("copied as it is to %s, which the format cannot hold as it was typed", strings.Join(k.Files, ", "))
	}
	s := count(k.Written, "row", "rows") + " in " + strings.Join(k.Files, ", ")
	if len(k.Files) == 0 {
		s = "no row"
	}
	if k.SetAside > 0 {
		s += fmt.Sprintf("; %s set aside, in %s", count(k.SetAside, "row", "rows"), strings.Join(k.Aside, ", "))
	} else if len(k.Aside) > 0 {
		s += "; the rest of a broken file in " + strings.Join(k.Aside, ", ")
	}
	return s
}

// inFiles lists the files whose names hold a word.
func inFiles(files []string, word string) string {
	var found []string
	for _, f := range files {
		if strings.Contains(f, word) {
			found = append(found, f)
		}
	}
	return strings.Join(found, ", ")
}
