package quantity

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// A pattern that cannot be compiled would be found only where it is first asked.
func TestEveryPatternCompiles(t *testing.T) {
	for _, p := range []*pattern{weekdayFirst, weekdayLast, clockFirst, ordinal, monthWord, allFigures, spaced, onlySpaced, shortYear, shortNamed, shortMonth, wholeClock, longYear,
		clockLead, clockOfH, clockBare, clockHours, clockUTC, rough, ranged, fraction, fractionBar, full, percentFull, letterDegree, poundsSquare, hourMinutes, minuteSecond, hourM, mSecond, clockSpan} {
		assert.NotPanics(t, func() { p.get() }, p.text)
	}
}
