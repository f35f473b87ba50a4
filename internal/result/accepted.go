package result

import "strings"

// How an acceptance stands on the day of the audit.
const (
	AcceptedInForce   = "in force"
	AcceptedEnded     = "ended"
	AcceptedUnmatched = "matches no finding"
)

// Means reports whether an acceptance names a finding: by its fingerprint, or all that a
// check finds by the check. Capitals do not count.
func (a Accepted) Means(f *Finding) bool {
	return strings.EqualFold(a.Finding, f.Fingerprint) || strings.EqualFold(a.Finding, f.Check)
}

// AcceptedBy is the acceptance that holds for a finding, else the one that ended last; nil
// where none names it.
func (r *Result) AcceptedBy(f *Finding) *Accepted {
	var best *Accepted
	for i := range r.Accepted {
		a := &r.Accepted[i]
		if a.Means(f) && (best == nil || a.Until > best.Until) {
			best = a
		}
	}
	return best
}
