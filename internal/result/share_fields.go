package result

import (
	"reflect"
	"strings"
)

// How a text of a document is treated.
type treatment int

const (
	asTyped  treatment = iota // by hand: every id in it is replaced. What no table names is this
	asSaid                    // ours, and may name someone: "client C-7", "first aid of P-01"
	asSpoken                  // ours, and names nobody: an id is replaced only where it is like no word
	asIs                      // ours, without any id
)

// ours are the texts that no hand typed, by struct and field, or by field where it means the
// same everywhere.
var ours = treatments()

func treatments() map[string]treatment {
	table := map[string]treatment{}
	put := func(t treatment, names string) {
		for _, n := range strings.Fields(names) {
			table[n] = t
		}
	}
	put(asSaid, `Words Says Now Shares How Shows What Lacks State Missing Headline Rule.When Note`)
	put(asSpoken, `Summary Steps Verify Title Things Thing Why Fix Text Check.Reason Sentence Unseen Decides Limits Look Question Topic
		Matter Columns Without Grades Layout Rule.Theirs InWindow.Packs InWindow.Counter Month.Missing Gear.Size
		Limit.About Limit.After Limit.Before Limit.Name`)
	put(asIs, `Format Tool AsOf On From Until Since RuleSet TimeZone RenewalOn InspectionOn SHA256 Encoding Delimiter Kind Grade Outcome
		Check Checks Criteria Field Near Unit Known Level Section Body Edition Year Read Verdict Month Test Spore AirRemoval Leak Start
		PressureFrom Conforming First Last FirstSeen LastSeen GoneOn DueOn DoneOn VerifiedOn Received ReplyBy Counted Rests Where Shared
		Coverage.Share By Left Free Item Failed Weakest Decision Practice.Name Practice.Regulator Practice.Jurisdiction Criterion.ID Criterion.When
		Criterion.Value Criterion.Set Criterion.Source SetVerdict.Set SetVerdict.Value SetVerdict.Source Source.ID Source.Title
		Rule.Criterion Rule.Ours Figure.Name Window.Name Link.Name TrailLink.Name Check.ID Exhibit.ID`)
	put(asTyped, "Declaration.Text Rule.Note NotRead.Why Trace.Why") // typed, under names that are ours elsewhere
	return table
}

func treated(owner, field string) treatment {
	if t, ok := ours[owner+"."+field]; ok {
		return t
	}
	return ours[field]
}

// idKind is the kind of the id, or list of ids, that a field holds by itself.
func idKind(st reflect.Value, field string) (string, bool) {
	switch owner := st.Type().Name(); owner + "." + field {
	case "Accepted.By", "Gear.People":
		return "people", true
	case "Subject.ID", "Evidence.ID", "Asked.ID", "Lookback.ID":
		return st.FieldByName("Kind").String(), true
	case "Due.Record":
		return st.FieldByName("Kind").String(), true
	case "Action.ID":
		return "actions", true
	case "Purpose.Complaint":
		return "complaints", true
	case "Trail.Drawn":
		return "visits", true
	}
	kind, ok := map[string]string{"Client": "clients", "Person": "people", "Visit": "visits", "Load": "loads", "Pack": "packs", "Sterilizer": "sterilizers", "Site": "sites", "Program": "programs"}[field]
	f := st.FieldByName(field)
	return kind, ok && (f.Kind() == reflect.String || f.Type() == reflect.TypeFor[[]string]())
}

// markFields hold fingerprints.
var markFields = map[string]bool{"Finding.Fingerprint": true, "Followed.Finding": true, "Gone.Finding": true, "Conclusion.Stops": true, "Chart.Findings": true, "Accepted.Finding": true, "Action.Finding": true}
