package dev

import (
	"slices"
	"strings"

	"footing/checks"
	"footing/internal/audit"
)

// chained are the checks outside the family monitoring that follow chains or series.
var chained = strings.Fields("cycles/printout cycles/hinges cycles/chamber cycles/counter cycles/overlap cycles/identical packs/origin packs/released packs/once packs/indicator packs/condition " +
	"packs/label packs/visit packs/enough packs/turnaround packs/two-places packs/single-use packs/owner records/trail records/months")

// ChainChecks is the part of the battery that joins clients, visits, packs, loads, tests, counters and stock.
func ChainChecks() (list []audit.Check) {
	for _, c := range checks.All() {
		if c.Family() == "monitoring" || slices.Contains(chained, c.ID) {
			list = append(list, c)
		}
	}
	return list
}
