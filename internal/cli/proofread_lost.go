package cli

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"footing/internal/audit"
	"footing/internal/practice"
	"footing/internal/record"
	"footing/schemas"
)

// lost tells what of what is typed the audit would leave out.
func (w *proof) lost(p *practice.Practice) {
	w.practiceFile(p)
	own, rest := partsOf(p.Intake)
	for _, q := range slices.Concat(own, rest) {
		w.mend(max(1, len(q.Places)))
	}
	w.told("In the practice file", "It says how dates and units are written, so mend it first.", own)
	w.told("Rows and files that would be set aside", "The audit counts them and leaves them out.", ofEffect(rest, record.FileRefused, record.SetAside))
	w.told("Values that cannot be read as they stand", "The rest of each row is read.", ofEffect(rest, record.Dropped, record.Dropped))
}

// practiceFile tells that there is none, or that nothing is written in it.
func (w *proof) practiceFile(p *practice.Practice) {
	if p.Typed("practice") || p.Unread("practice") {
		return
	}
	const holds = "It holds the practice's name and its regulator, and how you write dates and units; with it, dates such as 31/03/2026 and numbers without a unit can be read."
	w.heading("The practice file")
	for _, f := range p.Intake.Files {
		if f.Kind == "practice" {
			w.para(plain(f.Name) + " is there, and nothing is written in it yet. " + holds)
			return
		}
	}
	w.para("No practice file is in the folder. " + holds)
}

// titles takes what stands above the tables of several sheets of one workbook out of a
// list, and says it in one line for each workbook.
func (w *proof) titles(list []*record.Problem) (rest []*record.Problem, lines []string) {
	sheets := map[string][]string{}
	for _, q := range list {
		if q.Cause == "title" {
			sheets[q.Places[0].File] = append(sheets[q.Places[0].File], plain(q.Places[0].Sheet))
		}
	}
	for _, q := range list {
		file := q.Places[0].File
		switch names := sheets[file]; {
		case q.Cause != "title" || len(names) < 2 || w.whole:
			rest = append(rest, q)
		case names[0] == plain(q.Places[0].Sheet):
			lines = append(lines, fmt.Sprintf("%s, sheets %s: what stands above the table is taken for titles and notes, and not for records.", plain(file), listed(names)))
		}
	}
	return rest, lines
}

// ownTitle reports whether what stands above a table is only what footing new wrote there.
func ownTitle(q *record.Problem) bool {
	k, ok := schemas.Lookup(q.Kind)
	if q.Cause != "title" || !ok {
		return false
	}
	_, words, _ := strings.Cut(q.Sentence, ": ")
	return strings.HasPrefix(words, `"`+k.Title+`", `) && (strings.Contains(words, `", "`+needsNote) || strings.Contains(words, `", "`+needsNone))
}

// unheaded reports whether a problem is about cells that no heading stands above.
func unheaded(q *record.Problem) bool { return q.Cause == "no-heading" }

// noted tells what was only noticed, after the cells without a heading, which are left out.
func (w *proof) noted(p *practice.Practice) {
	list := ofEffect(gravest(p.Intake), record.Noted, record.Noted)
	w.told("Cells that are not read", "A note beside a table may stay so.", slices.DeleteFunc(slices.Clone(list), func(q *record.Problem) bool { return !unheaded(q) }))
	list = slices.DeleteFunc(list, unheaded)
	if !w.whole {
		list = slices.DeleteFunc(list, ownTitle)
	}
	rest, lines := w.titles(list)
	const title = "Noticed; nothing is left out by it"
	w.told(title, "", rest)
	if len(rest) == 0 && len(lines) > 0 {
		w.heading(title)
	}
	for _, l := range lines {
		w.item(l)
	}
	var later []string
	for _, f := range p.Intake.Files {
		if n := p.Later[f.Name]; n > 0 {
			later = append(later, fmt.Sprintf("%s: %s", plain(f.Name), count(n, "row", "rows")))
		}
	}
	if len(later) > 0 {
		w.heading("Rows of later days")
		w.para("Dated after " + p.AsOf.Words() + ", and so not judged yet. If that is not meant, look for a slip in the year.")
		w.some(len(later), func(i int) { w.item(later[i] + ".") })
	}
}

// told lists problems.
func (w *proof) told(title, lead string, list []*record.Problem) {
	if len(list) == 0 {
		return
	}
	w.heading(title)
	if lead != "" {
		w.para(lead)
	}
	w.some(len(list), func(i int) {
		w.item(stopped(veiled(list[i])))
		if where := places(list[i], w.whole); where != "" {
			w.under(where)
		}
	})
}

// rules tells which of the practice's own rules cannot be followed. One that asks for
// less, or names no source, holds, and is for the audit.
func (w *proof) rules(mistakes []audit.Mistake) {
	mistakes = slices.DeleteFunc(slices.Clone(mistakes), func(m audit.Mistake) bool { return m.Looser || m.NoSource })
	if len(mistakes) == 0 {
		return
	}
	for range mistakes {
		w.mend(1)
	}
	w.heading("Rules of yours that cannot be followed")
	w.some(len(mistakes), func(i int) { w.item(stopped(mistakes[i].Found + "; " + mistakes[i].Todo)) })
}

// columns names those that are not known.
func (w *proof) columns(in *record.Intake) {
	var slips, strange []string
	kind := ""
	for _, f := range in.Files {
		var others []string
		for _, h := range f.Headings {
			switch {
			case h.Field != "":
			case h.Near != "":
				slips = append(slips, fmt.Sprintf("%s: “%s” may be %s. If so, let that be its heading.", plain(f.Name), plain(h.Written), meant(f.Kind, h.Near)))
			default:
				others = append(others, "“"+plain(h.Written)+"”")
			}
		}
		if len(others) > 0 {
			strange = append(strange, plain(f.Name)+": "+w.few(others)+".")
			kind = cmp.Or(kind, f.Kind)
		}
	}
	if len(slips)+len(strange) == 0 {
		return
	}
	for range slips {
		w.mend(1)
	}
	w.heading("Columns that are not known, and left alone")
	list := append(slips, strange...)
	w.some(len(list), func(i int) { w.item(list[i]) })
	if len(strange) > 0 {
		w.para("A column of your own may stay as it is. If one holds something that is asked for, give it the heading for that, with its unit if it has one. Which headings there are:")
		w.command("  footing explain " + kind)
	}
}

// stopped ends a sentence with a full stop.
func stopped(s string) string {
	if s = strings.TrimSpace(s); strings.HasSuffix(s, ".") || strings.HasSuffix(s, "?") {
		return s
	}
	return s + "."
}
