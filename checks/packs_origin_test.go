package checks

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"footing/internal/practice"
	"footing/internal/quantity"
)

func TestPacksNumberOf(t *testing.T) {
	for id, want := range map[string]struct {
		series string
		number int
		ok     bool
	}{
		"L-0412":                  {"l", 412, true},
		"l 412":                   {"l", 412, true},
		"412":                     {"", 412, true},
		"S2/2026-0007":            {"s22026", 7, true},
		"Load no. 9":              {"loadno", 9, true},
		"L":                       {"l", 0, false},
		"":                        {"", 0, false},
		"L-12a":                   {"l12a", 0, false},
		"Ä-03":                    {"ä", 3, true},
		"99999999999999999999999": {"", 9223372036854775807, false},
	} {
		series, number, ok := packsNumberOf(id)
		assert.Equal(t, want.series, series, id)
		assert.Equal(t, want.ok, ok, id)
		if ok {
			assert.Equal(t, want.number, number, id)
		}
	}
}

// However people spell the id of a load that is in the log, it is never taken for one
// that is not there; and the day before an id is that of a load with a lower number.
func TestPacksNumbersHoldWhateverTheSpelling(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		var log []practice.Load
		number, day := 0, quantity.NewDay(2026, time.January, 1)
		for range rapid.IntRange(1, 12).Draw(rt, "loads") {
			number += rapid.IntRange(1, 3).Draw(rt, "step")
			day = day.AddDays(rapid.IntRange(0, 3).Draw(rt, "days"))
			var l practice.Load
			l.Row.ID = fmt.Sprintf("L-%04d", number)
			l.Started, _ = quantity.ParseMoment(day.String(), quantity.ISO, time.UTC)
			log = append(log, l)
		}
		n := packsNumbers{series: map[string][]packsNumbered{}, unsteady: map[string]bool{}, counted: map[int]bool{}}
		for i := range log {
			n.add(&log[i])
		}
		n.order()
		meant := rapid.IntRange(0, number+2).Draw(rt, "meant")
		spelt := rapid.SampledFrom([]string{"L-%d", "L%04d", "l %d", "l_%06d", "%d", "Load %d", "No. %d"}).Draw(rt, "spelling")
		id := fmt.Sprintf(spelt, meant)
		in, before := false, quantity.Day(0)
		for i := range log {
			_, have, _ := packsNumberOf(log[i].Row.ID)
			in = in || have == meant
			if have < meant {
				before = log[i].Started.Day()
			}
		}
		if n.spelt(id) != in {
			rt.Fatalf("%s: in the log %v, found there %v", id, in, n.spelt(id))
		}
		if own := strings.HasPrefix(strings.ToLower(id), "l") && !strings.HasPrefix(id, "Load"); own && n.before(id) != before {
			rt.Fatalf("%s: the load before it is of %v, found %v", id, before, n.before(id))
		}
	})
}
