// Package checks is the battery: one check a file, each data and one pure
// function, and the criteria that they compare with.
package checks

import (
	"embed"
	"io/fs"
	"slices"
	"strings"
	"sync"

	"footing/internal/audit"
)

var defined []audit.Check

// define adds a check to the battery.
func define(c audit.Check) bool { defined = append(defined, c); return true }

// All is the battery, by ID.
func All() []audit.Check {
	all := slices.Clone(defined)
	slices.SortFunc(all, func(a, b audit.Check) int { return strings.Compare(a.ID, b.ID) })
	return all
}

//go:embed criteria/*.yaml
var criteria embed.FS

// Criteria are the shipped criteria; an error is a slip in the program's own files.
var Criteria = sync.OnceValues(func() (*audit.Criteria, error) {
	sub, err := fs.Sub(criteria, "criteria")
	if err != nil {
		return nil, err
	}
	return audit.ParseCriteria(sub)
})
