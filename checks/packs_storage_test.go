package checks

import (
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"footing/internal/quantity"
)

// The last day for a pack of 2 March 2026, counted by hand on a calendar, for each
// time that is shipped; 0 is no limit.
func TestPacksStorageLast(t *testing.T) {
	from := quantity.NewDay(2026, time.March, 2)
	want := map[string]quantity.Day{
		"same day":     from,
		"1 d":          quantity.NewDay(2026, time.March, 3),
		"7 d":          quantity.NewDay(2026, time.March, 9),
		"365 d":        quantity.NewDay(2027, time.March, 2),
		"while intact": 0,
	}
	criteria, err := Criteria()
	require.NoError(t, err)
	for _, c := range criteria.Values("packs.storage") {
		last, known := want[c.Value()]
		if assert.True(t, known, "%s is shipped and not counted here", c.Value()) {
			assert.Equal(t, last, packsStorageLast(from, c), c.Value())
		}
	}
}
