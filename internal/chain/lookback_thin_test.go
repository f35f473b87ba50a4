package chain

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// What was done is drawn first: loads before and after a pass, their packs, and who had
// each. Then rows and cells are struck, as thin records lack them, and nothing says that
// any kind is whole. However little is left: each client who had a pack of a load run
// since the pass is among those who may be meant. Nothing is read off the code under test.
func TestThinRecordsNeverLeaveOutAClient(t *testing.T) {
	read := folders(t)
	rapid.Check(t, func(t *rapid.T) {
		strike := func(what string) bool { return rapid.IntRange(0, 2).Draw(t, "strike "+what) == 0 }
		r := bookOf("sterilizer id=S1 method=steam", "sterilizer id=S2 method=steam", "spore id=P equipment=S1 run_at=5_12:00 control=growth", "spore id=F equipment=S1 run_at=20_12:00 result=fail")
		met := map[string]bool{}
		for i := range rapid.IntRange(1, 8).Draw(t, "loads") {
			day, id := rapid.IntRange(2, 19).Draw(t, "day"), fmt.Sprint("L", i)
			made := rapid.IntRange(1, 3).Draw(t, "packs")
			load := map[string]string{"id": id, "sterilizer": "S1", "started": fmt.Sprintf("2026-11-%02d 15:00", day), "packs_made": fmt.Sprint(made), "decision": rapid.SampledFrom([]string{"released", "", "rejected"}).Draw(t, "decision")}
			for k := range made {
				pack, use := map[string]string{"id": fmt.Sprint("K", i, "-", k), "load": id}, rapid.IntRange(day+1, 24).Draw(t, "used on")
				visit := map[string]string{"id": fmt.Sprint("V", i, "-", k), "client": fmt.Sprint("C", i, "-", k), "started": fmt.Sprintf("2026-11-%02d 10:00", use), "packs": pack["id"]}
				if day >= 5 {
					met[visit["client"]] = true
				}
				switch rapid.IntRange(0, 5).Draw(t, "the visit names") {
				case 0:
					delete(visit, "packs")
				case 1:
					visit["packs"], visit["loads"] = "", id
				case 2:
					visit["packs"], visit["packs_used"] = "", "1"
				}
				if strike("the hour of a visit") {
					visit["started"] = visit["started"][:10]
				}
				if strike("the load of a pack") {
					delete(pack, "load")
				}
				if !strike("a pack") {
					r["packs"] = append(r["packs"], pack)
				}
				r["visits"] = append(r["visits"], visit)
			}
			for _, name := range []string{"sterilizer", "packs_made"} {
				if strike(name) {
					delete(load, name)
				}
			}
			if strike("the hour of a load") {
				load["started"] = load["started"][:10]
			}
			if !strike("a load") {
				r["loads"] = append(r["loads"], load)
			}
		}
		p := read(r)
		terms := testTerms(5, 3)
		terms.Logged = nil
		wide, _ := HistoryOf(p, &p.Sterilizers[0], terms).Around(event(t, p, "F"))
		most := ReachOfWindow(p, terms, wide).MostClients
		for client := range met {
			require.Contains(t, most, client, "%v", r)
		}
	})
}
