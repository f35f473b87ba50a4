package checks

import (
	"cmp"
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"footing/internal/chain"
	"footing/internal/practice"
	"footing/internal/quantity"
)

// Each packing is held against every one before it: with hours everywhere, and
// no two loads begun at once, the two that are asked answer as all do.
func TestTwoPlacesAgainstEveryPair(t *testing.T) {
	r := packsTwoPlaces{clock: chain.Clock{Tolerance: quantity.Exact(10, quantity.Minute)}}
	at := func(minute int) quantity.Moment {
		m, err := quantity.ParseMoment(fmt.Sprintf("2026-03-02 %02d:%02d", minute/60, minute%60), quantity.ISO, nil)
		require.NoError(t, err)
		return m
	}
	for range 20 {
		rapid.Check(t, func(t *rapid.T) {
			var stays []*packsTwoPlacesStay
			for _, from := range rapid.SliceOfNDistinct(rapid.IntRange(0, 100), 1, 7, rapid.ID[int]).Draw(t, "from") {
				stay := &packsTwoPlacesStay{pack: &practice.Pack{}, load: &practice.Load{Started: at(from)}, span: chain.Span{From: at(from), Until: at(from + rapid.IntRange(1, 60).Draw(t, "for"))}}
				stays = append(stays, stay)
			}
			slices.SortStableFunc(stays, func(a, b *packsTwoPlacesStay) int { return cmp.Compare(a.span.From.First(), b.span.From.First()) })
			answers, before := packsTwoPlacesAsk(stays, r.overlap)
			for i := range stays {
				any := false
				for _, earlier := range stays[:i] {
					any = any || r.overlap(earlier, stays[i]) == quantity.Yes
				}
				require.Equal(t, any, answers[i] == quantity.Yes)
				if any {
					require.Equal(t, quantity.Yes, r.overlap(before[i], stays[i]))
				}
			}
		})
	}
}
