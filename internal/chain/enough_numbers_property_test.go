package chain

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"footing/internal/quantity"
)

// Records of a made-up practice that numbers its packs and in which no visit ever
// lacked one. Numbers are typed for one another, one pack is opened for two who are seen
// together, a visit is typed twice, packs are bought ready and named by their lot, rows of
// packs are left out, the two shelves are counted on one day or on two running, the fuller one first. Racks never
// says that a visit cannot have had its packs.
func TestRacksOfNumberedPacksNeverSayMoreThanHappened(t *testing.T) {
	for range 5 {
		rapid.Check(t, func(rt *rapid.T) {
			draw := func(from, until int) int { return rapid.IntRange(from, until).Draw(rt, "n") }
			seldom := func() bool { return draw(0, 4) == 0 }
			var loads, packs, visits, stock strings.Builder
			loads.WriteString("id,started,ended,released_at,packs_made,decision\n")
			packs.WriteString("id,load,packaging,opened_at,discarded_on\n")
			visits.WriteString("id,client,started,ended,packs,packs_used\n")
			stock.WriteString("item,on,reason,quantity\n")
			day := func(d int) string { return fmt.Sprintf("2026-03-%02d", d) }
			var shelf, all []string // closed packs, by number; every number given
			rows := map[string]string{}
			typed, made, number := !seldom(), rapid.Bool().Draw(rt, "made"), 0
			for range draw(0, 3) {
				shelf = append(shelf, fmt.Sprintf("old %d", len(shelf)))
			}
			tomorrow := 0 // packs of the other shelf, which is counted the day after
			for d := 1; d <= 8; d++ {
				split := tomorrow > 0
				if draw(0, 2) == 0 {
					n := draw(0, 4)
					count := ""
					if made || !typed {
						count = fmt.Sprint(n)
					}
					fmt.Fprintf(&loads, "L-%d,%s 07:00,%s 07:50,%s 08:00,%s,released\n", d, day(d), day(d), day(d), count)
					for range n {
						number++
						id := fmt.Sprintf("K-%d", number)
						shelf, all = append(shelf, id), append(all, id)
						rows[id] = fmt.Sprintf("%s,L-%d,%s", id, d, rapid.SampledFrom([]string{"", "pouch", "cassette"}).Draw(rt, "packaging"))
					}
				}
				visited := draw(0, 3)
				if split {
					visited = 0 // what is taken between the counts of two shelves cannot be told from what was counted
				}
				for i := range visited {
					start := fmt.Sprintf("%s %02d:00", day(d), 9+i)
					name := "LOT 77"
					if len(shelf) == 0 && !typed {
						break // lots are told from numbers where numbers are typed
					}
					if n := len(shelf); n > 0 && !(typed && seldom()) {
						at := draw(0, n-1)
						name = shelf[at]
						shelf = slices.Delete(shelf, at, at+1)
						if seldom() && len(all) > 0 {
							name = rapid.SampledFrom(all).Draw(rt, "slip")
						}
					}
					used := ""
					if seldom() {
						used = "1"
					}
					row := fmt.Sprintf("C-%d,%s,,%s,%s\n", draw(1, 9), start, name, used)
					fmt.Fprintf(&visits, "V-%d-%d,%s", d, i, row)
					switch draw(0, 9) {
					case 0: // typed twice
						fmt.Fprintf(&visits, "W-%d-%d,%s", d, i, row)
					case 1: // the partner, seen with it
						fmt.Fprintf(&visits, "X-%d-%d,C-10,%s:30,,%s,\n", d, i, start[:13], name)
					}
				}
				if len(shelf) > 0 && !split && seldom() {
					id := shelf[0]
					if shelf = shelf[1:]; rows[id] != "" && draw(0, 1) == 0 {
						rows[id] += ",," + day(d)
					} else {
						fmt.Fprintf(&stock, "sterile-pack,%s,discard,1\n", day(d))
					}
				}
				switch {
				case split:
					fmt.Fprintf(&stock, "sterile-pack,%s,count,%d\n", day(d), min(tomorrow, len(shelf)))
					tomorrow = 0
				case draw(0, 3) == 0:
					tomorrow = draw(0, max(0, len(shelf)-1)/2) // as many as the day before look like all of them
					fmt.Fprintf(&stock, "sterile-pack,%s,count,%d\n", day(d), len(shelf)-tomorrow)
				}
			}
			if typed {
				packs.WriteString("K-0,,,,\n")
			}
			for _, id := range all {
				if typed {
					packs.WriteString(rows[id] + strings.Repeat(",", 4-strings.Count(rows[id], ",")) + "\n")
				}
			}
			p := balanceFolder(t, map[string]string{"practice.yaml": wholeYear, "loads.csv": loads.String(), "packs.csv": packs.String(), "visits.csv": visits.String(), "stock.csv": stock.String()})
			for _, r := range Racks(p, Clock{Tolerance: quantity.Exact(10, quantity.Minute)}) {
				for _, s := range r.Stretches {
					if s.Opening == OpenCounted {
						require.Zero(rt, s.Short.Least, "%s\n%s\n%s\n%s", loads.String(), packs.String(), visits.String(), stock.String())
					}
				}
			}
		})
	}
}
