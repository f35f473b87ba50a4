package dev

import (
	"context"
	"math/rand/v2"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"footing/checks"
	"footing/internal/audit"
	"footing/internal/practice"
)

// What a failure could have reached, worked out once more from the rows of the files
// alone: by looking at every row for every question, with days and hours as they are
// written, and with none of the program's own code. It holds for practices in which
// every load, test and pack has its hours, its sterilizer and its number, as the
// generator writes them.

// asWritten is the records of a practice as rows of text.
type asWritten struct {
	loads, packs, visits, tests []map[string]string
	load                        map[string]map[string]string // by id
	ran                         map[string]time.Time         // by id of a test
}

func writtenIn(t *testing.T, dir string) (all asWritten) {
	t.Helper()
	rows := func(kind string) (list []map[string]string) {
		rows := csvRows(t, filepath.Join(dir, kind+".csv"))
		for _, r := range rows[1:] {
			m := map[string]string{}
			for i, name := range rows[0] {
				m[name] = r[i]
			}
			list = append(list, m)
		}
		return list
	}
	all = asWritten{rows("loads"), rows("packs"), rows("visits"), nil, map[string]map[string]string{}, map[string]time.Time{}}
	for _, l := range all.loads {
		all.load[l["id"]] = l
	}
	for _, x := range rows("tests") {
		if x["kind"] == "spore" {
			all.tests = append(all.tests, x)
			all.ran[x["id"]] = all.ranAt(x)
		}
	}
	return all
}

func hour(s string) time.Time {
	t, _ := time.Parse("2006-01-02 15:04", s)
	return t
}

// proven says what a passed spore test shows: "strict", "lenient" or nothing.
func proven(t map[string]string) string {
	switch {
	case t["result"] != "pass", t["control"] == "no-growth", t["control_lot"] != t["lot"]:
		return ""
	case hour(t["read_at"]).Before(hour(t["incubated_at"]).Add(24 * time.Hour)):
		return ""
	case t["control"] != "growth", t["lot_expires_on"] < t["run_at"][:10]:
		return "lenient"
	}
	return "strict"
}

// ranAt is when the cycle of a test or load began: a spore test ran in the load it names.
func (all asWritten) ranAt(r map[string]string) time.Time {
	if l := all.load[r["load"]]; l != nil {
		return hour(l["started"])
	}
	return hour(r["run_at"] + r["started"])
}

// window is the loads in question after a failed test, or a load in doubt, by rule: the
// beginning is the last test before that counts, the end the first of enough that passed
// after it, with no failed one among them. Whole is false where no test came before: then
// loads from before the records may be in question, of which no row tells.
func (all asWritten) window(event map[string]string, strict bool, repeats int) (loads []string, whole bool) {
	of := event["sterilizer"] + event["equipment"]
	counts := func(t map[string]string) bool {
		if t["equipment"] != of {
			return false
		}
		return proven(t) == "strict" || !strict && proven(t) == "lenient"
	}
	at := all.ranAt(event)
	var from, until time.Time
	for _, t := range all.tests {
		if ran := all.ran[t["id"]]; t["id"] != event["id"] && counts(t) && ran.Before(at) && ran.After(from) {
			from = ran
		}
	}
	failed := func(after, before time.Time) bool {
		return slices.ContainsFunc(all.tests, func(t map[string]string) bool {
			ran := all.ran[t["id"]]
			return t["result"] == "fail" && t["equipment"] == of && t["id"] != event["id"] && ran.After(after) && ran.Before(before)
		})
	}
	for _, t := range all.tests {
		ran := all.ran[t["id"]]
		if !counts(t) || !ran.After(at) || !until.IsZero() && !ran.Before(until) {
			continue
		}
		ends, run := 1, 0
		if strict && (event["result"] == "fail" || failed(from, ran)) {
			ends = repeats
		}
		for _, next := range all.tests {
			if then := all.ran[next["id"]]; counts(next) && !then.Before(ran) && !failed(ran, then) {
				run++
			}
		}
		if run >= ends || !strict {
			until = ran
		}
	}
	used := map[string]bool{}
	for _, k := range all.packs {
		used[k["load"]] = used[k["load"]] || k["opened_at"] != ""
	}
	for _, l := range all.loads {
		began := hour(l["started"])
		inside := l["sterilizer"] == of && began.After(from) && (until.IsZero() || began.Before(until))
		if inside && (l["decision"] != "rejected" || used[l["id"]]) {
			loads = append(loads, l["id"])
		}
	}
	return loads, !from.IsZero()
}

// reached is whom the packs of some loads could have met.
type reached struct{ packs, visits, clients, mostVisits, mostClients int }

func (all asWritten) reach(loads []string, whole bool) (r reached, named []string) {
	in, of, rows, users := map[string]bool{}, map[string]string{}, map[string]int{}, map[string]string{}
	for _, id := range loads {
		in[id] = true
	}
	for _, v := range all.visits {
		for _, id := range list(v["packs"]) {
			users[id] += v["started"][:10] + " "
		}
	}
	var open time.Time // from which something nobody wrote down could have been used
	unaccounted := func(l map[string]string) {
		if began := hour(l["started"]); open.IsZero() || began.Before(open) {
			open = began
		}
	}
	for _, k := range all.packs {
		of[k["id"]] = k["load"]
		if !in[k["load"]] {
			continue
		}
		r.packs++
		rows[k["load"]]++
		day, _, _ := strings.Cut(k["opened_at"], " ")
		if k["counted_on"] == "" && !strings.Contains(users[k["id"]], day+" ") { // nobody wrote who was there
			unaccounted(all.load[k["load"]])
		}
	}
	for _, id := range loads {
		l := all.load[id]
		if made := int(numberIn(l["packs_made"])); made > rows[id] {
			unaccounted(l)
		}
	}
	clients, most := map[string]bool{}, map[string]bool{}
	for _, v := range all.visits {
		if v["status"] != "done" {
			continue
		}
		had, could := false, v["packs"] == ""
		for _, id := range list(v["packs"]) {
			had = had || in[of[id]]
			could = could || all.load[of[id]] == nil
		}
		late := !whole || !open.IsZero() && !hour(v["started"]).Add(59*time.Second+10*time.Minute).Before(open)
		switch {
		case had:
			r.visits++
			clients[v["client"]] = true
			named = append(named, v["id"])
		case could && late:
			r.mostVisits++
		default:
			continue
		}
		most[v["client"]] = true
	}
	r.mostVisits += r.visits
	r.clients, r.mostClients = len(clients), len(most)
	return r, named
}

func list(s string) (items []string) {
	for _, x := range strings.Split(s, ";") {
		if x = strings.TrimSpace(x); x != "" {
			items = append(items, x)
		}
	}
	return items
}

func numberIn(s string) (n float64) {
	for _, c := range s {
		n = 10*n + float64(c-'0')
	}
	return n
}

// answered is the answer of footing lookback.
func answered(t testing.TB, p *practice.Practice, kind, id string) (a audit.Answer) {
	t.Helper()
	criteria, err := checks.Criteria()
	require.NoError(t, err)
	q := checks.LookbackQuestion{Kind: kind, ID: id}
	require.NoError(t, audit.Put(context.Background(), p, checks.All(), criteria, audit.Options{}, checks.LookbackCheck(kind), func(x *audit.Examination, _ *audit.Book) {
		a, err = checks.Lookback(x, q)
	}))
	require.NoError(t, err)
	return a
}

const repeatsAsked = 3 // by the rule set of the made practice

// TestLookbackAgainstRows: for each failed spore test, for passed ones as if they had
// failed, for loads drawn at random, and for the sterilizers tonight, the answer has
// the loads, packs, visits and clients that the rows alone give.
func TestLookbackAgainstRows(t *testing.T) {
	two := madeOnce(t, Plan{Seed: 75, Days: 90, VisitsPerDay: 90, Clean: true, Format: "csv"})
	for i, dir := range []string{brokenPractice(t, 71), brokenPractice(t, 72), two} {
		p, all := read(t, dir), writtenIn(t, dir)
		draw := rand.New(rand.NewPCG(uint64(i), 9))
		for i := range p.Sterilizers {
			id := p.Sterilizers[i].Row.ID
			compared(t, p, all, "sterilizers", map[string]string{"id": id, "sterilizer": id, "started": day(LastDay) + " 23:59"})
		}
		asked := 0
		for _, x := range all.tests {
			if x["result"] == "fail" || draw.IntN(6) == 0 {
				asked++
				compared(t, p, all, "tests", x)
			}
		}
		for range 25 {
			compared(t, p, all, "loads", all.loads[draw.IntN(len(all.loads))])
		}
		require.Greater(t, asked, 2)
	}
}

func compared(t *testing.T, p *practice.Practice, all asWritten, kind string, event map[string]string) {
	t.Helper()
	a := answered(t, p, kind, event["id"])
	require.Len(t, a.Lookbacks, 1)
	l := a.Lookbacks[0]
	// A passed test that is asked about is taken as one that failed.
	as := map[string]string{"result": "fail"}
	for field, v := range event {
		if field != "result" || kind == "loads" {
			as[field] = v
		}
	}
	if kind == "loads" {
		delete(as, "result")
	}
	wide, whole := all.window(as, true, repeatsAsked)
	if kind == "loads" && !slices.Contains(wide, event["id"]) {
		wide = append(wide, event["id"]) // one that was rejected
	}
	narrow, narrowWhole := []string{event["id"]}, true
	if kind != "loads" {
		narrow, narrowWhole = all.window(as, false, repeatsAsked)
		if !slices.Contains(narrow, event["load"]) && event["load"] != "" {
			narrow = append(narrow, event["load"])
		}
	}
	var ids, narrowIDs, visits []string
	for _, x := range l.Loads {
		ids = append(ids, x.Load)
		if x.Narrow {
			narrowIDs = append(narrowIDs, x.Load)
		}
	}
	about := kind + " " + event["id"] + " " + event["started"] + event["run_at"]
	assert.ElementsMatch(t, wide, ids, "%s: loads of the wide window", about)
	if kind != "loads" {
		assert.ElementsMatch(t, narrow, narrowIDs, "%s: loads of the narrow window", about)
	}
	for i, loads := range [][]string{wide, narrow} {
		want, named := all.reach(loads, []bool{whole, narrowWhole}[i])
		w := l.Windows[i]
		assert.Equal(t, len(loads), w.Loads, "%s: %s", about, w.Name)
		assert.Equal(t, want, reached{w.Packs, w.Visits, w.Clients, w.MostVisits, w.MostClients}, "%s: %s", about, w.Name)
		if i > 0 {
			continue
		}
		for _, v := range l.Affected {
			visits = append(visits, v.Visit)
		}
		slices.Sort(visits)
		for _, id := range named {
			_, there := slices.BinarySearch(visits, id)
			assert.True(t, there, "%s: visit %s", about, id)
		}
		assert.Len(t, visits, want.mostVisits, "%s: visits", about)
	}
}
