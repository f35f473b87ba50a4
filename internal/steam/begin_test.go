package steam

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
)

// A series that is begun again knows nothing of the one before, and what that one came
// to stays as it was.
func TestBeginAgain(t *testing.T) {
	few := Setting{Levels: []float64{115, 121}, Over: []float64{2}, Scale: A0}
	settings := []Setting{watched(), few, {}, watched(), few}
	s := new(Series)
	var cycles []Cycle
	var told []string
	for i, set := range settings {
		s.Begin(set)
		all := made(uint64(i))
		all = all[:len(all)-500*i]
		for _, r := range all {
			s.Add(r.at, r.cold, r.warm, r.press)
		}
		c := s.End()
		fresh := NewSeries(set)
		for _, r := range all {
			fresh.Add(r.at, r.cold, r.warm, r.press)
		}
		assert.Equal(t, fmt.Sprintf("%+v", fresh.End()), fmt.Sprintf("%+v", c), "%d", i)
		cycles, told = append(cycles, c), append(told, fmt.Sprintf("%+v", c))
	}
	for i, c := range cycles {
		assert.Equal(t, told[i], fmt.Sprintf("%+v", c), "%d, afterwards", i)
	}
}
