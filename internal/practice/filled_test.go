package practice

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestFilled(t *testing.T) {
	p := folder(t, map[string]string{
		"practice.yaml":   "name: P\nregulator: R\nunits: {temperature: °C}\n",
		"sterilizers.csv": "id,method,logger,most_packs\nS1,steam,no,\n",
		"loads.csv":       "started,exposure,temperature,wrapped,sets,decision,note\n2026-03-02,30 min,121,no,,,\n2026-03-03,,long,,,,x\n2027-03-03,3 min,121,yes,,,\n",
	})
	for _, c := range []struct {
		kind, field   string
		written, rows int
	}{
		{"loads", "started", 2, 2}, // a row of a later day is not judged
		{"loads", "exposure", 1, 2},
		{"loads", "temperature", 1, 2}, // what cannot be read counts as not written
		{"loads", "wrapped", 1, 2},     // no is an answer
		{"loads", "sets", 0, 2},
		{"loads", "decision", 0, 2},
		{"loads", "note", 1, 2}, // of every kind
		{"loads", "drying", 0, 2},
		{"loads", "sterilizer", 2, 2}, // read as the only one
		{"sterilizers", "logger", 1, 1},
		{"sterilizers", "most_packs", 0, 1},
		{"practice", "units", 1, 1},
		{"practice", "coverage", 0, 1},
		{"practice", "colour", 0, 0},
		{"loads", "colour", 0, 0},
		{"colours", "id", 0, 0},
		{"visits", "started", 0, 0},
	} {
		written, rows := p.Filled(c.kind, c.field)
		assert.Equal(t, []int{c.written, c.rows}, []int{written, rows}, "%s.%s", c.kind, c.field)
	}
}
