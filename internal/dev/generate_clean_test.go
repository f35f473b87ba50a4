package dev

import (
	"fmt"
	"sort"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// The rules that a clean practice keeps are worked out here again from the rows
// alone, without the generator's own state.

func when(t *testing.T, v any) time.Time {
	t.Helper()
	s, _ := v.(string)
	layout := "2006-01-02 15:04"
	if len(s) == 10 {
		layout = time.DateOnly
	}
	at, err := time.Parse(layout, s)
	require.NoError(t, err)
	return at
}

func number(t *testing.T, v any) (n float64) {
	t.Helper()
	_, err := fmt.Sscanf(fmt.Sprint(v), "%g", &n)
	require.NoError(t, err)
	return n
}

func cleanYear(t *testing.T) map[string][]map[string]any {
	return made(t, Plan{Seed: 11, Days: 560, Clean: true})
}

func TestMadeLoadsAndPacks(t *testing.T) {
	all := cleanYear(t)
	released, ends := map[any]time.Time{}, map[any]time.Time{}
	var before time.Time
	for _, l := range all["loads"] {
		started, ended := when(t, l["started"]), when(t, l["ended"])
		require.False(t, started.Before(before), "loads overlap: %v", l)
		before = ended
		require.True(t, ended.After(started))
		require.False(t, when(t, l["released_at"]).Before(ended), "%v", l)
		if l["decision"] == "released" {
			released[l["id"]], ends[l["id"]] = when(t, l["released_at"]), ended
			require.GreaterOrEqual(t, number(t, l["temperature"]), 134.0)
			require.GreaterOrEqual(t, number(t, l["exposure"]), 4.0)
			require.GreaterOrEqual(t, number(t, l["drying"]), 20.0)
		}
	}
	cleaned := map[any]time.Time{}
	for _, c := range all["cleanings"] {
		list, _ := c["loads"].([]any)
		for _, id := range list {
			cleaned[id] = when(t, c["ended"])
		}
	}
	type use struct{ load, opened time.Time }
	of, openedAt, opened := map[any][]use{}, map[any]time.Time{}, 0
	for _, p := range all["packs"] {
		out, ok := released[p["load"]]
		require.True(t, ok, "%v", p)
		if p["opened_at"] == nil {
			continue
		}
		opened++
		at := when(t, p["opened_at"])
		openedAt[p["id"]] = at
		require.True(t, at.After(out) && !at.After(when(t, p["use_by"])), "%v", p)
		for _, i := range p["instruments"].([]any) {
			of[i] = append(of[i], use{ends[p["load"]].Add(-time.Hour), at})
		}
	}
	for _, l := range all["loads"] {
		require.False(t, cleaned[l["id"]].IsZero() || cleaned[l["id"]].After(when(t, l["started"])), "no cleaning before %v", l)
	}
	for i, uses := range of {
		sort.Slice(uses, func(a, b int) bool { return uses[a].opened.Before(uses[b].opened) })
		for n := 1; n < len(uses); n++ {
			require.Greater(t, uses[n].load.Sub(uses[n-1].opened), time.Hour, "%v came back too fast", i)
		}
	}
	used := map[any]bool{}
	for _, v := range all["visits"] {
		if v["status"] == "done" {
			id := v["packs"].([]any)[0]
			require.False(t, used[id], "%v used twice", id)
			used[id] = true
			require.False(t, openedAt[id].Before(when(t, v["started"])) || openedAt[id].After(when(t, v["ended"])), "%v", v)
		}
	}
	require.Equal(t, opened, len(used))
}

func TestMadeTestsInTime(t *testing.T) {
	all := cleanYear(t)
	last, air := time.Time{}, map[string]bool{}
	counters := map[float64]bool{}
	for _, r := range all["tests"] {
		at := when(t, r["run_at"])
		switch r["kind"] {
		case "spore":
			if !last.IsZero() {
				require.LessOrEqual(t, at.Truncate(24*time.Hour).Sub(last), 7*24*time.Hour)
			}
			last = at.Truncate(24 * time.Hour)
			if r["result"] == "pass" {
				require.GreaterOrEqual(t, when(t, r["read_at"]).Sub(when(t, r["incubated_at"])), 24*time.Hour)
				require.Equal(t, "growth", r["control"])
			}
			require.True(t, when(t, r["lot_expires_on"]).After(at))
			if r["load"] != nil {
				continue // shares its load's counter
			}
		case "air-removal":
			air[at.Format(time.DateOnly)] = true
		}
		if c, ok := r["counter"].(float64); ok {
			require.False(t, counters[c])
			counters[c] = true
		}
	}
	for _, l := range all["loads"] {
		c := l["counter"].(float64)
		require.False(t, counters[c])
		counters[c] = true
		require.True(t, air[l["started"].(string)[:10]], "no air-removal test that day: %v", l)
	}
	for c := range counters {
		require.True(t, counters[c-1] || c == 1001, "a hole in the counter before %v", c)
	}
}

func TestMadeVisitsAllowed(t *testing.T) {
	all := cleanYear(t)
	type span struct{ from, until time.Time }
	held, busy := map[string][]span{}, map[any][]span{}
	for _, c := range all["credentials"] {
		k := fmt.Sprint(c["person"], c["kind"])
		held[k] = append(held[k], span{when(t, c["valid_from"]), when(t, c["valid_until"])})
	}
	latest := func(kind, field string) map[any][]time.Time {
		m := map[any][]time.Time{}
		for _, r := range all[kind] {
			m[r["client"]] = append(m[r["client"]], when(t, r[field]))
		}
		return m
	}
	cards := []map[any][]time.Time{latest("screens", "asked_on"), latest("histories", "taken_on"), latest("consents", "given_on")}
	sizes := map[any]any{}
	for _, p := range all["people"] {
		sizes[p["id"]] = p["glove_size"]
	}
	for _, v := range all["visits"] {
		if v["status"] != "done" {
			continue
		}
		start := when(t, v["started"])
		d := start.Truncate(24 * time.Hour)
		for _, kind := range []string{"registration", "liability-cover"} {
			ok := false
			for _, s := range held[fmt.Sprint(v["person"], kind)] {
				ok = ok || !d.Before(s.from) && !d.After(s.until)
			}
			require.True(t, ok, "no %s: %v", kind, v)
		}
		for _, card := range cards {
			ok := false
			for _, at := range card[v["client"]] {
				ok = ok || at.Before(d) && d.Sub(at) <= 365*24*time.Hour
			}
			require.True(t, ok, "nothing on the card within a year before: %v", v)
		}
		require.Equal(t, sizes[v["person"]], v["glove_size"])
		busy[v["person"]] = append(busy[v["person"]], span{start, when(t, v["ended"])})
		if v["supervisor"] != nil {
			busy[v["supervisor"]] = append(busy[v["supervisor"]], span{start, when(t, v["ended"])})
		}
	}
	for who, spans := range busy {
		sort.Slice(spans, func(a, b int) bool { return spans[a].from.Before(spans[b].from) })
		for n := 1; n < len(spans); n++ {
			require.True(t, spans[n].from.After(spans[n-1].until), "%v is in two places: %v", who, spans[n])
		}
	}
}

// TestMadeLedger replays the ledger: a count never finds more than could be there.
func TestMadeLedger(t *testing.T) {
	all := cleanYear(t)
	balance, counted := map[string]float64{}, 0
	for _, r := range all["stock"] {
		if r["item"] == "sterile-pack" {
			continue
		}
		k := fmt.Sprint(r["site"], r["item"], r["size"], r["lot"])
		n := number(t, r["quantity"]) * number(t, r["each"])
		switch r["reason"] {
		case "purchase":
			balance[k] += n
		case "discard":
			require.LessOrEqual(t, n, balance[k], "%v", r)
			balance[k] -= n
		case "count":
			require.LessOrEqual(t, n, balance[k], "%v", r)
			balance[k] = n
			counted++
		}
		if r["expires_on"] != nil && n > 0 {
			require.True(t, when(t, r["expires_on"]).After(when(t, r["on"])), "%v", r)
		}
	}
	require.Greater(t, counted, 400)
}

func TestUncleanDiffersOnlyByItsFaults(t *testing.T) {
	plan := Plan{Seed: 12, Days: 560}
	faulty := made(t, plan)
	plan.Clean = true
	clean := made(t, plan)
	short := 0
	for i, l := range clean["loads"] {
		if l["exposure"] != nil && faulty["loads"][i]["exposure"] != l["exposure"] {
			short++
		}
	}
	require.Positive(t, short)
	for kind, rows := range clean {
		if kind != "instruments" {
			require.Equal(t, len(rows), len(faulty[kind]), kind)
		}
	}
}
