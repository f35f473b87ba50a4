package chain

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"footing/internal/practice"
)

// Who could have met a pack is by battery.md and the shapes of its figures; no outside
// source. Load A began on the 5th at 9. All packs have rows, but where "some" says that it
// cannot be told.
func TestReachOf(t *testing.T) {
	for _, c := range []struct {
		name string
		rows []string
		// packs, unnumbered, uncounted, visits, possible, clients, most clients
		want string
	}{
		{"nothing", nil, "0 0 1 [] [] [] []"},
		{"a load of no packs", []string{"load id=A started=5_09:00 packs_made=0", "visit id=V client=C1 started=6"}, "0 0 0 [] [] [] []"},
		{"a visit that names a pack", []string{"load id=A started=5_09:00", "pack id=K load=A", "visit id=V client=C1 started=6 packs=K"}, "1 0 0 [V] [] [C1] [C1]"},
		{"though it was cancelled", []string{"load id=A started=5_09:00", "pack id=K load=A discarded_on=7", "visit id=V client=C1 started=6 packs=K status=cancelled"}, "1 0 0 [] [] [] []"},
		{"a visit that names the load", []string{"visit id=V client=C1 started=6 loads=A"}, "0 0 1 [V] [] [C1] [C1]"},
		{"some: a visit that names none may have had one that has no row", []string{"load id=A started=5_09:00", "pack id=K load=A", "visit id=V client=C1 started=6 packs=K", "visit id=W client=C2 started=7", "visit id=X client=C3 started=4"}, "1 0 1 [V] [W] [C1] [C1 C2]"},
		{"some: but the load counts what has a row", []string{"load id=A started=5_09:00 packs_made=1", "pack id=K load=A", "visit id=V client=C1 started=6 packs=K", "visit id=W client=C2 started=7"}, "1 0 0 [V] [] [C1] [C1]"},
		{"one made more than rows", []string{"load id=A started=5_09:00 packs_made=2", "pack id=K load=A", "visit id=V client=C1 started=6 packs=K", "visit id=W client=C2 started=7"}, "1 1 0 [V] [W] [C1] [C1 C2]"},
		{"as many as rows", []string{"load id=A started=5_09:00 packs_made=1", "pack id=K load=A", "visit id=V client=C1 started=6 packs=K", "visit id=W client=C2 started=7"}, "1 0 0 [V] [] [C1] [C1]"},
		{"counted by sets", []string{"load id=A started=5_09:00 sets=nail_x_2;file_x_1", "pack id=K load=A discarded_on=6", "visit id=V client=C1 started=6"}, "1 2 0 [] [V] [] [C1]"},
		{"visits before, within what clocks may differ, and after", []string{"visit id=T client=C0 started=4_23:59", "visit id=U client=C1 started=5_08:54", "visit id=V client=C2 started=5_08:55", "visit id=W client=C3 started=5"}, "0 0 1 [] [W V] [] [C2 C3]"},
		{"visits that need no instruments, that used none, that name others", []string{"visit id=U client=C1 started=6 procedures=assessment", "visit id=V client=C2 started=6 packs_used=0", "visit id=W client=C3 started=6 packs=X", "pack id=X load=B discarded_on=7", "visit id=Z client=C4 started=6 loads=B"}, "0 0 1 [] [] [] []"},
		{"a pack of which no row tells", []string{"visit id=V client=C1 started=6 packs=X"}, "0 0 1 [] [V] [] [C1]"},
		{"and whose row tells no load", []string{"pack id=X load=", "visit id=V client=C1 started=6 packs=X"}, "0 0 1 [] [V] [] [C1]"},
		{"a load of which no row tells", []string{"visit id=V client=C1 started=6 loads=L9"}, "0 0 1 [] [V] [] [C1]"},
		{"more used than named", []string{"pack id=X load=B", "visit id=V client=C1 started=6 packs=X packs_used=2"}, "0 0 1 [] [V] [] [C1]"},
		{"as many as named", []string{"pack id=X load=B", "visit id=V client=C1 started=6 packs=X packs_used=1"}, "0 0 1 [] [] [] []"},
		{"a pack opened, and no visit names it", []string{"load id=A started=5_09:00 packs_made=1", "pack id=K load=A opened_at=8", "visit id=V client=C1 started=6"}, "1 0 0 [] [V] [] [C1]"},
		{"a pack opened on a day of which no visit names it: another may have had it before", []string{"load id=A started=5_09:00 packs_made=1", "pack id=K load=A opened_at=6_10:00", "visit id=U client=C1 started=6_09:58", "visit id=V client=C2 started=8 packs=K"}, "1 0 0 [V] [U] [C2] [C1 C2]"},
		{"and on the day of the one that does", []string{"load id=A started=5_09:00 packs_made=1", "pack id=K load=A opened_at=8_10:00", "visit id=U client=C1 started=6_09:58", "visit id=V client=C2 started=8 packs=K"}, "1 0 0 [V] [] [C2] [C2]"},
		{"a pack counted before the audit day: since then", []string{"load id=A started=5_09:00 packs_made=1", "pack id=K load=A counted_on=8", "visit id=U client=C1 started=7", "visit id=V client=C2 started=8"}, "1 0 0 [] [V] [] [C2]"},
		{"counted on the audit day", []string{"load id=A started=5_09:00 packs_made=1", "pack id=K load=A counted_on=24", "visit id=V client=C2 started=24"}, "1 0 0 [] [] [] []"},
		{"two packs of one number: the visit may be of the other", []string{"load id=A started=5_09:00 packs_made=1", "pack id=K load=A", "pack id=K load=B", "visit id=V client=C1 started=6 packs=K", "visit id=W client=C2 started=7"}, "1 0 0 [V] [W] [C1] [C1 C2]"},
		{"two loads of one number: the packs may be of the other", []string{"load id=A started=5_09:00 packs_made=1", "load id=A started=6 packs_made=1", "pack id=K load=A", "visit id=V client=C1 started=6 packs=K"}, "1 1 0 [V] [] [C1] [C1]"},
		{"two visits of a client, one of another", []string{"pack id=K load=A", "pack id=L load=A", "visit id=U client=C2 started=6 packs=K", "visit id=V client=C1 started=7 packs=L", "visit id=W client=C2 started=5_10:00 packs=L"}, "2 0 0 [W U V] [] [C1 C2] [C1 C2]"},
	} {
		t.Run(c.name, func(t *testing.T) {
			lines := append([]string{"sterilizer id=S1 method=steam"}, c.rows...)
			if len(c.rows) == 0 || c.rows[0][:5] != "load " {
				lines = append(lines, "load id=A started=5_09:00")
			}
			lines = append(lines, "load id=B started=5_09:00")
			p := bookOf(lines...).read(t, t.TempDir())
			terms := testTerms(5, 2)
			if !strings.HasPrefix(c.name, "some") {
				terms.Whole = func(*practice.Load) bool { return true }
			}
			for i := range p.Loads {
				if p.Loads[i].ID == "A" {
					assert.Equal(t, c.want, reachFacts(ReachOf(p, terms, p.LoadsByTime()[i:i+1])))
					break
				}
			}
		})
	}
}

// Of one pack: a visit that names its load alone may have had it, or the load's others.
func TestReachOfPacks(t *testing.T) {
	p := bookOf("sterilizer id=S1 method=steam", "load id=A started=5_09:00 packs_made=9", "pack id=K load=A", "pack id=L load=A opened_at=6", "pack id=M load=",
		"visit id=T client=C0 started=4", "visit id=U client=C1 started=6 packs=K", "visit id=V client=C2 started=6 loads=A", "visit id=W client=C3 started=7").read(t, t.TempDir())
	for i, want := range []string{"1 0 0 [U] [] [C1] [C1]", "1 0 0 [] [V W] [] [C2 C3]", "1 0 0 [] [T W] [] [C0 C3]"} {
		assert.Equal(t, want, reachFacts(ReachOfPacks(p, testTerms(5, 2), []*practice.Pack{&p.Packs[i]})), "pack %d", i)
	}
	assert.Equal(t, "0 0 0 [] [] [] []", reachFacts(ReachOfPacks(p, Terms{}, nil)))
	p = bookOf("sterilizer id=S1 method=steam", "load id=A started=5_09:00", "load id=B started=5_12:00", "pack id=L load=B", "pack id=K load=A", "pack id=X load=B",
		"visit id=U client=C1 started=5_08:00", "visit id=V client=C2 started=5_10:00", "visit id=W client=C3 started=6 packs=X loads=A").read(t, t.TempDir())
	assert.Equal(t, "2 0 0 [] [V] [] [C2]", reachFacts(ReachOfPacks(p, testTerms(5, 2), []*practice.Pack{&p.Packs[0], &p.Packs[1]})))
}

// A load that may not be typed could have been run at any time of the window: who named
// no pack since it began is possible, even with no load written in it.
func TestReachOfWindow(t *testing.T) {
	lines := []string{"sterilizer id=S1 method=steam", "load id=A started=5_09:00 packs_made=1", "pack id=K load=A", "visit id=T client=C0 started=2", "visit id=U client=C1 started=3", "visit id=V client=C2 started=6 packs=K", "visit id=W client=C3 started=7 packs=X", "spore id=F equipment=S1 run_at=8 result=fail"}
	for _, c := range []struct{ name, more, logged, unlogged string }{
		{"since the pass", "spore id=P equipment=S1 run_at=3_08:00 control=growth", "1 0 0 [V] [] [C2] [C2]", "1 0 0 [V] [U W] [C2] [C1 C2 C3]"},
		{"since a pass after the load", "spore id=P equipment=S1 run_at=5_10:00 control=growth", "0 0 0 [] [] [] []", "0 0 0 [] [W] [] [C3]"},
		{"since the first record", "leak id=L equipment=S1 run_at=3", "1 0 0 [V] [] [C2] [C2]", "1 0 0 [V] [U W] [C2] [C1 C2 C3]"},
	} {
		p := bookOf(append(lines, c.more)...).read(t, t.TempDir())
		terms := testTerms(5, 2)
		w, _ := HistoryOf(p, &p.Sterilizers[0], terms).Around(event(t, p, "F"))
		assert.Equal(t, c.logged, reachFacts(ReachOfWindow(p, terms, w)), c.name)
		terms.Logged = nil
		assert.Equal(t, c.unlogged, reachFacts(ReachOfWindow(p, terms, w)), c.name)
	}
	// Nothing is written before the failure itself: all who named no pack.
	p := bookOf(lines[0], lines[3], lines[7]).read(t, t.TempDir())
	terms := testTerms(5, 2)
	terms.Logged = nil
	w, _ := HistoryOf(p, &p.Sterilizers[0], terms).Around(event(t, p, "F"))
	assert.True(t, w.Unbegun)
	assert.Equal(t, "0 0 0 [] [T] [] [C0]", reachFacts(ReachOfWindow(p, terms, w)))
}
