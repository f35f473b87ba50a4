//go:build !linux

package cli

import "testing"

// mountDisk makes no disk: no other system has one to be made so simply.
func mountDisk(*testing.T, string, int) bool { return false }
