package report

import (
	"fmt"

	"footing/internal/result"
)

// findings tells what came, went and weighs otherwise.
func (w *changeWords) findings(c *result.Changes) {
	var fresh, raised, lowered, gone, unseen []changed
	for i := range c.New {
		fresh = append(fresh, w.is.foundNow(&c.New[i]))
	}
	for i := range c.Graded {
		before, after := c.Graded[i].Before.Grade, c.Graded[i].After.Grade
		l := w.is.foundNow(&c.Graded[i].After)
		l.grade, l.text = "", fmt.Sprintf("%s %s, before %s %s. %s", mark(after), orElse(after, "without a grade"), mark(before), orElse(before, "without a grade"), l.text)
		if result.GradeRank(after) > result.GradeRank(before) {
			raised = append(raised, l)
		} else {
			l.style = nil
			lowered = append(lowered, l)
		}
	}
	for i := range c.Closed {
		l := w.was.foundNow(&c.Closed[i].Finding)
		l.style, l.at = nil, ""
		if c.Closed[i].Unseen {
			unseen = append(unseen, l)
		} else {
			gone = append(gone, l)
		}
	}
	w.most("New", fresh)
	w.most("Graded higher", raised)
	w.most("Graded lower", lowered)
	w.resized(c.Resized)
	w.most("No longer found", gone)
	w.most("No longer found, but there is less to see now", unseen)
}

// foundNow is a finding in one line.
func (ix *index) foundNow(f *result.Finding) changed {
	l := changed{grade: f.Grade, text: ix.about(f) + ": " + stop(f.Summary)}
	if _, held := ix.byKey[f.Fingerprint]; held {
		l.at = "f-" + f.Fingerprint
	}
	switch f.Grade {
	case result.Critical:
		l.style = alarm
	case result.Major:
		l.style = warn
	default:
		l.style = strong
	}
	return l
}

// resized tells findings that are about more or fewer things, were told in other words, or accepted.
func (w *changeWords) resized(all []result.Pair) {
	sorts := []string{"More now", "Fewer now", "Accepted now", "No longer accepted", "Told otherwise"}
	told := map[string][]changed{}
	for i := range all {
		a, b := &all[i].Before, &all[i].After
		l := w.is.foundNow(b)
		l.style = nil
		sort := sorts[4]
		switch {
		case b.Accepted && !a.Accepted:
			sort = sorts[2]
		case a.Accepted && !b.Accepted:
			sort = sorts[3]
		case a.Extent.N < b.Extent.N:
			sort = sorts[0]
		case a.Extent.N > b.Extent.N:
			sort = sorts[1]
		}
		if a.Extent.N != b.Extent.N {
			l.text = fmt.Sprintf("%d of %d, before %d of %d. %s", b.Extent.N, b.Extent.Of, a.Extent.N, a.Extent.Of, l.text)
		}
		told[sort] = append(told[sort], l)
	}
	for _, sort := range sorts {
		w.most(sort, told[sort])
	}
}

// checks tells which could look now, or no longer, and which are met now. Those that are
// no longer met are told by their findings.
func (w *changeWords) checks(all []result.CheckPair, closed []result.Closed) {
	less := map[string]bool{}
	for _, f := range closed {
		less[f.Check] = less[f.Check] || f.Unseen
	}
	var met, dimmer, judged, blind, broke []changed
	for _, c := range all {
		l := changed{text: stop(orElse(c.Title, c.ID))}
		dark := c.Before == result.NotAssessed || c.Before == result.Broken
		switch {
		case c.After == result.Broken:
			broke = append(broke, l)
		case c.After == result.NotAssessed && c.Before != "":
			blind = append(blind, l)
		case c.After == result.Conforming && dark:
			l.text += " It conforms, in what could be seen."
			judged = append(judged, l)
		case c.After == result.Nonconforming && dark:
			l.text += " It does not conform."
			judged = append(judged, l)
		case c.After == result.Conforming && less[c.ID]:
			dimmer = append(dimmer, l)
		case c.After == result.Conforming:
			met = append(met, l)
		}
	}
	w.most("Conforms now, in what could be seen", met)
	w.most("Conforms now, but there is less to see than before", dimmer)
	w.most("Could look now", judged)
	w.most("Can no longer look", blind)
	w.most("Failed to run", broke)
}

// files tells which were saved, came or went.
func (w *changeWords) files(all []result.FilePair) {
	var out []changed
	for _, f := range all {
		said := fileWords(f.Before, f.After)
		if _, sheet := f.Sheet(); sheet && f.After == nil {
			said = "gone from the workbook"
		}
		out = append(out, changed{text: plain(f.Name) + ": " + stop(said)})
	}
	w.most("", out)
}

func fileWords(before, after *result.FileState) string {
	switch {
	case after == nil:
		return "gone from the folder"
	case after.Unread != "":
		return "not read as records: " + plain(after.Unread)
	case after.Trace && (before == nil || !before.Trace):
		return "new data-logger file"
	case after.Trace:
		return "data-logger file with other contents"
	}
	rows := several(after.Rows, "row", "rows")
	aside := ""
	if after.SetAside > 0 {
		aside = "; " + several(after.SetAside, "row is", "rows are") + " set aside"
	}
	if before == nil || before.Trace {
		return "new, " + rows + aside
	}
	if before.Unread != "" {
		return "can be read now, " + rows + aside
	}
	if after.SetAside == 0 && before.SetAside > 0 {
		aside = "; no row is set aside any more"
	} else if after.SetAside > 0 {
		aside += moved(before.SetAside, after.SetAside)
	}
	return "saved, " + rows + moved(before.Rows, after.Rows) + aside
}
