package checks

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// Notes as a practitioner writes them; what they mean was judged by a reader.
func TestInstrumentsBannedOrder(t *testing.T) {
	for note, want := range map[string]bool{
		"":                                      false,
		"Skin calm.":                            false,
		"All in order.":                         false,
		"Ordered by her physician, 1 March.":    true,
		"On the podiatrist's order.":            true,
		"Prescribed by the doctor":              true,
		"GP prescription seen":                  true,
		"No order from the physician":           false,
		"without any written order by a doctor": false,
		"the doctor has not ordered it":         false,
		"Saw her doctor last week.":             false,
	} {
		assert.Equal(t, want, instrumentsBannedOrder(note), note)
	}
}
