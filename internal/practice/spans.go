package practice

import (
	"unsafe"

	"footing/internal/quantity"
	"footing/internal/record"
)

// spans are the pairs of fields of which the second cannot lie before the first.
var spans = []struct{ kind, from, to string }{
	{"people", "started_on", "ended_on"},
	{"credentials", "valid_from", "valid_until"},
	{"policies", "effective_on", "review_on"},
	{"sites", "opened_on", "closed_on"},
	{"clients", "first_visit_on", "last_visit_on"},
	{"histories", "taken_on", "next_review_on"},
	{"consents", "given_on", "expires_on"},
	{"consents", "given_on", "withdrawn_on"},
	{"visits", "started", "ended"},
	{"visits", "started", "signed_on"},
	{"visits", "started", "countersigned_on"},
	{"referrals", "sent_on", "outcome_on"},
	{"instruments", "acquired_on", "retired_on"},
	{"cleanings", "started", "ended"},
	{"sterilizers", "installed_on", "retired_on"},
	{"equipment", "installed_on", "retired_on"},
	{"loads", "started", "ended"},
	{"packs", "opened_at", "discarded_on"},
	{"tests", "run_at", "incubated_at"},
	{"tests", "run_at", "read_at"},
	{"tests", "run_at", "reported_on"},
	{"baths", "mixed_on", "discard_on"},
	{"soaks", "in_at", "out_at"},
	{"upkeep", "done_on", "next_due_on"},
	{"products", "opened_on", "discard_on"},
	{"waste", "opened_on", "closed_on"},
	{"waste", "opened_on", "collected_on"},
	{"incidents", "occurred_on", "recorded_on"},
	{"incidents", "occurred_on", "follow_up_on"},
	{"incidents", "occurred_on", "closed_on"},
	{"complaints", "received_on", "acknowledged_on"},
	{"complaints", "received_on", "answered_on"},
	{"complaints", "received_on", "closed_on"},
	{"complaints", "about_from", "about_until"},
	{"actions", "done_on", "verified_on"},
}

// Span is a row's beginning and end, both written.
type Span struct {
	Row       *record.Row
	From, To  string // fields
	Began     quantity.Day
	Ended     quantity.Day
	Backwards quantity.Tri // whether it ends before it begins; Unsure where that hangs on an hour not written
}

// EachSpan yields the spans of all judged rows whose both ends are written, in
// the order of kinds, pairs and rows.
func (p *Practice) EachSpan(yield func(Span) bool) {
	for i := range shapes() {
		s := &shapes()[i]
		all := s.rows(&p.Records)
		for _, pair := range spans {
			if pair.kind != s.kind.Name {
				continue
			}
			from, to := fieldOf(s.elem, pair.from), fieldOf(s.elem, pair.to)
			for i := range all.count {
				v := all.at(i)
				began, ended := from.day(v), to.day(v)
				if !began.Written() || !ended.Written() {
					continue
				}
				if !yield(Span{Row: s.row.row(v), From: pair.from, To: pair.to, Began: began, Ended: ended, Backwards: backwards(from, to, v)}) {
					return
				}
			}
		}
	}
}

// backwards compares two days, two moments, or one of each by their days.
func backwards(from, to field, row unsafe.Pointer) quantity.Tri {
	if a, b := from.moment(row), to.moment(row); a != nil && b != nil {
		return quantity.Before(*b, *a)
	}
	if to.day(row) < from.day(row) {
		return quantity.Yes
	}
	return quantity.No
}
