package report

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"footing/internal/result"
)

// A visit behind which nothing is kept says nothing of how many can be followed.
func TestTrailSays(t *testing.T) {
	for want, trail := range map[string]result.Trail{
		"No visit was drawn.": {},
		"Of 3 visits, 2 were drawn at random, the draw starting from the number 7. No link that could be followed is typed for any of them, so how many can be followed cannot be told.":                                                                           {Of: 3, Drawn: []string{"V-1", "V-2"}, Seed: 7, High: 100, Level: 95},
		"Of 3 visits, 2 were drawn at random, the draw starting from the number 7. 1 has a link that is kept. Behind 1 of them each link that is kept was found; so behind 2.5 % to 100 % of all visits (a range that is right in at least 95 of 100 such draws).": {Of: 3, Drawn: []string{"V-1", "V-2"}, Seed: 7, Judged: 1, Followed: 1, Low: 2.5, High: 100, Level: 95},
		"Of 3 visits, 2 were drawn at random, the draw starting from the number 7. Behind 1 of them each link that is kept was found; so behind 1.3 % to 98.7 % of all visits (a range that is right in at least 95 of 100 such draws).":                           {Of: 3, Drawn: []string{"V-1", "V-2"}, Seed: 7, Judged: 2, Followed: 1, Low: 1.26, High: 98.74, Level: 95},
	} {
		assert.Equal(t, want, trailSays(&trail))
	}
}
