package checks

import (
	"fmt"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"footing/internal/result"
)

// Against brute force: each pair of visits that name one pack is looked at by itself. A
// pack with a pair of two clients is critical, one with a pair of one client on two days
// major; one named on three days or more may be a holder's, and is left out.
func TestPacksOnceByBruteForce(t *testing.T) {
	criteria, err := Criteria()
	if err != nil {
		t.Fatal(err)
	}
	type visit struct{ client, day, pack int }
	rapid.Check(t, func(rt *rapid.T) {
		const packs = 5
		all := rapid.SliceOfN(rapid.Custom(func(rt *rapid.T) visit {
			return visit{rapid.IntRange(1, 3).Draw(rt, "client"), rapid.IntRange(1, 3).Draw(rt, "day"), rapid.IntRange(1, packs).Draw(rt, "pack")}
		}), 1, 9).Draw(rt, "visits")
		var rows, ids strings.Builder
		critical, major := 0, 0
		for k := 1; k <= packs; k++ {
			fmt.Fprintf(&ids, "K-%d\n", k)
			days, clients, twice := map[int]bool{}, false, false
			for i, a := range all {
				for _, b := range all[:i] {
					if a.pack == k && b.pack == k {
						clients = clients || a.client != b.client
						twice = twice || a.client == b.client && a.day != b.day
					}
				}
				if a.pack == k {
					days[a.day] = true
				}
			}
			switch {
			case len(days) > 2:
			case clients:
				critical++
			case twice:
				major++
			}
		}
		for _, v := range all {
			fmt.Fprintf(&rows, "C-%d,2026-03-%02d,K-%d,clinic\n", v.client, v.day, v.pack)
		}
		c := openCase(t, "drawn", map[string]string{
			"packs.csv":  "id\n" + ids.String(),
			"sites.csv":  "id,kind\nclinic,clinic\n",
			"visits.csv": "client,started,packs,site\n" + rows.String(),
			"rules.yaml": "criteria:\n  - {criterion: packs.once-habit, value: 100 %, source: the test}\n",
		})
		got := map[string]int{}
		for _, f := range run(t, c, battery(t, "packs/once"), criteria).Findings {
			got[f.Grade] += f.Extent.N
		}
		if got[result.Critical] != critical || got[result.Major] != major {
			rt.Fatalf("%s: %d critical and %d major by brute force, the check says %v", rows.String(), critical, major, got)
		}
	})
}
