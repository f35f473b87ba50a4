package result

import (
	"testing"

	"github.com/stretchr/testify/require"
)

func TestARowAnswersAFindingByItsFingerprint(t *testing.T) {
	for written, want := range map[string]bool{"0a1b2c3d4e5f": true, " 0A1B2C3D4E5F ": true, "'0a1b2c3d4e5f": true, "’0a1b2c3d4e5f": true, "0a1b2c3d4e5": false, "0a1b2c3d4e5f0": false,
		"premises/upkeep": false, "service overdue": false, "": false, "'": false} {
		require.Equal(t, want, (&Action{Finding: written}).Answers("0a1b2c3d4e5f"), written)
	}
	require.False(t, (&Action{}).Answers(""))
}
