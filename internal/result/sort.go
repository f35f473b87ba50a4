package result

import (
	"cmp"
	"slices"
	"strings"
)

// GradeRank orders the grades: critical 4, major 3, minor 2, observation 1, any
// other word 0.
func GradeRank(grade string) int {
	return slices.Index([]string{Observation, Minor, Major, Critical}, grade) + 1
}

// GradeWeight is what a check that could look would be worth by its grade when an audit
// chooses what to keep next: 8, 4, 2 and 1, for any other word 0.
func GradeWeight(grade string) float64 {
	return float64(int(1) << GradeRank(grade) / 2)
}

// Sort puts every list of r into the order in which reports print it. Findings
// go by grade, critical first, then check, subject, matter and first place;
// checks, sources, rules and files by name; due things by day; missing kinds and
// reasons by how much hangs on them. Lists whose order says something are left
// as they are: steps, evidence, headings, headline, exhibit rows, declarations, and
// the
// charts of data-logger files, which come worst first and follow the tables.
func Sort(r *Result) {
	slices.SortStableFunc(r.Findings, compareFindings)
	slices.SortStableFunc(r.Checks, func(a, b Check) int { return cmp.Compare(a.ID, b.ID) })
	for i := range r.Checks {
		sortCheck(&r.Checks[i])
	}
	for i := range r.Findings {
		slices.SortStableFunc(r.Findings[i].Verdicts, func(a, b SetVerdict) int { return cmp.Compare(a.Set, b.Set) })
	}
	sortStops(r)
	slices.SortStableFunc(r.Rules, func(a, b Rule) int {
		return cmp.Or(cmp.Compare(a.Criterion, b.Criterion), cmp.Compare(a.When, b.When), cmp.Compare(a.Source, b.Source))
	})
	slices.SortStableFunc(r.Accepted, func(a, b Accepted) int {
		return cmp.Or(cmp.Compare(a.Finding, b.Finding), cmp.Compare(a.Until, b.Until))
	})
	slices.SortStableFunc(r.Sources, func(a, b Source) int { return cmp.Compare(a.ID, b.ID) })
	slices.SortStableFunc(r.Intake, func(a, b File) int {
		return cmp.Or(cmp.Compare(a.File, b.File), cmp.Compare(a.Kind, b.Kind))
	})
	slices.SortStableFunc(r.NotRead, func(a, b NotRead) int { return cmp.Compare(a.File, b.File) })
	slices.SortStableFunc(r.Figures, func(a, b Figure) int {
		return cmp.Or(cmp.Compare(a.Check, b.Check), cmp.Compare(a.Name, b.Name))
	})
	slices.SortStableFunc(r.Traces, func(a, b Trace) int { return cmp.Compare(a.File, b.File) })
	slices.SortStableFunc(r.Exhibits, compareExhibits)
	slices.SortStableFunc(r.Due, func(a, b Due) int {
		return cmp.Or(cmp.Compare(a.On, b.On), cmp.Compare(a.Kind, b.Kind), cmp.Compare(a.ID, b.ID),
			cmp.Compare(a.Record, b.Record), cmp.Compare(a.What, b.What))
	})
	slices.SortStableFunc(r.Actions, compareActions)
	sortChains(r)
	slices.SortStableFunc(r.Gear, compareGear)
	if r.NextField != nil {
		slices.Sort(r.NextField.Checks)
	}
}

func sortCheck(c *Check) {
	slices.SortStableFunc(c.Grades, func(a, b string) int { return cmp.Compare(GradeRank(b), GradeRank(a)) })
	slices.Sort(c.Criteria)
	slices.SortStableFunc(c.Missing, func(a, b Missing) int {
		return cmp.Or(cmp.Compare(b.Subjects, a.Subjects), cmp.Compare(a.Kind, b.Kind), cmp.Compare(a.Field, b.Field))
	})
	slices.SortStableFunc(c.Reasons, func(a, b Reason) int {
		return cmp.Or(cmp.Compare(b.Count, a.Count), cmp.Compare(a.Text, b.Text))
	})
}

func compareExhibits(a, b Exhibit) int {
	if drawn := a.Kind == Drawn; drawn || b.Kind == Drawn {
		return cmp.Compare(rank(drawn), rank(b.Kind == Drawn))
	}
	return cmp.Or(cmp.Compare(a.Check, b.Check), cmp.Compare(a.ID, b.ID))
}

func rank(later bool) int {
	if later {
		return 1
	}
	return 0
}

// sortStops lists the findings that say stop in the order of the findings.
func sortStops(r *Result) {
	at := make(map[string]int, len(r.Findings))
	for i, f := range r.Findings {
		if _, seen := at[f.Fingerprint]; !seen {
			at[f.Fingerprint] = i
		}
	}
	slices.SortStableFunc(r.Conclusion.Stops, func(a, b string) int {
		i, aKnown := at[a]
		j, bKnown := at[b]
		switch {
		case aKnown && bKnown:
			return cmp.Compare(i, j)
		case aKnown != bKnown && aKnown:
			return -1
		case aKnown != bKnown:
			return 1
		}
		return strings.Compare(a, b)
	})
}

func compareFindings(a, b Finding) int {
	return cmp.Or(
		cmp.Compare(GradeRank(b.Grade), GradeRank(a.Grade)),
		cmp.Compare(a.Check, b.Check),
		cmp.Compare(a.Subject.Kind, b.Subject.Kind),
		cmp.Compare(a.Subject.ID, b.Subject.ID),
		cmp.Compare(a.Matter, b.Matter),
		comparePlaces(a.Evidence, b.Evidence),
		cmp.Compare(a.Summary, b.Summary),
	)
}

// comparePlaces compares the first place of each; what has none comes first.
func comparePlaces(a, b []Evidence) int {
	if len(a) == 0 || len(b) == 0 {
		return cmp.Compare(len(a), len(b))
	}
	x, y := a[0], b[0]
	return cmp.Or(cmp.Compare(x.File, y.File), cmp.Compare(x.Sheet, y.Sheet), cmp.Compare(x.Row, y.Row),
		cmp.Compare(x.Line, y.Line), cmp.Compare(x.Column, y.Column), cmp.Compare(x.Field, y.Field))
}

func sortChains(r *Result) {
	slices.SortStableFunc(r.Lookback, func(a, b Lookback) int { return cmp.Or(cmp.Compare(a.Kind, b.Kind), cmp.Compare(a.ID, b.ID)) })
	slices.SortStableFunc(r.Days, func(a, b Day) int {
		return cmp.Or(cmp.Compare(a.Sterilizer, b.Sterilizer), cmp.Compare(a.On, b.On))
	})
	slices.SortStableFunc(r.Gaps, func(a, b Gap) int {
		return cmp.Or(cmp.Compare(a.Sterilizer, b.Sterilizer), cmp.Compare(a.Test, b.Test), cmp.Compare(a.From, b.From), cmp.Compare(a.Until, b.Until))
	})
	slices.SortStableFunc(r.Months, func(a, b Month) int {
		return cmp.Or(cmp.Compare(a.Sterilizer, b.Sterilizer), cmp.Compare(a.Month, b.Month))
	})
}
