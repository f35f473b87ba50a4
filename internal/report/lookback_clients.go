package report

import (
	"cmp"
	"slices"
	"strconv"
	"time"

	"footing/internal/result"
)

// affectedClient is one client of a look-back, over all its visits.
type affectedClient struct {
	id          string
	visits      int
	named       int
	first, last string
	narrow      bool
}

// affectedClients gathers the visits of a look-back by client, those whose visits name
// a pack or load first, then by id.
func affectedClients(visits []result.Affected) []affectedClient {
	at := map[string]int{}
	var out []affectedClient
	for _, v := range visits {
		if v.Client == "" {
			continue
		}
		on := v.On[:min(len(v.On), len(time.DateOnly))]
		i, ok := at[v.Client]
		if !ok {
			i = len(out)
			at[v.Client] = i
			out = append(out, affectedClient{id: v.Client, first: on, last: on})
		}
		c := &out[i]
		c.visits++
		if v.Named {
			c.named++
		}
		c.first, c.last, c.narrow = min(c.first, on), max(c.last, on), c.narrow || v.Narrow
	}
	slices.SortFunc(out, func(a, b affectedClient) int {
		return cmp.Or(cmp.Compare(min(b.named, 1), min(a.named, 1)), cmp.Compare(a.id, b.id))
	})
	return out
}

// clients lists each client once, as public health would ask for them.
func (p *lookPage) clients() {
	p.each(titleClients, "Each client of the visits above, once: the list to have at hand when public health asks.",
		func(l *result.Lookback) bool { return len(affectedClients(l.Affected)) > 0 },
		func(l *result.Lookback) {
			list := affectedClients(l.Affected)
			p.capped([]md{tick, "Client", "Visits", "Of which name a pack or load", "First and last", "Window"}, len(list), func(i int) []md {
				c := list[i]
				return []md{box, text(ident("clients", c.id)), text(strconv.Itoa(c.visits)), text(strconv.Itoa(c.named)), text(span(c.first, c.last)), text(windowName(c.narrow))}
			})
		})
}
