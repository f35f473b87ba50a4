package steam

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

func TestTheTableIsTheFormula(t *testing.T) {
	table := quickLine()
	rapid.Check(t, func(t *rapid.T) {
		p := rapid.Float64Range(lowest, 2*quickUntil).Draw(t, "kPa")
		assert.InDelta(t, saturationTemperature(p), table.at(p), 1e-7)
	})
	for _, p := range []float64{lowest, quickFrom, quickFrom + quickStep, quickFrom + 1.49*quickStep, quickUntil - 1e-9, quickUntil, quickUntil + quickStep, highest} {
		assert.InDelta(t, saturationTemperature(p), table.at(p), 1e-7, "%v kPa", p)
	}
}

func BenchmarkQuickSaturation(b *testing.B) {
	table := quickLine()
	for b.Loop() {
		table.at(205.3)
	}
}
