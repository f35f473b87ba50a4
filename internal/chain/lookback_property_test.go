package chain

import (
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"footing/internal/practice"
	"footing/internal/quantity"
)

// smallPractices draws some small practices, in one folder because reading takes most
// of the time: each has two sterilizers of its own and a few rows of each kind over ten
// days, with what honest records hold: bare dates, times a few minutes apart, shared
// ids, names that no row has. What names no sterilizer may be of any of them.
func smallPractices(t *rapid.T) book {
	r := book{}
	for i := range rapid.IntRange(1, 12).Draw(t, "practices") {
		smallPractice(t, r, string(rune('A'+i)))
	}
	return r
}

func smallPractice(t *rapid.T, r book, mark string) {
	pick := func(label string, from ...string) string { return rapid.SampledFrom(from).Draw(t, label) }
	own := func(label string, from ...string) string { // an id of this practice
		id := pick(label, from...)
		if id == "" {
			return ""
		}
		return mark + strings.ReplaceAll(id, ";", ";"+mark)
	}
	days := []string{"15", "16", "17", "18", "19", "20", "21", "22", "23", "24"}
	day := func(label string) string { return "2026-11-" + pick(label, days...) }
	at := func(label string) string {
		return strings.TrimSpace(day(label) + " " + pick(label+" clock", "", "09:00", "09:04", "09:06", "09:40", "14:00", "23:58"))
	}
	maybe := func(label, value string) string { return pick(label, "", "", value) }
	add := func(kind string, most int, row func() map[string]string) {
		for range rapid.IntRange(0, most).Draw(t, kind) {
			r[kind] = append(r[kind], row())
		}
	}
	sterilizer := func() string {
		if n := rapid.IntRange(0, 19).Draw(t, "named"); n == 19 {
			return pick("nowhere", "", "S9")
		}
		return own("sterilizer", "S1", "S1", "S1", "S1", "S2")
	}
	r["sterilizers"] = append(r["sterilizers"],
		map[string]string{"id": mark + "S1", "method": "steam", "installed_on": maybe("is installed", day("installed"))},
		map[string]string{"id": own("second", "S2", "S2", "S2", "S1"), "method": "steam"})
	n := 0
	add("loads", 8, func() map[string]string {
		n++
		row := map[string]string{"id": fmt.Sprint(mark, "L", n), "sterilizer": sterilizer(), "started": at("started"), "counter": maybe("counter", pick("number", "1", "2")),
			"decision": pick("decision", "released", "", "pending", "rejected"), "inside_indicator": pick("inside", "", "pass", "fail"),
			"packs_made": maybe("made", pick("packs", "0", "1", "2")), "sets": maybe("sets", pick("set", "nail x 2", "nail 2"))}
		if pick("twice", "no", "no", "no", "no", "no", "yes") == "yes" {
			row["id"] = mark + "L1"
		}
		if start, clock, ok := strings.Cut(row["started"], " "); ok {
			row["ended"] = maybe("ended", start+" "+clock[:3]+"59")
		}
		return row
	})
	add("tests", 8, func() map[string]string {
		return map[string]string{"kind": pick("test", "spore", "spore", "spore", "spore", "leak"), "equipment": sterilizer(), "run_at": at("run"), "load": maybe("in", own("load", "L1", "L2", "L3", "L9")),
			"counter": maybe("count", pick("number", "1", "2")), "control": pick("control", "growth", "growth", "growth", "", "no-growth", "not-run"), "result": pick("result", "pass", "pass", "pass", "pass", "fail", "pending", "")}
	})
	add("upkeep", 2, func() map[string]string {
		return map[string]string{"equipment": sterilizer(), "task": pick("task", "service", "validation", "repair"), "done_on": day("done"), "result": pick("went", "", "pass", "fail")}
	})
	add("packs", 6, func() map[string]string {
		return map[string]string{"id": own("pack", "", "K1", "K2", "K3", "K4", "K5", "K6"), "load": own("of", "L1", "L1", "L2", "L3", "", "L9"),
			"counted_on": maybe("counted", day("counting")), "opened_at": maybe("opened", at("opening")), "discarded_on": maybe("discarded", day("discarding"))}
	})
	add("visits", 6, func() map[string]string {
		return map[string]string{"client": own("client", "C1", "C2", "C3", "C4"), "started": at("visit"), "packs": maybe("used", own("pack", "K1", "K2", "K3;K4", "K9")), "loads": maybe("from", own("load", "L1", "L2", "L9")),
			"packs_used": maybe("many", pick("packs", "0", "1", "2")), "status": pick("status", "done", "", "cancelled"), "procedures": maybe("procedure", "assessment")}
	})
}

// folders gives each case a folder of its own for as long as it runs.
func folders(t *testing.T) func(book) *practice.Practice {
	return func(r book) *practice.Practice {
		dir, err := os.MkdirTemp("", "footing")
		require.NoError(t, err)
		defer os.RemoveAll(dir)
		return r.read(t, dir)
	}
}

func drawTerms(t *rapid.T) Terms {
	terms := testTerms(rapid.SampledFrom([]float64{0, 5}).Draw(t, "tolerance"), rapid.IntRange(0, 3).Draw(t, "repeats"))
	if whole := rapid.SampledFrom([]string{"none", "some", "all"}).Draw(t, "loads of which each pack has a row"); whole != "none" {
		terms.Whole = func(l *practice.Load) bool { return whole == "all" || l.Started.Day()%2 == 0 }
	}
	terms.Logged = rapid.SampledFrom([]func(_, _ quantity.Day) bool{terms.Logged, nil}).Draw(t, "logged")
	return terms
}

// events lists the zero event, and every test and load.
func events(p *practice.Practice) []Event {
	all := []Event{{}}
	for i := range p.Tests {
		all = append(all, Event{Test: &p.Tests[i]})
	}
	for i := range p.Loads {
		all = append(all, Event{Load: &p.Loads[i]})
	}
	return all
}

func TestAroundAndOnAgreeWithBruteForce(t *testing.T) {
	read := folders(t)
	rapid.Check(t, func(t *rapid.T) {
		p := read(smallPractices(t))
		for i := range p.Sterilizers {
			s := &p.Sterilizers[i]
			terms := drawTerms(t)
			h, b := HistoryOf(p, s, terms), brute{p, practice.Key(&s.Row), s, terms}
			for _, e := range events(p) {
				wide, narrow := h.Around(e)
				wantWide, wantNarrow := b.windows(e, p.AsOf)
				require.Equal(t, wantWide, facts(wide), "wide, around %v", e)
				require.Equal(t, wantNarrow, facts(narrow), "narrow, around %v", e)
			}
			for d := p.AsOf.AddDays(-11); d <= p.AsOf; d++ {
				wide, narrow := h.On(d)
				wantWide, wantNarrow := b.windows(Event{}, d)
				require.Equal(t, wantWide, facts(wide), "wide, on %v", d)
				require.Equal(t, wantNarrow, facts(narrow), "narrow, on %v", d)
			}
		}
	})
}

// contains reports whether each load of the narrower window is in the wider.
func contains(wide, narrow string) bool {
	in := map[string]bool{}
	for _, id := range strings.Fields(wide) {
		in[id] = true
	}
	for _, id := range strings.Fields(narrow) {
		if !in[id] {
			return false
		}
	}
	return true
}

// unique gives rows ids of their own, so that loads can be told apart between readings.
func unique(r book) book {
	for i, row := range r["loads"] {
		row["id"] = fmt.Sprint("L", i+1)
	}
	for i, row := range r["tests"] {
		row["id"] = fmt.Sprint("T", i+1)
	}
	return r
}

// The narrow window lies within the wide one, at both ends and in its loads.
func TestWideContainsNarrow(t *testing.T) {
	read := folders(t)
	rapid.Check(t, func(t *rapid.T) {
		p := read(unique(smallPractices(t)))
		h := HistoryOf(p, &p.Sterilizers[0], drawTerms(t))
		check := func(wide, narrow Window) {
			require.True(t, contains(loadIDs(wide.Loads), loadIDs(narrow.Loads)), "%v in %v", facts(narrow), facts(wide))
			require.LessOrEqual(t, narrow.Days, wide.Days)
			require.GreaterOrEqual(t, narrow.From.Day, wide.From.Day)
		}
		for _, e := range events(p) {
			check(h.Around(e))
		}
		for d := p.AsOf.AddDays(-11); d <= p.AsOf; d++ {
			check(h.On(d))
		}
	})
}

// where a window begins and ends, with its loads, for each event of the practice and
// each day, by the ids of events.
func allWindows(h *History, p *practice.Practice) map[string][2]Window {
	all := map[string][2]Window{}
	for _, e := range events(p) {
		id := ""
		switch {
		case e.Test != nil:
			id = e.Test.ID
		case e.Load != nil:
			id = e.Load.ID
		}
		wide, narrow := h.Around(e)
		all[id] = [2]Window{wide, narrow}
	}
	for d := p.AsOf.AddDays(-11); d <= p.AsOf; d++ {
		wide, narrow := h.On(d)
		all[d.String()] = [2]Window{wide, narrow}
	}
	return all
}

// A passed test more never widens a window that a spore test began, nor one that began
// before that test was run. (Where a service began it, an older test may: the rule puts
// a spore test before a service, however old.)
func TestAProofMoreNeverWidens(t *testing.T) {
	read := folders(t)
	rapid.Check(t, func(t *rapid.T) {
		r := unique(smallPractices(t))
		terms := drawTerms(t)
		p := read(r)
		was := allWindows(HistoryOf(p, &p.Sterilizers[0], terms), p)
		more := map[string]string{"id": "new", "kind": "spore", "equipment": "AS1", "result": "pass", "control": rapid.SampledFrom([]string{"growth", ""}).Draw(t, "new control"),
			"run_at": rapid.SampledFrom([]string{"2026-11-16", "2026-11-19 09:04", "2026-11-21", "2026-11-22 14:00"}).Draw(t, "new")}
		r["tests"] = append(r["tests"], more)
		p = read(r)
		added, _ := quantity.ParseDay(more["run_at"][:10], quantity.ISO)
		for id, now := range allWindows(HistoryOf(p, &p.Sterilizers[0], terms), p) {
			then, ok := was[id]
			for i := range then {
				if ok && then[0].Days >= 0 && (then[0].From.Kind == Spores || then[0].From.Day < added) {
					require.True(t, contains(loadIDs(then[i].Loads), loadIDs(now[i].Loads)), "%s: %v, then %v", id, facts(now[i]), facts(then[i]))
					require.LessOrEqual(t, now[i].Days, then[i].Days, id)
				}
			}
		}
	})
}

// A time of day that is not written never makes a window smaller.
func TestATimeLessNeverShrinks(t *testing.T) {
	read := folders(t)
	rapid.Check(t, func(t *rapid.T) {
		r := unique(smallPractices(t))
		terms := drawTerms(t)
		p := read(r)
		was := allWindows(HistoryOf(p, &p.Sterilizers[0], terms), p)
		var timed []func()
		for _, row := range slices.Concat(r["loads"], r["tests"]) {
			for _, name := range []string{"started", "ended", "run_at"} {
				if bare, _, ok := strings.Cut(row[name], " "); ok {
					timed = append(timed, func() { row[name] = bare })
				}
			}
		}
		if len(timed) == 0 {
			return
		}
		for i := range timed {
			if rapid.Bool().Draw(t, "strike") || i == 0 {
				timed[i]()
			}
		}
		p = read(r)
		for id, now := range allWindows(HistoryOf(p, &p.Sterilizers[0], terms), p) {
			for i, then := range was[id] {
				require.True(t, contains(loadIDs(now[i].Loads), loadIDs(then.Loads)), "%s: %v, with its times %v", id, facts(now[i]), facts(then))
				require.GreaterOrEqual(t, now[i].Days, then.Days, id)
			}
		}
	})
}
