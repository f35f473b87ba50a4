package checks

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"

	"footing/internal/result"
)

// However far readings lie apart, and wherever they fall, a hold that is called
// short was short, and one that conforms was long enough.
func TestTracesHoldIsNeverWrong(t *testing.T) {
	seen := map[string]int{}
	rapid.Check(t, func(rt *rapid.T) {
		celsius := rapid.Float64Range(134.05, 135.5).Draw(rt, "plateau, °C")
		hold := rapid.Float64Range(90, 330).Draw(rt, "hold, s")
		every := rapid.SampledFrom([]float64{1, 5, 10, 30, 60}).Draw(rt, "readings apart, s")
		first := rapid.Float64Range(0, 60).Draw(rt, "first reading, s")
		legs := gravityCycle(celsius, hold)
		// Heating is a straight line over 240 s from 99 °C, cooling one over 60 s to 105 °C.
		truth := 240*(celsius-134)/(celsius-99) + hold + 60*(celsius-134)/(celsius-105)
		body := "elapsed [s],temperature [°C],pressure [kPa absolute]\n"
		for at := first; at <= legSeconds(legs); at += every {
			c, p := legAt(legs, at)
			body += fmt.Sprintf("%.2f,%.3f,%.1f\n", at, c, p)
		}
		r := tracesAudit(t, "traces/hold", map[string]string{
			"practice.yaml": "name: Practice of the case\nregulator: Council of the case\nrule_set: uk-practice\n",
			"programs.csv":  "id,sterilizer,name,temperature,exposure\nU,S1,wrapped,134 °C,3.5 min\n",
			"loads.csv":     "id,started,trace,program,wrapped,decision\nL-1,2026-03-02 09:00,a.csv,U,yes,released\n",
			"traces/a.csv":  body,
		})
		outcome := r.Checks[0].Outcome
		seen[outcome]++
		switch outcome {
		case result.Conforming:
			assert.GreaterOrEqual(rt, truth, 210.0-0.1)
		case result.Nonconforming:
			assert.Less(rt, truth, 210.0)
		default:
			assert.Equal(rt, result.NotAssessed, outcome)
		}
	})
	for _, outcome := range []string{result.Conforming, result.Nonconforming, result.NotAssessed} {
		assert.Positive(t, seen[outcome], "%s never came up", outcome)
	}
}
