package audit

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// MetAll is Met so many times, and for none says nothing.
func TestMetAll(t *testing.T) {
	loads, packs := Subject{Kind: "files", ID: "loads.csv"}, Subject{Kind: "files", ID: "packs.csv"}
	all, each := newExamination(nil, nil, &Check{}), newExamination(nil, nil, &Check{})
	all.MetAll(loads, 0)
	all.MetAll(loads, -2)
	assert.True(t, all.Silent())
	assert.Empty(t, all.tally)
	all.MetAll(loads, 3)
	all.MetAll(packs, 1)
	all.MetAll(loads, 2)
	for _, s := range []Subject{loads, loads, loads, packs, loads, loads} {
		each.Met(s)
	}
	assert.Equal(t, each.counts, all.counts)
	assert.Equal(t, each.tally, all.tally)
}
