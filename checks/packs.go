package checks

import (
	"footing/internal/audit"
	"footing/internal/practice"
	"footing/internal/quantity"
)

// packsSite is what findings about packs are grouped by: the site where the pack
// is kept.
func packsSite(k *practice.Pack) audit.Subject {
	if k.StoredAt == "" {
		return audit.Whole
	}
	return audit.Subject{Kind: "sites", ID: k.StoredAt}
}

// packsFate is what is written of what became of a pack.
type packsFate struct {
	used     quantity.Day // opened, or named by a visit that took place
	evidence audit.Evidence
	shared   bool // another pack has the same id, so that visits name either
}

func packsFateOf(p *practice.Practice, k *practice.Pack) (f packsFate) {
	if k.OpenedAt.Written() {
		return packsFate{used: k.OpenedAt.Day(), evidence: audit.At(&k.Row, "opened_at")}
	}
	key := practice.Key(&k.Row)
	if _, state := p.Pack(key); state != practice.One {
		f.shared = true
		return f
	}
	for _, v := range p.UsesOf(key) {
		if v.Done() && !f.used.Written() {
			f.used, f.evidence = v.Started.Day(), audit.At(&v.Row, "packs", "the visit that names it")
		}
	}
	return f
}
