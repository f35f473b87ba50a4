package chain

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"footing/internal/practice"
)

// event finds the test or load of an id; "" is the end of the audit day.
func event(t require.TestingT, p *practice.Practice, id string) (e Event) {
	for i := range p.Tests {
		if p.Tests[i].ID == id {
			e.Test = &p.Tests[i]
		}
	}
	for i := range p.Loads {
		if p.Loads[i].ID == id {
			e.Load = &p.Loads[i]
		}
	}
	require.True(t, id == "" || e != Event{}, id)
	return e
}

// Retrieving items back to the last negative spore test, and three tests in a row
// before a sterilizer is used again, are recommendations of CDC 2008, read second
// hand. That control, lot and date have to be written for a test to count, that a
// service or the first record stands in for one, and all that is said of times that
// cannot be told, are rules of the battery: no outside source.
func TestAround(t *testing.T) {
	const (
		s1   = "sterilizer id=S1 method=steam"
		s2   = "sterilizer id=S2 method=steam"
		fail = "spore id=F equipment=S1 run_at=10_12:00 result=fail"
	)
	pass := func(id, at string, more ...string) string {
		line := "spore id=" + id + " equipment=S1 control=growth run_at=" + at
		for _, m := range more {
			line += " " + m
		}
		return line
	}
	load := func(id, at string, more ...string) string {
		line := "load id=" + id + " sterilizer=S1 started=" + at
		for _, m := range more {
			line += " " + m
		}
		return line
	}
	for _, c := range []struct {
		name         string
		event        string
		rows         []string
		wide, narrow string // "" for the same as wide
	}{
		{"since the last pass, until the audit day", "F", []string{pass("P1", "2_12:00"), pass("P2", "4_12:00"), fail, load("A", "4_11:00"), load("B", "4_13:00"), load("C", "12_09:00")},
			"spores P2 04 to none, 20 d: B C", ""},
		{"a minute within what clocks may differ", "F", []string{pass("P", "4_12:00"), fail, load("A", "4_11:54"), load("B", "4_11:55"), load("C", "4_11:56")},
			"spores P 04 to none, 20 d: B C", ""},
		{"bare dates on the day of the proof are inside", "F", []string{pass("P", "4_12:00"), fail, load("A", "3"), load("B", "4"), load("C", "4_09:00")},
			"spores P 04 to none, 20 d: B", ""},
		{"a bare date of the proof", "F", []string{pass("P", "4"), fail, load("A", "3_23:59"), load("B", "4_09:00"), load("C", "4")},
			"spores P 04 to none, 20 d: C B", ""},
		{"a day is a day, however near midnight", "F", []string{pass("P", "4_00:01"), fail, load("A", "3_23:59"), load("B", "4_00:02")},
			"spores P 04 to none, 20 d: B", ""},
		{"the load that it ran in is shown, those after are not", "F", []string{pass("P", "4_12:00", "load=B"), fail, load("A", "4_11:59"), load("B", "4_12:00"), load("C", "4_12:01")},
			"spores P 04 to none, 20 d: C", ""},
		{"of bare dates too", "F", []string{pass("P", "4", "load=B"), fail, load("A", "4"), load("B", "4"), load("C", "5")},
			"spores P 04 to none, 20 d: A C", ""},
		{"by the counter", "F", []string{pass("P", "4", "counter=7"), fail, load("A", "4", "counter=6"), load("B", "4", "counter=7"), load("C", "5", "counter=7")},
			"spores P 04 to none, 20 d: A C", ""},
		{"two loads of one counter: neither", "F", []string{pass("P", "4", "counter=7"), fail, load("A", "4", "counter=7"), load("B", "4", "counter=7")},
			"spores P 04 to none, 20 d: A B", ""},
		{"by its time", "F", []string{pass("P", "4_12:10"), fail, load("A", "4_12:06", "ended=4_12:40"), load("B", "4_12:12", "ended=4_12:50")},
			"spores P 04 to none, 20 d: B", ""},
		{"until a load's end, and no longer", "F", []string{pass("P", "4_12:10"), fail, load("A", "4_12:09", "ended=4_12:10"), load("B", "4_12:08", "ended=4_12:09")},
			"spores P 04 to none, 20 d: B", ""},
		{"by a load of an earlier day: what ran since is in doubt", "F", []string{pass("P", "5_12:00", "load=A"), fail, load("A", "4_12:00"), load("B", "4_13:00"), load("C", "5_09:00")},
			"spores P 04 to none, 20 d: B C", ""},
		{"a load of a later day is not meant", "F", []string{pass("P", "4_12:00", "load=B"), fail, load("A", "4_13:00"), load("B", "5_12:00")},
			"spores P 04 to none, 20 d: A B", ""},
		{"a pass of the failure's day, earlier", "F", []string{pass("P", "10_11:54"), pass("O", "4"), fail, load("A", "10_09:00"), load("B", "10_11:58")},
			"spores P 10 to none, 14 d: B", ""},
		{"a pass that may have come after", "F", []string{pass("P", "10_11:55"), pass("O", "4"), fail, load("A", "10_09:00"), load("B", "10_11:58")},
			"spores O 04 to none, 20 d: A B", ""},
		{"the load that the failed test ran in", "F", []string{pass("P", "4"), fail + " load=B", pass("Q", "11"), pass("R", "12"), load("A", "5"), load("B", "10_12:00"), load("C", "13")},
			"spores P 04 to spores Q 11, 7 d: A B", "spores P 04 to spores Q 11, 7 d: A B"},
		{"rejected loads made no packs", "F", []string{pass("P", "4"), fail + " load=B", load("A", "5", "decision=pending"), load("B", "10_12:00", "decision=rejected"), load("C", "6", "decision=rejected")},
			"spores P 04 to none, 20 d: A", ""},
		{"but one of which a pack was used is in", "F", []string{pass("P", "4"), fail, load("A", "5", "decision=rejected"), load("B", "6", "decision=rejected"), load("C", "7", "decision=rejected"), load("D", "8", "decision=rejected"),
			"pack id=K load=A", "visit id=V client=C1 started=6 packs=K", "visit id=W client=C2 started=7 loads=B", "pack id=L load=C opened_at=8", "pack id=M load=D discarded_on=8", "visit id=X client=C3 started=9 packs=M status=cancelled"},
			"spores P 04 to none, 20 d: A B C", ""},
		{"other sterilizers' loads and tests", "F", []string{s2, pass("P", "4"), fail, load("A", "5"), "load id=B sterilizer=S2 started=5", "spore id=Q equipment=S2 control=growth run_at=6"},
			"spores P 04 to none, 20 d: A", ""},
		{"loads that may be of any sterilizer", "F", []string{s2, pass("P", "4"), fail, load("A", "5"), "load id=B started=5", "load id=C sterilizer=S9 started=6", "load id=D started=3"},
			"spores P 04 to none, 20 d: A B C", ""},

		{"a control that did not grow proves nothing", "F", []string{pass("P", "4"), fail, "spore id=Q equipment=S1 run_at=6 control=no-growth", load("A", "5"), load("B", "7")},
			"spores P 04 to none, 20 d: A B", ""},
		{"a control not written proves by the lenient rule", "F", []string{pass("P", "4"), fail, "spore id=Q equipment=S1 run_at=6", load("A", "5"), load("B", "7")},
			"spores P 04 to none, 20 d: A B", "spores Q 06 to none, 18 d: B"},
		{"no control run, as written: the same", "F", []string{pass("P", "4"), fail, "spore id=Q equipment=S1 run_at=6 control=not-run", load("A", "5"), load("B", "7")},
			"spores P 04 to none, 20 d: A B", "spores Q 06 to none, 18 d: B"},
		{"pending and without a result", "F", []string{pass("P", "4"), fail, pass("Q", "6", "result=pending"), pass("R", "7", "result=-"), load("A", "5"), load("B", "8")},
			"spores P 04 to none, 20 d: A B", ""},
		{"other tests are no spore tests", "F", []string{pass("P", "4"), fail, "leak id=Q equipment=S1 run_at=6", load("A", "5")},
			"spores P 04 to none, 20 d: A", ""},

		{"without a strict test, a service", "F", []string{fail, "upkeep equipment=S1 task=service done_on=3 result=pass", "upkeep equipment=S1 task=service done_on=1", load("A", "2"), load("B", "3_09:00"), load("C", "4")},
			"examined upkeep.csv row 1 03 to none, 21 d: B C", ""},
		{"a lenient test of before the service does not narrow", "F", []string{fail, "upkeep equipment=S1 task=validation done_on=3 result=pass", "spore id=Q equipment=S1 run_at=1", load("A", "2"), load("C", "4")},
			"examined upkeep.csv row 1 03 to none, 21 d: C", ""},
		{"a failed service, a repair: no proof", "F", []string{fail, "upkeep equipment=S1 task=service done_on=3 result=fail", "upkeep equipment=S1 task=repair done_on=4", load("A", "2"), load("C", "5")},
			"begun A 02 to none, 22 d: A C", ""},
		{"a service of the failure's day", "F", []string{fail, "upkeep equipment=S1 task=service done_on=10", load("A", "2"), load("C", "5")},
			"begun A 02 to none, 22 d: A C", ""},
		{"a later service narrows nothing that a test left", "F", []string{pass("P", "2"), fail, "upkeep equipment=S1 task=service done_on=6", load("A", "3"), load("B", "7")},
			"spores P 02 to none, 22 d: A B", ""},
		{"installation", "F", []string{"sterilizer id=S1 method=steam installed_on=3", fail, load("A", "3"), load("B", "7")},
			"installed S1 03 to none, 21 d: A B", ""},
		{"installed on the day", "F", []string{"sterilizer id=S1 method=steam installed_on=10", fail, load("A", "10_09:00")},
			"installed S1 10 to none, 14 d: A", ""},
		{"nothing before the failure itself", "F", []string{fail, load("A", "12")},
			"begun F 10 to none, 14 d: A", ""},

		{"a good load does not overrule a spore test", "F", []string{pass("P", "4"), fail, load("A", "5", "inside_indicator=pass"), load("B", "6")},
			"spores P 04 to none, 20 d: A B", ""},
		{"it narrows for a load in doubt", "X", []string{pass("P", "4"), load("A", "5"), load("B", "6_09:00", "inside_indicator=pass"), load("C", "6_09:01"), load("X", "7", "inside_indicator=pass")},
			"spores P 04 to none, 20 d: A B C X", "cycled B 06 to none, 18 d: C X"},
		{"it narrows for another failed test", "G", []string{pass("P", "4"), "leak id=G equipment=S1 run_at=10 result=fail", load("A", "5"), load("B", "6", "inside_indicator=pass"), load("C", "7")},
			"spores P 04 to none, 20 d: A B C", "cycled B 06 to none, 18 d: C"},
		{"and for a failure of the audit day's end", "", []string{pass("P", "4"), load("A", "5"), load("B", "6", "inside_indicator=pass"), load("C", "7"), load("D", "24_18:00", "inside_indicator=fail")},
			"spores P 04 to none, 20 d: A B C D", "cycled B 06 to none, 18 d: C D"},
		{"a rejected load proves nothing", "X", []string{pass("P", "4"), load("A", "5"), load("B", "6", "inside_indicator=pass", "decision=rejected"), load("X", "7")},
			"spores P 04 to none, 20 d: A X", ""},
		{"a pass of the audit day counts at its end", "", []string{pass("P", "24_17:00"), load("A", "24_09:00"), load("B", "24_17:04"), load("C", "24_18:00")},
			"spores P 24 to none, 0 d: B C", ""},

		{"one pass after: the narrow window ends", "F", []string{pass("P", "4"), fail, pass("Q", "12_12:00"), load("A", "11"), load("B", "12_12:05"), load("C", "12_12:06")},
			"spores P 04 to none, 20 d: A B C", "spores P 04 to spores Q 12, 8 d: A B"},
		{"two in a row end both", "F", []string{pass("P", "4"), fail, pass("Q", "12"), pass("R", "14"), load("A", "11"), load("B", "12"), load("C", "13"), load("D", "15")},
			"spores P 04 to spores Q 12, 8 d: A B", ""},
		{"a failed one between", "F", []string{pass("P", "4"), fail, pass("Q", "12"), "spore equipment=S1 run_at=13 result=fail", pass("R", "14"), load("A", "11"), load("B", "13"), load("C", "15")},
			"spores P 04 to none, 20 d: A B C", "spores P 04 to spores Q 12, 8 d: A"},
		{"and then two in a row", "F", []string{pass("P", "4"), fail, pass("Q", "12"), "spore equipment=S1 run_at=13 result=fail", pass("R", "14"), pass("S", "15"), load("A", "13"), load("B", "14_23:00"), load("C", "15")},
			"spores P 04 to spores R 14, 10 d: A B", "spores P 04 to spores Q 12, 8 d: "},
		{"a failed one of the same day, bare: it may lie between", "F", []string{pass("P", "4"), fail, pass("Q", "12"), pass("R", "13"), "spore equipment=S1 run_at=12 result=fail", load("A", "12"), load("B", "14")},
			"spores P 04 to none, 20 d: A B", "spores P 04 to spores Q 12, 8 d: A"},
		{"a failed one of no known sterilizer may lie between", "F", []string{s2, pass("P", "4"), fail, pass("Q", "12"), pass("R", "14"), "spore run_at=13 result=fail", load("A", "15")},
			"spores P 04 to none, 20 d: A", "spores P 04 to spores Q 12, 8 d: "},
		{"a lenient pass neither counts nor breaks the run", "F", []string{pass("P", "4"), fail, pass("Q", "12"), "spore id=L equipment=S1 run_at=13", pass("R", "14"), load("A", "15")},
			"spores P 04 to spores Q 12, 8 d: ", ""},
		{"a lenient pass alone ends the narrow one", "F", []string{pass("P", "4"), fail, "spore id=L equipment=S1 run_at=13", load("A", "12"), load("B", "15")},
			"spores P 04 to none, 20 d: A B", "spores P 04 to spores L 13, 9 d: A"},
		{"one pass ends the window of a load in doubt", "X", []string{pass("P", "4"), load("X", "10"), pass("Q", "12"), load("A", "11"), load("B", "14")},
			"spores P 04 to spores Q 12, 8 d: X A", ""},
		{"but not with a failed test in it: then the repeats", "X", []string{pass("P", "4"), load("X", "10"), "spore equipment=S1 run_at=11 result=fail", pass("Q", "12"), load("B", "14")},
			"spores P 04 to none, 20 d: X B", "spores P 04 to spores Q 12, 8 d: X"},
		{"nor with one before the load", "X", []string{pass("P", "4"), "spore equipment=S1 run_at=5 result=fail", load("X", "10"), pass("Q", "12"), pass("R", "13"), load("B", "14")},
			"spores P 04 to spores Q 12, 8 d: X", ""},
		{"one that failed before the window does not count", "X", []string{"spore equipment=S1 run_at=3 result=fail", pass("P", "4"), load("X", "10"), pass("Q", "12"), load("B", "14")},
			"spores P 04 to spores Q 12, 8 d: X", ""},
		{"nor one after its end", "X", []string{pass("P", "4"), load("X", "10"), pass("Q", "12"), "spore equipment=S1 run_at=13 result=fail", load("B", "14")},
			"spores P 04 to spores Q 12, 8 d: X", ""},
		{"the load that the pass ran in is out", "F", []string{pass("P", "4"), fail, pass("Q", "12", "load=A"), pass("R", "13"), load("A", "12"), load("B", "12")},
			"spores P 04 to spores Q 12, 8 d: B", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			lines := c.rows
			if lines[0][:5] != "steri" || lines[0] == s2 {
				lines = append([]string{s1}, lines...)
			}
			p := bookOf(lines...).read(t, t.TempDir())
			wide, narrow := HistoryOf(p, &p.Sterilizers[0], testTerms(5, 2)).Around(event(t, p, c.event))
			if c.narrow == "" {
				c.narrow = c.wide
			}
			assert.Equal(t, c.wide, windowWords(wide), "wide")
			assert.Equal(t, c.narrow, windowWords(narrow), "narrow")
		})
	}
}

// The number of repeats: CDC 2008, three (read, second hand); 2 and 3 at their boundary.
func TestRepeats(t *testing.T) {
	lines := []string{"sterilizer id=S1 method=steam", "spore id=F equipment=S1 run_at=10 result=fail"}
	for i, id := range []string{"P", "Q", "R"} {
		lines = append(lines, "spore id="+id+" equipment=S1 control=growth run_at=1"+string(rune('1'+i)))
		p := bookOf(lines...).read(t, t.TempDir())
		for repeats := 0; repeats <= 4; repeats++ {
			wide, narrow := HistoryOf(p, &p.Sterilizers[0], testTerms(5, repeats)).Around(event(t, p, "F"))
			want := "none"
			if i+1 >= repeats {
				want = "spores P 11"
			}
			assert.Equal(t, want, proofWords(wide.Until), "%d passed of %d", i+1, repeats)
			assert.Equal(t, "spores P 11", proofWords(narrow.Until))
		}
	}
}

// A service without a result is taken as done and well, and said to say nothing.
func TestUnsaid(t *testing.T) {
	for result, want := range map[string]bool{"pass": false, "-": true} {
		p := bookOf("sterilizer id=S1 method=steam", "upkeep equipment=S1 task=service done_on=3 result="+result).read(t, t.TempDir())
		wide, _ := HistoryOf(p, &p.Sterilizers[0], testTerms(5, 2)).On(auditDay)
		assert.Equal(t, Examined, wide.From.Kind)
		assert.Equal(t, want, wide.From.Unsaid)
	}
}

// A sterilizer of which nothing is written has no window, and a day before its first
// record has none either.
func TestNothingWritten(t *testing.T) {
	p := bookOf("sterilizer id=S1 method=steam", "sterilizer id=S2 method=steam", "load id=A sterilizer=S1 started=3").read(t, t.TempDir())
	for i, want := range []int{0, -1} {
		h := HistoryOf(p, &p.Sterilizers[i], testTerms(5, 2))
		wide, narrow := h.On(auditDay.AddDays(-21))
		assert.Equal(t, want, wide.Days)
		assert.Equal(t, wide, narrow)
		wide, _ = h.On(auditDay.AddDays(-22))
		assert.Equal(t, Window{Days: -1}, wide)
	}
	wide, _ := HistoryOf(p, &p.Sterilizers[1], testTerms(5, 2)).Around(Event{})
	assert.Equal(t, Window{Days: -1}, wide)
}

// Rows of one id are one sterilizer; loads without one are counted.
func TestUnplaced(t *testing.T) {
	p := bookOf("sterilizer id=S1 method=steam", "sterilizer id=S1 method=steam", "sterilizer id=S2 method=steam",
		"load id=A sterilizer=S1 started=3", "load id=B started=4", "load id=C sterilizer=S9 started=5", "load id=D sterilizer=S2 started=5",
		"spore equipment=S1 control=growth run_at=4 load=A").read(t, t.TempDir())
	for i, want := range []string{"B C", "B C", "B C D"} {
		wide, _ := HistoryOf(p, &p.Sterilizers[i], testTerms(5, 2)).On(auditDay)
		assert.Equal(t, want, loadIDs(wide.Loads))
		assert.Equal(t, 2, wide.Unplaced)
	}
}

// A failed test is open until a run of passed ones ends its window; the first open one is
// told, and one that may be of another sterilizer is not.
func TestOpen(t *testing.T) {
	for want, lines := range map[string][]string{
		"F":  {"spore id=F equipment=S1 run_at=5 result=fail", "spore id=P equipment=S1 run_at=6 control=growth"},
		"G":  {"spore id=F equipment=S1 run_at=5 result=fail", "spore id=P equipment=S1 run_at=6 control=growth", "spore id=Q equipment=S1 run_at=7 control=growth", "spore id=H equipment=S1 run_at=9 result=fail", "spore id=G equipment=S1 run_at=8 result=fail"},
		"":   {"spore id=F equipment=S1 run_at=5 result=fail", "spore id=P equipment=S1 run_at=6 control=growth", "spore id=Q equipment=S1 run_at=7 control=growth"},
		"no": {"spore id=F equipment=S9 run_at=5 result=fail", "leak id=L equipment=S1 run_at=5 result=fail"},
	} {
		p := bookOf(append(lines, "sterilizer id=S1 method=steam", "sterilizer id=S2 method=steam")...).read(t, t.TempDir())
		open := HistoryOf(p, &p.Sterilizers[0], testTerms(5, 2)).Open()
		if want == "" || want == "no" {
			assert.Nil(t, open, want)
		} else if assert.NotNil(t, open, want) {
			assert.Equal(t, want, open.ID)
		}
	}
}

// One that may be of this sterilizer is open by the same run of passed ones, where
// something of the sterilizer is written by then.
func TestOpenStray(t *testing.T) {
	stray, pass := "spore id=F run_at=5 result=fail", "spore id=P equipment=S1 run_at=6 control=growth"
	for want, lines := range map[string][]string{
		"F":      {"spore id=E equipment=S1 run_at=2 control=growth", stray, pass},
		"ended":  {"spore id=E equipment=S1 run_at=2 control=growth", stray, pass, "spore id=Q equipment=S1 run_at=7 control=growth"},
		"before": {stray, pass},
		"own":    {"spore id=E equipment=S1 run_at=2 control=growth", "spore id=F equipment=S1 run_at=5 result=fail"},
	} {
		p := bookOf(append(lines, "sterilizer id=S1 method=steam", "sterilizer id=S2 method=steam")...).read(t, t.TempDir())
		open := HistoryOf(p, &p.Sterilizers[0], testTerms(5, 2)).OpenStray()
		if want != "F" {
			assert.Nil(t, open, want)
		} else if assert.NotNil(t, open) {
			assert.Equal(t, want, open.ID)
		}
	}
}
