package checks

import (
	"slices"
	"strings"

	"footing/internal/audit"
	"footing/internal/practice"
)

var _ = define(audit.Check{
	ID:    "traces/readable",
	Title: "every data-logger file can be read to its end, in units that are known",
	Why: "A file that breaks off, has no units or lacks a column for time or temperature proves nothing, and that shows only when someone opens it. " +
		"What is wrong is told with its line, and the rest of the file is used where it can be; nothing is guessed and no file is changed.",
	Grades:  []audit.Grade{audit.Minor, audit.Observation},
	Subject: "sterilizers", Thing: "data-logger file", Things: "data-logger files",
	Needs: []string{"traces"},
	Helps: []string{"sterilizers", "practice.units", "practice.dates"},
	Fix: []string{
		tracesReadableKeep,
		"Export the cycle again from the logger or the sterilizer, if it still has it, and put the new file beside the old one under another name.",
		"Where units or columns are missing, write them once into traces/layout.yaml; then every file of that maker can be read.",
		"If the folder holds files that are no data-logger files, move them out of traces/.",
		tracesReadableAgain,
	},
	Verify: "The next audit reads every file, and the list of files shows no line set aside.",
	Run: func(x *audit.Examination) {
		for _, t := range x.P.Traces() {
			tracesReadableOf(x, tracesSubject(t), t)
		}
	},
})

const (
	tracesReadableKeep  = "Keep the file as it is: do not open and save it with a spreadsheet program, which changes times and numbers."
	tracesReadableAgain = "Run the audit again, and look whether the file is read now."
)

// tracesReadableOf says of one file whether it can be read: what keeps it from
// being relied on is one fault; what is small is an observation for each cause.
func tracesReadableOf(x *audit.Examination, subject audit.Subject, t *practice.Traced) {
	switch f, grave := tracesReadableGrave(t); {
	case t.Unread != "":
		f := tracesReadableFault(t, "unread", 0, "the file could not be read to its end: "+t.Unread)
		f.Grade = audit.Minor
		x.NotMet(subject, f)
	case t.Unusable != "":
		x.NotMet(subject, tracesReadableUnusable(t))
		return // smaller troubles of a file that is not used are none
	case grave:
		x.NotMet(subject, f)
	default:
		x.Met(subject)
	}
	for _, p := range t.Problems {
		if !p.Grave {
			f := tracesReadableFault(t, p.Cause, p.Line, p.Sentence, p.Todo)
			x.Remark(subject, f)
		}
	}
}

// tracesReadableFault tells of one cause in one file; what to do, where it is
// known, comes before what holds for every file.
func tracesReadableFault(t *practice.Traced, cause string, line int, sentence string, todo ...string) audit.Fault {
	sentence = strings.TrimSuffix(sentence, ".")
	f := audit.Fault{Grade: audit.Observation, Matter: cause, Found: sentence, Day: tracesDay(t), Evidence: []audit.Evidence{audit.InTrace(t, line, sentence)}}
	if todo = slices.DeleteFunc(todo, func(s string) bool { return s == "" }); len(todo) > 0 {
		f.Steps = append(todo, tracesReadableKeep, tracesReadableAgain)
	}
	return f
}

// tracesReadableGrave joins all that keeps a file from being relied on as whole; it
// is named by what comes first in the file.
func tracesReadableGrave(t *practice.Traced) (f audit.Fault, grave bool) {
	for _, p := range t.Problems {
		if !p.Grave {
			continue
		}
		one := tracesReadableFault(t, p.Cause, p.Line, p.Sentence, p.Todo)
		if !grave {
			f, grave = one, true
			f.Grade = audit.Minor
		} else {
			f.Evidence = append(f.Evidence, one.Evidence...)
		}
	}
	return f, grave
}

// tracesReadableUnusable tells of a file in which nothing can be judged. Files of
// one maker's form fail with the same words, but for names and numbers, and are
// one finding.
func tracesReadableUnusable(t *practice.Traced) audit.Fault {
	found, todo, _ := strings.Cut(t.Unusable, ". ")
	cause := found
	if i := strings.IndexFunc(cause, func(r rune) bool { return r == '“' || r >= '0' && r <= '9' }); i > 0 {
		cause = cause[:i]
	}
	f := tracesReadableFault(t, strings.ToLower(strings.TrimSpace(cause)), 0, found, todo)
	f.Grade = audit.Minor
	return f
}
