package report

import (
	"regexp"
	"slices"
	"strconv"

	"footing/internal/result"
)

// index is a result with what its pages look up. Markdown and HTML build it
// alike, so that the keys of the fences mean the same to both.
type index struct {
	*result.Result
	check    map[string]*result.Check
	source   map[string]*result.Source
	order    []int                      // findings as printed: by grade, within it as the result has them
	number   []int                      // finding → its number in print, from 1
	key      []string                   // finding → key of its evidence, once in a report
	byKey    map[string]int             // key → finding
	figures  map[string][]result.Figure // check → its figures
	figureAt map[string]string          // key of a fence → the check whose figures it holds
	exhibit  map[string]int             // key of a fence → the exhibit it holds
	charts   []int                      // exhibits with a chart, as the result has them: worst first
	drawnAs  map[string][]int           // fingerprint → the charts it rests on, by their place in charts

	calendars       []*calendar    // one a sterilizer
	calendarAt      map[string]int // key of a fence → the calendar it holds
	withoutCalendar int            // sterilizers that have none
}

var fingerprintForm = regexp.MustCompile(`^[0-9a-f]{12}$`)
var exhibitForm = regexp.MustCompile(`^[A-Za-z0-9][A-Za-z0-9._/-]{0,80}$`)

func newIndex(r *result.Result) *index {
	ix := &index{Result: r,
		check: map[string]*result.Check{}, source: map[string]*result.Source{}, byKey: map[string]int{},
		figures: map[string][]result.Figure{}, figureAt: map[string]string{}, exhibit: map[string]int{}, drawnAs: map[string][]int{},
		number: make([]int, len(r.Findings)), key: make([]string, len(r.Findings))}
	for i := range r.Checks {
		ix.check[r.Checks[i].ID] = &r.Checks[i]
	}
	for i := range r.Sources {
		ix.source[r.Sources[i].ID] = &r.Sources[i]
	}
	for i := range r.Findings {
		ix.order = append(ix.order, i)
	}
	slices.SortStableFunc(ix.order, func(a, b int) int {
		return result.GradeRank(r.Findings[b].Grade) - result.GradeRank(r.Findings[a].Grade)
	})
	for n, i := range ix.order {
		ix.number[i] = n + 1
		key := r.Findings[i].Fingerprint
		if _, taken := ix.byKey[key]; taken || !fingerprintForm.MatchString(key) {
			key = "number-" + strconv.Itoa(n+1)
		}
		ix.key[i] = key
		ix.byKey[key] = i
	}
	for _, f := range r.Figures {
		ix.figures[f.Check] = append(ix.figures[f.Check], f)
	}
	for check := range ix.figures {
		ix.figureAt[ix.figureKey(check)] = check
	}
	for i := range r.Exhibits {
		ix.exhibit[ix.exhibitKey(i)] = i
	}
	ix.chartsOf(r)
	ix.calendars, ix.withoutCalendar = calendarsOf(r)
	ix.calendarAt = map[string]int{}
	for n := range ix.calendars {
		ix.calendarAt[calendarKey(n)] = n
	}
	return ix
}

// chartsOf numbers the charts and notes the findings that rest on each.
func (ix *index) chartsOf(r *result.Result) {
	for i, x := range r.Exhibits {
		if x.Chart == nil {
			continue
		}
		for _, f := range x.Chart.Findings {
			if at := ix.drawnAs[f]; len(at) == 0 || at[len(at)-1] != len(ix.charts) {
				ix.drawnAs[f] = append(at, len(ix.charts))
			}
		}
		ix.charts = append(ix.charts, i)
	}
}

// exhibitKey is the id of an exhibit where it can stand in a fence and is not
// taken, else its number.
func (ix *index) exhibitKey(i int) string {
	id := ix.Exhibits[i].ID
	if first := slices.IndexFunc(ix.Exhibits, func(x result.Exhibit) bool { return x.ID == id }); first < i || !exhibitForm.MatchString(id) {
		return "exhibit:" + strconv.Itoa(i+1)
	}
	return id
}

// figureKey names the figures of a check in a fence; a name that cannot stand there
// is replaced by the number of its first figure.
func (ix *index) figureKey(check string) string {
	if exhibitForm.MatchString(check) {
		return "numbers:" + check
	}
	at := slices.IndexFunc(ix.Figures, func(f result.Figure) bool { return f.Check == check })
	return "numbers:number-" + strconv.Itoa(at+1)
}

// link points to a finding by its number.
func (ix *index) link(i int) md {
	return say("[finding %s](#f-%s)", ix.number[i], md(ix.key[i]))
}

// title of a check, or its id where the result does not hold it.
func (ix *index) title(id string) string {
	if c := ix.check[id]; c != nil && c.Title != "" {
		return c.Title
	}
	return id
}
