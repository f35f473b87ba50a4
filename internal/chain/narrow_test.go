package chain

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"footing/internal/practice"
)

func narrowingWords(n Narrowing) string {
	return fmt.Sprintf("%s.%s: %s: %d d, %d loads, %d visits, %d clients", n.Kind, n.Field, n.What,
		n.Window.Days, len(n.Window.Loads), len(n.Reach.Visits)+len(n.Reach.Possible), len(n.Reach.MostClients))
}

// What to look for is the battery's; no outside source.
func TestNarrowings(t *testing.T) {
	base := []string{"sterilizer id=S1 method=steam", "spore id=P equipment=S1 run_at=4 control=growth", "spore id=F equipment=S1 run_at=20 result=fail",
		"load id=A started=5 packs_made=1", "load id=B started=12 packs_made=1", "visit client=C1 started=6", "visit client=C2 started=13"}
	for _, c := range []struct {
		name string
		more []string
		want []string
	}{
		{"visits that name no pack", nil, []string{
			"visits.packs: the pack numbers of 2 visits that do not name them: 20 d, 2 loads, 0 visits, 0 clients"}},
		{"a control not written", []string{"spore id=Q equipment=S1 run_at=10"}, []string{
			"visits.packs: the pack numbers of 2 visits that do not name them: 20 d, 2 loads, 0 visits, 0 clients",
			"tests.control: the control's result of the spore test run on 10 Nov 2026: 14 d, 1 loads, 1 visits, 1 clients"}},
		{"a control not run cannot be looked for", []string{"spore id=Q equipment=S1 run_at=10 control=not-run"}, []string{
			"visits.packs: the pack numbers of 2 visits that do not name them: 20 d, 2 loads, 0 visits, 0 clients"}},
		{"results not written, nearest first; one alone after the failure ends nothing", []string{"spore id=Q equipment=S1 run_at=8 result=pending control=growth", "spore id=R equipment=S1 run_at=14 result=-", "spore id=S equipment=S1 run_at=22 result=-"}, []string{
			"tests.result: the result, and the control's, of the spore test run on 14 Nov 2026: 10 d, 0 loads, 0 visits, 0 clients",
			"visits.packs: the pack numbers of 2 visits that do not name them: 20 d, 2 loads, 0 visits, 0 clients",
			"tests.result: the result of the spore test run on 8 Nov 2026: 16 d, 1 loads, 1 visits, 1 clients"}},
		{"two after the failure end it together", []string{"load id=C started=23_09:00 packs_made=1", "spore id=Q equipment=S1 run_at=21", "spore id=R equipment=S1 run_at=22", "spore id=S equipment=S1 run_at=23_10:00"}, []string{
			"visits.packs: the pack numbers of 2 visits that do not name them: 20 d, 3 loads, 0 visits, 0 clients",
			"tests.control: what is not written of the 2 spore tests run from 21 Nov 2026 to 22 Nov 2026: 17 d, 2 loads, 2 visits, 2 clients"}},
		{"a test of no known sterilizer", []string{"sterilizer id=S2 method=steam", "spore equipment=S9 run_at=10 control=growth", "visit client=C3 started=5 packs_used=0"}, []string{
			"loads.sterilizer: which sterilizer 2 loads were of: 20 d, 0 loads, 0 visits, 0 clients",
			"visits.packs: the pack numbers of 2 visits that do not name them: 20 d, 2 loads, 0 visits, 0 clients",
			"tests.equipment: which sterilizer the spore test run on 10 Nov 2026 was of: 14 d, 1 loads, 1 visits, 1 clients"}},
		{"packs of no known load", []string{"pack id=K1 load=", "visit client=C3 started=14 packs=K1"}, []string{
			"visits.packs: the pack numbers of 2 visits that do not name them: 20 d, 2 loads, 1 visits, 1 clients",
			"packs.load: the load that 1 pack came from: 20 d, 2 loads, 2 visits, 2 clients"}},
		{"packs whose whereabouts are not written", []string{"pack id=K1 load=A", "pack id=K2 load=B"}, []string{
			"visits.packs: the pack numbers of 2 visits that do not name them: 20 d, 2 loads, 0 visits, 0 clients",
			"packs.counted_on: whether 2 packs still stand on a shelf: 20 d, 2 loads, 0 visits, 0 clients"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			c.want = append(c.want, "tests.: reports of spore tests run after 4 Nov 2026 that are not typed: 0 d, 0 loads, 0 visits, 0 clients")
			p := bookOf(append(base, c.more...)...).read(t, t.TempDir())
			var got []string
			for _, n := range HistoryOf(p, &p.Sterilizers[0], testTerms(5, 2)).Narrowings(event(t, p, "F")) {
				got = append(got, narrowingWords(n))
			}
			assert.Equal(t, c.want, got)
		})
	}
}

// Reports that may exist are to be looked for always; where no load is in doubt, nothing.
func TestNarrowingsOfNothing(t *testing.T) {
	lines := []string{"sterilizer id=S1 method=steam", "spore equipment=S1 run_at=4 control=growth", "load id=A started=5 packs_made=0"}
	p := bookOf(lines...).read(t, t.TempDir())
	assert.Equal(t, []Narrowing{{Kind: "tests", What: "reports of spore tests run after 4 Nov 2026 that are not typed"}},
		HistoryOf(p, &p.Sterilizers[0], testTerms(5, 2)).Narrowings(Event{}))
	p = bookOf(append(lines, "spore equipment=S1 run_at=8 control=growth")...).read(t, t.TempDir())
	assert.Equal(t, []Narrowing{{Kind: "tests", What: "reports of spore tests run between 4 Nov 2026 and 8 Nov 2026 that are not typed"}},
		HistoryOf(p, &p.Sterilizers[0], testTerms(5, 2)).Narrowings(Event{Load: &p.Loads[0]}))
	p = bookOf(lines[:2]...).read(t, t.TempDir())
	assert.Empty(t, HistoryOf(p, &p.Sterilizers[0], testTerms(5, 2)).Narrowings(Event{}))
}

// A narrowing says what would come of it: when its field is written, and the records
// read again, the window and whom it reaches are those that were told.
func TestNarrowingsComeTrue(t *testing.T) {
	read := folders(t)
	rapid.Check(t, func(t *rapid.T) {
		r := unique(smallPractices(t))
		terms := drawTerms(t)
		p := read(r)
		h := HistoryOf(p, &p.Sterilizers[0], terms)
		all := slices.DeleteFunc(events(p), func(e Event) bool { // what surely is another sterilizer's is never asked of this one
			return e.Test != nil && p.EquipmentOf(e.Test) != "" && p.EquipmentOf(e.Test) != practice.Key(&p.Sterilizers[0].Row)
		})
		e := rapid.SampledFrom(all).Draw(t, "event")
		wide, _ := h.Around(e)
		base := Narrowing{Window: wide, Reach: ReachOfWindow(p, terms, wide)}
		list := h.Narrowings(e)
		require.LessOrEqual(t, len(list), 5)
		for i, n := range list {
			if n.Field == "" {
				require.Equal(t, Narrowing{Kind: "tests", What: n.What}, n)
				require.Equal(t, len(list)-1, i, "what cannot be told stands last")
				continue
			}
			require.True(t, n.smaller(&base), narrowingWords(n))
			if i > 0 {
				require.GreaterOrEqual(t, len(n.Reach.MostClients), len(list[i-1].Reach.MostClients), "best first")
			}
			bare := n.Window.From.Kind == NoProof && len(n.Window.Loads) == 0 // what is found may then be the sterilizer's first record itself
			if n.Kind == "tests" && n.Row != nil && !bare {
				require.Equal(t, narrowingFacts(n.Window, n.Reach), comesTrue(read, r, n, e, terms), narrowingWords(n))
			}
		}
	})
}

func narrowingFacts(w Window, r Reach) string {
	facts := facts(w)
	return fmt.Sprint(facts, " ", len(r.Packs), r.Unnumbered, r.Uncounted, len(r.Visits), len(r.Possible), r.MostClients)
}

// comesTrue writes what a narrowing of a test looks for, reads the records again, and
// tells the window and its reach.
func comesTrue(read func(book) *practice.Practice, r book, n Narrowing, e Event, terms Terms) string {
	for _, row := range r["tests"] {
		if row["id"] != n.Row.ID {
			continue
		}
		was := map[string]string{"equipment": row["equipment"], "control": row["control"], "result": row["result"]}
		defer func() {
			for name, value := range was {
				row[name] = value
			}
		}()
		row["result"] = "pass"
		if row["control"] == "" && strings.Contains(n.What, "control") {
			row["control"] = "growth"
		}
		if n.Field == "equipment" {
			row["equipment"] = "AS1"
		}
	}
	p := read(r)
	var again Event
	for i := range p.Tests {
		if e.Test != nil && p.Tests[i].ID == e.Test.ID {
			again.Test = &p.Tests[i]
		}
	}
	for i := range p.Loads {
		if e.Load != nil && p.Loads[i].ID == e.Load.ID {
			again.Load = &p.Loads[i]
		}
	}
	wide, _ := HistoryOf(p, &p.Sterilizers[0], terms).Around(again)
	return narrowingFacts(wide, ReachOfWindow(p, terms, wide))
}
