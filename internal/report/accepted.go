package report

import (
	"strings"

	"footing/internal/result"
)

// accepted lists what the practice has accepted, and how each stands.
func (p *page) accepted() { p.acceptedTable(p.refs) }

// acceptedTable is the list; refs names findings.
func (p *page) acceptedTable(refs func(findings []int) md) {
	if len(p.Accepted) == 0 {
		return
	}
	p.heading(2, titleAccepted)
	p.para("What is accepted keeps its grade and is counted like any other; what says stop stays among the things to do first. When its last day is over, or its finding is gone, that stands here.")
	var rows [][]md
	for _, a := range p.Accepted {
		rows = append(rows, []md{p.acceptedNames(a, refs), text(orElse(a.Reason, "none written")), text(orElse(ident("people", a.By), "nobody named")), text(orElse(day(a.Until), "no day")), text(acceptedState(a))})
	}
	p.table([]md{"Finding", "Reason", "By", "Until", "State"}, rows)
}

// acceptedNames is what an acceptance names: the finding, or the check with its findings.
func (p *page) acceptedNames(a result.Accepted, refs func([]int) md) md {
	var found []int
	for _, i := range p.order {
		if a.Means(&p.Findings[i]) {
			found = append(found, i)
		}
	}
	c := p.check[strings.ToLower(plain(a.Finding))]
	switch {
	case c != nil && len(found) > 0:
		return say("check %s: %s", c.ID, refs(found))
	case c != nil:
		return say("check %s", c.ID)
	case len(found) > 0:
		return refs(found)
	}
	return text(a.Finding)
}

func acceptedState(a result.Accepted) string {
	switch a.State {
	case result.AcceptedEnded:
		return "ended; the finding is still there, and stands among the things to do again"
	case result.AcceptedUnmatched:
		return "matches no finding; it may be closed, or its name mistyped"
	}
	return a.State
}

// acceptedFor says who accepted a finding, until when and why, and where that has ended.
func (p *page) acceptedFor(f *result.Finding) md {
	a := p.AcceptedBy(f)
	switch {
	case a == nil && f.Accepted:
		return "Accepted by the practice for a time."
	case a == nil:
		return ""
	case f.Accepted:
		return say("Accepted until %s by %s%s: %s It keeps its grade and is counted.", day(a.Until), orElse(ident("people", a.By), "nobody named"), wholeCheck(a, f), stop(orElse(a.Reason, "no reason is written")))
	}
	return say("**Accepted until %s by %s, which is over, so it stands among the things to do again.** The reason was: %s", orElse(day(a.Until), "no day that is written"), orElse(ident("people", a.By), "nobody named"), stop(a.Reason))
}

// wholeCheck says that an acceptance holds for all that a check finds.
func wholeCheck(a *result.Accepted, f *result.Finding) string {
	if strings.EqualFold(a.Finding, f.Fingerprint) {
		return ""
	}
	return ", with all else that this check finds"
}

// acceptedLine says how many findings are accepted, and what has ended or matches none.
func acceptedLine(r *result.Result) string {
	state := map[string]int{}
	for _, a := range r.Accepted {
		state[a.State]++
	}
	held := 0
	for i := range r.Findings {
		if r.Findings[i].Accepted {
			held++
		}
	}
	var parts []string
	if held > 0 {
		parts = append(parts, several(held, "finding is accepted for a time and still counted", "findings are accepted for a time and still counted"))
	}
	if n := state[result.AcceptedEnded]; n > 0 {
		parts = append(parts, several(n, "acceptance has ended", "acceptances have ended")+", and what "+map[bool]string{true: "it", false: "they"}[n == 1]+" named is still found")
	}
	if n := state[result.AcceptedUnmatched]; n > 0 {
		parts = append(parts, several(n, "acceptance matches no finding", "acceptances match no finding"))
	}
	if len(parts) == 0 {
		return ""
	}
	return upper(strings.Join(parts, "; ")) + "."
}

func (p *page) acceptedShort() md {
	if s := acceptedLine(p.Result); s != "" {
		return say("%s See [which, why and until when](#accepted).", s)
	}
	return ""
}
