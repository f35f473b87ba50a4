package dev

import (
	"footing/checks"
	"footing/internal/audit"
)

// TraceChecks is the part of the battery that judges data-logger files.
func TraceChecks() (list []audit.Check) {
	for _, c := range checks.All() {
		if c.Family() == "traces" {
			list = append(list, c)
		}
	}
	return list
}
