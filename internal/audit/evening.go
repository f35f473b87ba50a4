package audit

// FirstEvening are the kinds that a practice can type in about two hours, in the order of
// typing: enough for a useful first audit.
func FirstEvening() []string {
	return []string{"practice", "sites", "people", "credentials", "sterilizers", "programs", "upkeep", "loads", "tests", "stock", "instruments"}
}

// Typing is what is usually typed of a kind: how many fields of a row, and how many rows a
// practice with one sterilizer and about 20 visits a week has for 13 weeks, where its own
// records say nothing of it. Our estimate: common practice, no source.
type Typing struct{ Fields, Rows int }

// Seconds is how long typing so many rows takes, at five seconds to find a value on the
// paper and type it, and five to turn to the next row: our estimate, as it is.
func (t Typing) Seconds(rows int) int { return rows * (t.Fields + 1) * 5 }

const typedWeeks = 13

var typing = map[string]Typing{
	"practice": {12, 1}, "people": {4, 2}, "credentials": {6, 8}, "sites": {3, 1}, "sterilizers": {9, 1}, "programs": {6, 2}, "upkeep": {5, 3},
	"loads": {10, 4 * typedWeeks}, "tests": {8, typedWeeks}, "stock": {6, 15}, "instruments": {7, 20}, "visits": {9, 20 * typedWeeks}, "clients": {3, 60},
	"screens": {6, 60}, "histories": {8, 60}, "consents": {4, 60}, "packs": {6, 24 * typedWeeks}, "policies": {5, 12}, "products": {6, 12}, "observations": {5, 4},
}

// TypingOf gives the estimate for a kind; told is false for a kind whose rows come as
// things happen, of which a few are assumed.
func TypingOf(kind string) (t Typing, told bool) {
	if t, told = typing[kind]; !told {
		t = Typing{6, 10}
	}
	return t, told
}
