package cli

import (
	"fmt"
	"syscall"
	"testing"

	"github.com/stretchr/testify/require"
)

// mountDisk makes a small disk in memory at a folder; false where this user may not.
func mountDisk(t *testing.T, at string, bytes int) bool {
	t.Helper()
	if err := syscall.Mount("tmpfs", at, "tmpfs", 0, fmt.Sprintf("size=%d", bytes)); err != nil {
		return false
	}
	t.Cleanup(func() { require.NoError(t, syscall.Unmount(at, 0)) })
	return true
}
