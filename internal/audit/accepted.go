package audit

import (
	"strings"

	"footing/internal/practice"
	"footing/internal/result"
)

// accept marks the findings that the practice accepts for a time. It changes no grade,
// outcome or count.
func accept(r *result.Result, p *practice.Practice) {
	for _, a := range p.Rules.Accepted {
		out := result.Accepted{Finding: strings.TrimSpace(a.Finding), Reason: a.Reason, By: a.By, Until: a.Until.String(), State: result.AcceptedUnmatched}
		for i := range r.Findings {
			if !out.Means(&r.Findings[i]) {
				continue
			}
			out.State = result.AcceptedEnded
			if a.Until >= p.AsOf {
				out.State, r.Findings[i].Accepted = result.AcceptedInForce, true
			}
		}
		r.Accepted = append(r.Accepted, out)
	}
}

// coverage is what the practice wrote of how much of each kind is in the folder.
func coverage(p *practice.Practice) (out []result.Coverage) {
	for _, c := range p.Profile.Coverage {
		out = append(out, result.Coverage{Kind: c.Kind, From: c.From.String(), Until: c.Until.String(), Share: c.Share})
	}
	return out
}
