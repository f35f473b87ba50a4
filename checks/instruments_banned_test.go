package checks

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"footing/internal/quantity"
)

// Notes as a practitioner writes them; what they mean was judged by a reader.
func TestInstrumentsBannedOrder(t *testing.T) {
	for note, want := range map[string]struct {
		who   bool
		order quantity.Tri
	}{
		"":                                       {false, quantity.Unsure},
		"Skin calm.":                             {false, quantity.Unsure},
		"All in order.":                          {false, quantity.Unsure},
		"Ordered by her physician, 1 March.":     {true, quantity.Yes},
		"On the podiatrist's order.":             {true, quantity.Yes},
		"Prescribed by the doctor":               {true, quantity.Yes},
		"GP prescription seen":                   {true, quantity.Yes},
		"As directed by her GP, letter on file.": {true, quantity.Yes},
		"Rx from the podiatrist":                 {true, quantity.Yes},
		"No order from the physician":            {false, quantity.No},
		"No physician order on file":             {true, quantity.No},
		"No doctor's order.":                     {true, quantity.No},
		"without any written order by a doctor":  {false, quantity.No},
		"the doctor has not ordered it":          {true, quantity.No},
		"Per her doctor's letter":                {true, quantity.Unsure},
		"Saw her doctor last week.":              {true, quantity.Unsure},
	} {
		who, order := instrumentsBannedOrder(note)
		assert.Equal(t, want.who, who, note)
		assert.Equal(t, want.order, order, note)
	}
}
