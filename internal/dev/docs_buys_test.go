package dev

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"footing/checks"
	"footing/internal/audit"
	"footing/schemas"
)

// Each check stands beside the last of the kinds that it needs, once.
func TestEachCheckIsBoughtOnce(t *testing.T) {
	at, place := map[string]int{}, map[string]int{}
	list := buys(checks.All())
	for i, b := range list {
		place[b.kind] = i
		for _, c := range b.opens {
			at[c.ID]++
			if len(c.Needs) == 0 {
				continue
			}
			last := 0
			for _, name := range c.Needs {
				kind, _, _ := strings.Cut(name, ".")
				last = max(last, slices.IndexFunc(list, func(b buy) bool { return b.kind == kind }))
			}
			assert.Equal(t, i, last, c.ID)
		}
	}
	for _, c := range checks.All() {
		if len(c.Needs) > 0 {
			assert.Equal(t, 1, at[c.ID], c.ID)
		}
	}
	assert.Len(t, place, len(schemas.Kinds())+1, "every kind once, and the data-logger files")
	for _, kind := range audit.FirstEvening() {
		_, told := audit.TypingOf(kind)
		assert.True(t, told && slices.Contains(schemas.Kinds(), kind), kind)
	}
}

func TestBuysOrder(t *testing.T) {
	battery := []audit.Check{
		{ID: "a/a", Title: "A holds", Needs: []string{"visits", "packs"}, Helps: []string{"loads.counter"}}, {ID: "a/b", Title: "B", Needs: []string{"visits"}},
		{ID: "a/c", Title: "C", Needs: []string{"loads"}, Helps: []string{"visits", "visits.packs"}},
	}
	list := buys(battery)
	rest := list[len(firstTyped):]
	assert.Equal(t, []string{"visits", "packs"}, []string{rest[0].kind, rest[1].kind})
	assert.Equal(t, 1, rest[0].sharper, "one check, though it names two fields")
	assert.Equal(t, "a/a", rest[1].opens[0].ID)
	page := string(buysPage(battery))
	assert.Contains(t, page, "| [packs](../records/packs.md) | 312 | 3.0 h | [1](#packs) |  |\n")
	assert.Contains(t, page, "## Packs\n\n- A holds ([a/a](../checks/a-a.md))\n")
	assert.Contains(t, page, "With all of them 3 of 3 checks can look")
}
