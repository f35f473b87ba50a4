package chain

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"footing/internal/quantity"
)

// Records of a made-up practice with a clinic and a bag, in which most moves between the two
// are written, as trips or as transfers, and some are not. What Racks says of both together
// is never more than the visits that in truth had no pack.
func TestRacksOfAllSitesNeverSayMoreThanHappened(t *testing.T) {
	const places, days = "id,kind\nclinic,clinic\nbag,mobile\n", 8
	apart := 0
	for range 5 {
		rapid.Check(t, func(rt *rapid.T) {
			draw := func(from, until int) int { return rapid.IntRange(from, until).Draw(rt, "n") }
			var loads, visits, stock, trips strings.Builder
			loads.WriteString("id,started,ended,released_at,packs_made,decision\n")
			visits.WriteString("id,client,started,site,packs_used\n")
			stock.WriteString("item,on,reason,quantity,site,to_site\n")
			trips.WriteString("on,from_site,to_site,packs_out,packs_back\n")
			sites := []string{"clinic", "bag"}
			shelf, lacking := []int{draw(0, 3), draw(0, 1)}, 0
			for d := 1; d <= days; d++ {
				day := fmt.Sprintf("2026-03-%02d", d)
				if draw(0, 2) == 0 {
					n := draw(0, 3)
					fmt.Fprintf(&loads, "L-%d,%s 07:00,%s 07:50,%s 08:00,%d,released\n", d, day, day, day, n)
					shelf[0] += n
				}
				if from := draw(0, 1); draw(0, 1) == 0 {
					n := min(draw(0, 2), shelf[from])
					shelf[from], shelf[1-from] = shelf[from]-n, shelf[1-from]+n
					switch draw(0, 4) {
					case 0: // nobody wrote it
					case 1, 2:
						fmt.Fprintf(&stock, "sterile-pack,%s,transfer,%d,%s,%s\n", day, n, sites[from], sites[1-from])
					default:
						out, back := n, 0
						if from == 1 {
							out, back = 0, n
						}
						fmt.Fprintf(&trips, "%s,clinic,bag,%d,%d\n", day, out, back)
					}
				}
				for i := range draw(0, 3) {
					at, n := draw(0, 1), draw(1, 2)
					fmt.Fprintf(&visits, "V-%d-%d,C-%d,%s %02d:00,%s,%d\n", d, i, i, day, 9+i, sites[at], n)
					if shelf[at] < n {
						lacking++
					} else {
						shelf[at] -= n
					}
				}
				if draw(0, 2) == 0 {
					for at, site := range sites {
						fmt.Fprintf(&stock, "sterile-pack,%s,count,%d,%s,\n", day, shelf[at], site)
					}
				}
			}
			p := balanceFolder(t, map[string]string{"practice.yaml": wholeYear, "sites.csv": places, "sterilizers.csv": "id,method,site\nS1,steam,clinic\n",
				"loads.csv": loads.String(), "visits.csv": visits.String(), "stock.csv": stock.String(), "trips.csv": trips.String()})
			said := 0
			for _, r := range Racks(p, Clock{Tolerance: quantity.Exact(10, quantity.Minute)}) {
				if r.Site != "" {
					apart++
					continue
				}
				for _, s := range r.Stretches {
					if s.Opening == OpenCounted {
						said += s.Short.Least
						require.True(rt, s.Short.Least == 0 || s.Short.Firm, "no visit names a pack")
					}
				}
			}
			require.LessOrEqual(rt, said, lacking, "%s\n%s\n%s\n%s", loads.String(), visits.String(), stock.String(), trips.String())
		})
	}
	require.NotZero(t, apart, "no case had its sites apart")
}
