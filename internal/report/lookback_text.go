package report

import (
	"slices"
	"strconv"

	"footing/internal/result"
)

// mostShown is how many rows of one list the terminal shows.
const mostShown = 20

// lookback writes an answer for a terminal.
func (s *summary) lookback(a *result.Answer) {
	first, rest := cut(a.Says)
	s.line(strong, "Look-back: "+asked(a))
	s.line(nil, stop(first))
	s.title("Now")
	for i, n := range a.Now {
		s.hang(alarm, strconv.Itoa(i+1)+". ", stop(upper(n)))
	}
	if len(a.Now) == 0 {
		s.line(nil, "Keep everything as it is: add to, correct and throw away nothing.")
	}
	s.title("In short")
	for _, l := range rest {
		s.line(nil, stop(upper(l)))
	}
	s.line(nil, s.readAs()+" "+notOf)
	if a.Decides != "" {
		s.title("Who decides")
		s.line(nil, stop(upper(a.Decides)))
	}
	if numbers := (&page{index: s.index}).contacts(); numbers != "" {
		s.line(nil, "Telephone, as you wrote it: "+numbers+".")
	}
	for i := range a.Lookbacks {
		s.forward(&a.Lookbacks[i], len(a.Lookbacks) > 1)
	}
	for i := range a.Chains {
		if i == mostShown {
			s.line(faint, several(len(a.Chains)-mostShown, "more visit", "more visits")+" in the page.")
			break
		}
		s.title(chainTitle(&a.Chains[i]))
		s.line(nil, chainStands(&a.Chains[i]))
		s.grid(chainColumns, chainRows(&a.Chains[i]))
		if copies := a.Chains[i].Copies; len(copies) > 0 {
			s.line(nil, "Typed after the complaint was received, so later copies: "+join(placesOf(copies))+".")
		}
	}
	if o := a.Others; o != nil {
		s.title("Other clients, as counts only: " + strconv.Itoa(o.Clients))
		s.bulleted(o.Shares)
	}
	s.section("What is missing", a.Missing)
	s.section("What the figures are not", a.Limits)
}

// forward writes one forward answer: its windows, packs, what would narrow it, loads
// and visits.
func (s *summary) forward(l *result.Lookback, headed bool) {
	if headed {
		s.title(named(l.Kind, l.ID))
	}
	for _, g := range pullGroups(l.Pull) {
		s.title("Pull: " + g.title)
		rows := make([][]string, 0, len(g.packs))
		for _, k := range g.packs {
			rows = append(rows, []string{packName(k), ident("loads", k.Load), k.Set, day(k.On), k.State, windowName(k.Narrow)})
		}
		s.some([]string{"Pack", "Load", "Set", "Last written of", "State", "Window"}, rows)
	}
	if len(l.Windows) > 0 {
		s.title("How far it could reach")
		s.grid(windowRows(l))
	}
	if len(l.Narrowing) > 0 {
		s.title("What would narrow it")
		s.grid([]string{"Look for", "Days", "Loads", "Visits", "Clients"}, narrowingRows(l))
	}
	if len(l.Loads) > 0 {
		s.title("Loads")
		rows := make([][]string, 0, len(l.Loads))
		for _, w := range l.Loads {
			rows = append(rows, []string{day(w.On), ident("loads", w.Load), w.Decision, w.Shows, w.Packs, windowName(w.Narrow)})
		}
		s.some([]string{"On", "Load", "Decision", "Shows", "Packs", "Window"}, rows)
	}
	for _, named := range []bool{true, false} {
		visits := slices.DeleteFunc(slices.Clone(l.Affected), func(v result.Affected) bool { return v.Named != named })
		if len(visits) == 0 {
			continue
		}
		s.title(visitsTitle(named, len(visits)))
		rows := make([][]string, 0, len(visits))
		for _, v := range visits {
			rows = append(rows, []string{day(v.On), ident("visits", v.Visit), ident("clients", v.Client), v.Site, v.How, windowName(v.Narrow)})
		}
		s.some([]string{"On", "Visit", "Client", "Site", "How", "Window"}, rows)
	}
}

func (s *summary) title(words string) {
	s.b.WriteByte('\n')
	s.line(strong, words)
}

// some writes the first rows of a table and counts the rest.
func (s *summary) some(columns []string, rows [][]string) {
	s.grid(columns, rows[:min(len(rows), mostShown)])
	if more := len(rows) - mostShown; more > 0 {
		s.line(faint, "  and "+strconv.Itoa(more)+" more in the page.")
	}
}

func (s *summary) section(title string, lines []string) {
	if len(lines) > 0 {
		s.title(title)
		s.bulleted(lines)
	}
}

func (s *summary) bulleted(lines []string) {
	for _, l := range lines {
		s.hang(nil, "- ", stop(upper(l)))
	}
}
