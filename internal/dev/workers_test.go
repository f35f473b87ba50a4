package dev

import (
	"bytes"
	"context"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"footing/checks"
	"footing/internal/audit"
	"footing/internal/result"
)

// TestSameBytesWhateverTheWorkersRead: the data-logger files, faults and charts
// among them, come out in the same bytes whoever reads which first; and what is
// written is read back whole.
func TestSameBytesWhateverTheWorkersRead(t *testing.T) {
	dir := flawedPractice(t)
	criteria, err := checks.Criteria()
	require.NoError(t, err)
	var first []byte
	for _, workers := range []int{1, 2, 4, 8} {
		r, err := audit.Run(context.Background(), read(t, dir), checks.All(), criteria, audit.Options{Workers: workers})
		require.NoError(t, err)
		require.NotEmpty(t, r.Traces)
		var b bytes.Buffer
		require.NoError(t, result.Write(&b, r))
		if first == nil {
			first = b.Bytes()
		}
		assert.True(t, bytes.Equal(first, b.Bytes()), "%d workers", workers)
	}
	back, err := result.Read(bytes.NewReader(first))
	require.NoError(t, err)
	drawn := 0
	for _, x := range back.Exhibits {
		if x.Kind == result.Drawn {
			drawn++
		}
	}
	assert.Positive(t, drawn)
	var again bytes.Buffer
	require.NoError(t, result.Write(&again, back))
	assert.True(t, bytes.Equal(first, again.Bytes()))
}
