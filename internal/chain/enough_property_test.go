package chain

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"footing/internal/quantity"
)

// happening is one thing that truly happened, at a minute of the made-up days.
type happening struct {
	minute int
	do     func()
}

const minutesOfDay = 24 * 60

// wrote is a minute as somebody wrote it: with the clock, or as a bare date.
func wrote(minute int, clock bool) string {
	text := fmt.Sprintf("2026-03-%02d", 1+minute/minutesOfDay)
	if clock {
		text += fmt.Sprintf(" %02d:%02d", minute%minutesOfDay/60, minute%60)
	}
	return text
}

// Records of a made-up practice in which each pack is followed: cycles end, packs
// are put away, counted, taken by visits, thrown away, lost. Clocks differ, ends and
// hours are left out, counts see only what is put away. What Racks says is never more
// than the visits that in truth had no pack.
func TestRacksNeverSayMoreThanHappened(t *testing.T) {
	for range 20 {
		rapid.Check(t, func(rt *rapid.T) {
			draw := func(from, until int) int { return rapid.IntRange(from, until).Draw(rt, "n") }
			odds := func() bool { return rapid.Bool().Draw(rt, "odds") }
			shelf, lacking, ready := 0, 0, 0 // packs put away; visits without; packs made and not yet put away
			var all []happening
			at := func(minute int, do func()) { all = append(all, happening{minute, do}) }
			var loads, visits, stock strings.Builder
			loads.WriteString("id,started,ended,released_at,packs_made,decision\n")
			visits.WriteString("id,client,started,ended,packs_used\n")
			stock.WriteString("item,on,reason,quantity\n")
			const days = 6
			shelf = draw(0, 3)
			for i := range draw(0, 4) {
				start := draw(0, (days-2)*minutesOfDay)
				end := start + draw(0, 90)
				away := end + draw(0, minutesOfDay)
				off, n, clock := draw(-10, 10), draw(0, 3), odds()
				if start+off < 0 {
					off = 0
				}
				ended, released := "", ""
				if odds() {
					ended = wrote(end+off, clock)
				}
				if odds() {
					released = wrote(away+off, clock)
				} else {
					away = min(away, (end/minutesOfDay+1)*minutesOfDay)
				}
				made := ""
				if draw(0, 4) > 0 {
					made = fmt.Sprint(n)
				}
				decision := rapid.SampledFrom([]string{"", "released", "pending"}).Draw(rt, "decision")
				fmt.Fprintf(&loads, "L-%d,%s,%s,%s,%s,%s\n", i, wrote(start+off, clock), ended, released, made, decision)
				put := 0
				at(end, func() { ready, put = ready+n, n })
				at(away, func() { put = min(put, ready); ready, shelf = ready-put, shelf+put })
			}
			for i := range draw(0, 8) {
				start := draw(0, (days-1)*minutesOfDay)
				end := start + draw(0, 90)
				if end/minutesOfDay != start/minutesOfDay {
					end = start
				}
				n, clock, ended := draw(0, 2), odds(), ""
				if odds() {
					ended = wrote(end, clock)
				}
				fmt.Fprintf(&visits, "V-%d,C-1,%s,%s,%d\n", i, wrote(start, clock), ended, n)
				careless := draw(0, 5) == 0
				at(draw(start, end), func() {
					if careless && n > 0 || n > shelf+ready {
						lacking++
						return
					}
					took := min(n, shelf)
					shelf, ready = shelf-took, ready-(n-took)
				})
			}
			for range draw(0, 3) {
				minute := draw(0, days*minutesOfDay-1)
				at(minute, func() { fmt.Fprintf(&stock, "sterile-pack,%s,count,%d\n", wrote(minute, false), shelf) })
			}
			for range draw(0, 2) {
				minute, written, n := draw(0, days*minutesOfDay-1), odds(), draw(1, 2)
				at(minute, func() {
					gone := min(n, shelf)
					shelf -= gone
					if written && gone > 0 {
						fmt.Fprintf(&stock, "sterile-pack,%s,discard,%d\n", wrote(minute, false), gone)
					}
				})
			}
			slices.SortStableFunc(all, func(a, b happening) int { return cmp.Compare(a.minute, b.minute) })
			for _, h := range all {
				h.do()
			}
			p := balanceFolder(t, map[string]string{"practice.yaml": wholeYear, "loads.csv": loads.String(), "visits.csv": visits.String(), "stock.csv": stock.String()})
			said := 0
			for _, r := range Racks(p, Clock{Tolerance: quantity.Exact(10, quantity.Minute)}) {
				for _, s := range r.Stretches {
					if s.Opening == OpenCounted {
						said += s.Short.Least
					}
				}
			}
			require.LessOrEqual(rt, said, lacking, "%s\n%s\n%s", loads.String(), visits.String(), stock.String())
		})
	}
}
