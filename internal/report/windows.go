package report

import (
	"reflect"
	"strconv"

	"footing/internal/result"
)

// windowRows sets the windows of a look-back side by side: what each figure is, then
// a cell a window, or one for all where their figures are the same. The first row names
// the columns.
func windowRows(l *result.Lookback) (columns []string, rows [][]string) {
	windows := l.Windows
	columns = []string{"Figure"}
	if sameFigures(windows) {
		windows = windows[:1]
		columns = append(columns, "Wide and narrow window")
	} else {
		for _, w := range windows {
			columns = append(columns, windowTitle(w.Name))
		}
	}
	add := func(name string, cell func(w *result.Window) string) {
		row, filled := []string{name}, false
		for i := range windows {
			c := cell(&windows[i])
			row, filled = append(row, c), filled || c != ""
		}
		if filled {
			rows = append(rows, row)
		}
	}
	count := func(name string, n func(w *result.Window) int) {
		add(name, func(w *result.Window) string { return strconv.Itoa(n(w)) })
	}
	add("How it was drawn", func(w *result.Window) string { return upper(plain(w.Why)) })
	if len(windows) < len(l.Windows) {
		rows = append(rows, []string{"How the narrow one was drawn", upper(plain(l.Windows[1].Why))})
	}
	add("Since", func(w *result.Window) string { return orElse(day(w.Since), "not written") })
	add("Until", func(w *result.Window) string { return day(w.Until) })
	add("Days", func(w *result.Window) string { return daysOf(w.Days) })
	count("Loads", func(w *result.Window) int { return w.Loads })
	count("Packs with a row of their own", func(w *result.Window) int { return w.Packs })
	add("Packs known by a count alone", countedPacks)
	count("Packs counted on a shelf", func(w *result.Window) int { return w.OnShelf })
	count("Packs whose whereabouts are not written", func(w *result.Window) int { return w.Unwritten })
	add("Visits", func(w *result.Window) string { return atMost(w.Visits, w.MostVisits, "name a pack or load of it") })
	add("Clients", func(w *result.Window) string { return atMost(w.Clients, w.MostClients, "of visits that name one") })
	add("Where it is written", func(w *result.Window) string { return places(w.Proof) })
	return columns, rows
}

// countedPacks is how many packs a window holds beside those with rows; what loads do not
// count is no nought.
func countedPacks(w *result.Window) string {
	n, blank := strconv.Itoa(w.Unnumbered), "not written for "+several(w.Uncounted, "load", "loads")
	switch {
	case w.Uncounted == 0:
		return n
	case w.Unnumbered == 0:
		return blank
	}
	return n + "; " + blank
}

// sameFigures says whether there are two windows, which differ by their rule alone.
func sameFigures(windows []result.Window) bool {
	if len(windows) != 2 {
		return false
	}
	wide, narrow := windows[0], windows[1]
	wide.Name, wide.Why = narrow.Name, narrow.Why
	return reflect.DeepEqual(wide, narrow)
}

// windowTitle names a window; by which rule it was drawn stands in its first cell.
func windowTitle(name string) string {
	switch name {
	case result.Wide:
		return "Wide window"
	case result.Narrow:
		return "Narrow window"
	}
	return name
}

// mostPlaces is how many places one cell names.
const mostPlaces = 3

// places names the first few places of some evidence, each once.
func places(all []result.Evidence) string {
	out := placesOf(all)
	if more := len(out) - mostPlaces; more > 0 {
		out = append(out[:mostPlaces:mostPlaces], several(more, "more", "more"))
	}
	return join(out)
}

// placesOf names every place once.
func placesOf(all []result.Evidence) []string {
	out := make([]string, 0, len(all))
	for _, e := range all {
		if s := place(e); s != "" {
			out = append(out, s)
		}
	}
	return unique(out)
}

// windowsOf prints the windows of one look-back.
func (p *page) windowsOf(l *result.Lookback) {
	columns, rows := windowRows(l)
	p.table(texts(columns), cells(rows))
}

// narrowingOf prints what would make the wide window smaller, at most so many rows.
func (p *page) narrowingOf(l *result.Lookback, most int) {
	rows := narrowingRows(l)
	p.table(texts(narrowingColumns), cells(rows[:min(len(rows), most)]))
	if more := len(rows) - most; more > 0 {
		p.para(say("%s less; the look-back command lists all.", several(more, "more record would narrow it", "more records would narrow it")))
	}
}

var narrowingColumns = []string{"Look for", "Days then", "Loads then", "Visits then, at most", "Clients then, at most"}

func narrowingRows(l *result.Lookback) (rows [][]string) {
	for _, n := range l.Narrowing {
		if n.Days < 0 { // how far it would narrow hangs on what it says
			rows = append(rows, []string{upper(plain(n.What)), daysOf(n.Days), "–", "–", "–"})
			continue
		}
		rows = append(rows, []string{upper(plain(n.What)), daysOf(n.Days), strconv.Itoa(n.Loads), strconv.Itoa(n.Visits), strconv.Itoa(n.Clients)})
	}
	return rows
}

// cells escapes a table.
func cells(rows [][]string) [][]md {
	out := make([][]md, 0, len(rows))
	for _, r := range rows {
		out = append(out, texts(r))
	}
	return out
}

// unbounded says whether no spore test gives the wide window of a look-back its
// beginning, and loads lie in it.
func unbounded(l *result.Lookback) bool {
	for _, w := range l.Windows {
		if w.Name == result.Wide {
			return w.Loads > 0 && !l.Bounded
		}
	}
	return false
}
