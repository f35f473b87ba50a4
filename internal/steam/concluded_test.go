package steam

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestConcluded(t *testing.T) {
	asks := func(level float64) (float64, bool) {
		seconds, ok := map[float64]float64{121: 900, 126: 600, 134: 180}[level]
		return seconds, ok
	}
	hold := func(level, most float64) Hold { return Hold{Level: level, Reached: most > 0, Most: most} }
	ends := func(h Hold) Hold { h.OpenEnd = true; return h }
	begins := func(h Hold) Hold { h.OpenStart = true; return h }
	for name, c := range map[string]struct {
		holds  []Hold
		level  float64 // 0 for none
		enough bool
	}{
		"long enough at the hottest":           {[]Hold{hold(121, 1000), hold(126, 700), hold(134, 180)}, 134, true},
		"just not, but long at the next":       {[]Hold{hold(121, 1000), hold(126, 600), hold(134, 179)}, 126, true},
		"nowhere long enough: the hottest":     {[]Hold{hold(121, 899), hold(126, 599), hold(134, 179)}, 134, false},
		"the record ends in it":                {[]Hold{hold(121, 1000), hold(126, 700), ends(hold(134, 20))}, 134, true},
		"the record begins in it":              {[]Hold{hold(121, 1000), hold(126, 700), begins(hold(134, 20))}, 134, true},
		"a level that was watched for another": {[]Hold{hold(121, 1000), hold(126, 10), hold(133, 5000)}, 121, true},
		"none reached":                         {[]Hold{hold(121, 0), hold(134, 0)}, 0, false},
		"none watched":                         {nil, 0, false},
	} {
		t.Run(name, func(t *testing.T) {
			h, enough := (&Cycle{Holds: c.holds}).Concluded(asks)
			assert.Equal(t, c.enough, enough)
			if c.level == 0 {
				assert.Nil(t, h)
			} else if assert.NotNil(t, h) {
				assert.Equal(t, c.level, h.Level)
			}
		})
	}
}
