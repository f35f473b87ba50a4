package report

import (
	"strings"

	"footing/internal/result"
)

// mostChainLines is how many chains a finding writes out; its evidence has all.
const mostChainLines = 5

// linked writes the chains of a finding in words: "Visit V-12 → its pack P-3 → its
// load L-9". Checks put the row that something hangs on after it, with a note that
// says so.
func (p *page) linked(f *result.Finding) {
	lines := chainLines(f)
	if len(lines) == 0 {
		return
	}
	p.para("**How it hangs together**")
	items := texts(lines[:min(len(lines), mostChainLines)])
	if more := len(lines) - mostChainLines; more > 0 {
		items = append(items, text(several(more, "more, in the rows below", "more, in the rows below")))
	}
	p.list(items...)
}

// chainLines follows the evidence of a finding: by its note a row belongs to the row
// before, or begins a chain of its own. Rows of one record are one step.
func chainLines(f *result.Finding) (lines []string) {
	var chain []string
	var last result.Evidence
	reaches := false // a pack or a visit; that a load has a program needs no chain
	flush := func() {
		if len(chain) > 1 && reaches {
			lines = append(lines, strings.Join(chain, " → "))
		}
		chain, reaches = nil, false
	}
	for _, e := range f.Evidence {
		name := record(e)
		switch {
		case name == "":
			flush()
		case e.Kind == last.Kind && e.ID == last.ID:
			continue
		case len(chain) > 0 && hangs(last, e):
			chain = append(chain, linkName(e.Note, name))
		default:
			flush()
			chain = []string{upper(name)}
		}
		last = e
		reaches = reaches || e.Kind == "visits" || e.Kind == "packs"
	}
	flush()
	return unique(lines)
}

// hangs says whether a note joins its row to the row before: “its load”, “the pack”
// of a visit, “the visit that names it”.
func hangs(before, e result.Evidence) bool {
	return strings.HasPrefix(e.Note, "its ") || strings.Contains(e.Note, "that names it") ||
		before.Kind == "visits" && e.Kind == "packs" && strings.HasPrefix(e.Note, "the pack")
}

func linkName(note, name string) string {
	switch {
	case strings.HasPrefix(note, "its "):
		return "its " + name
	case strings.Contains(note, "that names it"):
		return name + ", which names it"
	}
	return name
}

// unique keeps the first of lines that say the same.
func unique(lines []string) (out []string) {
	seen := map[string]bool{}
	for _, l := range lines {
		if !seen[l] {
			seen[l] = true
			out = append(out, l)
		}
	}
	return out
}
