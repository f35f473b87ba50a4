package result

import "slices"

// Changes is what differs between two audits of one folder. Each finding of the later
// one stands in New, Graded, Resized or Open once, each of the earlier one in Closed,
// Graded, Resized or Open once. Lists are in the order of the later audit, those of what
// is gone in the order of the earlier one.
type Changes struct {
	New     []Finding
	Closed  []Closed
	Graded  []Pair // still open, at another grade
	Resized []Pair // still open at the same grade, about more or fewer things, told in other words, or accepted or no longer
	Open    []Finding

	Conclusion *ConclusionPair // nil where it reads the same
	Checks     []CheckPair     // whose outcome changed
	Counts     CountsPair
	Files      []FilePair // that were changed, came or went, by name
}

// Closed is a finding that the later audit no longer gives. Unseen says that its check
// now sees less, or nothing, or that there are fewer rows of a kind that it rested on: it
// may be gone because of that alone.
type Closed struct {
	Finding
	Unseen bool
}

// Pair is one finding in two audits.
type Pair struct{ Before, After Finding }

// ConclusionPair is the conclusion of two audits.
type ConclusionPair struct{ Before, After Conclusion }

// CountsPair is the counts of two audits.
type CountsPair struct{ Before, After Counts }

// CheckPair is the outcome of one check in two audits; "" where one does not have it.
type CheckPair struct{ ID, Title, Before, After string }

// FilePair is one file of records, data-logger file or file that was not read, in two audits; nil
// where it was not there.
type FilePair struct {
	Name          string
	Before, After *FileState
}

// FileState is what an audit made of one file.
type FileState struct {
	SHA256   string // "" for what was not read
	Rows     int    // of records; 0 for a data-logger file
	SetAside int
	Unread   string // why it is no file of records; "" where it is one
	Trace    bool
}

// Compare says what changed from one audit to a later one of the same practice.
// Findings are the same if check, subject and matter are; words and places do not count
// for that. It changes neither.
func Compare(before, after *Result) Changes {
	c := Changes{Counts: CountsPair{before.Counts, after.Counts}}
	c.findings(before, after)
	if a, b := before.Conclusion, after.Conclusion; a.Stop != b.Stop || a.Sentence != b.Sentence || a.Unseen != b.Unseen {
		c.Conclusion = &ConclusionPair{a, b}
	}
	c.checks(before, after)
	c.files(before, after)
	return c
}

// Same reports whether the two audits say the same: findings, outcomes, counts and
// conclusion. Of how many a finding was found does not count. Files may have changed all
// the same, in what no check looks at.
func (c *Changes) Same() bool {
	return len(c.New)+len(c.Closed)+len(c.Graded)+len(c.Resized)+len(c.Checks) == 0 && c.Conclusion == nil && c.Counts.Before == c.Counts.After
}

// findings pairs those of one fingerprint first where they read the same, then at the
// same grade, then at another.
func (c *Changes) findings(before, after *Result) {
	partner := pairs(before.Findings, after.Findings)
	taken := make([]bool, len(before.Findings))
	for i, f := range after.Findings {
		at := partner[i]
		if at < 0 {
			c.New = append(c.New, f)
			continue
		}
		taken[at] = true
		switch was := before.Findings[at]; {
		case was.Grade != f.Grade:
			c.Graded = append(c.Graded, Pair{was, f})
		case was.Extent.N != f.Extent.N, was.Summary != f.Summary, was.Accepted != f.Accepted:
			c.Resized = append(c.Resized, Pair{was, f})
		default:
			c.Open = append(c.Open, f)
		}
	}
	sees, had, has := seen(before, after), rows(before), rows(after)
	for i, f := range before.Findings {
		if !taken[i] {
			c.Closed = append(c.Closed, Closed{f, !sees[f.Check] || slices.ContainsFunc(f.Evidence, func(e Evidence) bool { return had[e.Kind] > has[e.Kind] })})
		}
	}
}

// pairs gives for each later finding the place of the earlier one that it is, -1 for none.
func pairs(before, after []Finding) []int {
	partner := make([]int, len(after))
	left := map[string][]int{} // fingerprint → places of the earlier ones without a partner
	for i, f := range before {
		left[f.Fingerprint] = append(left[f.Fingerprint], i)
	}
	take := func(f Finding, fits func(was Finding) bool) int {
		open := left[f.Fingerprint]
		n := slices.IndexFunc(open, func(i int) bool { return fits(before[i]) })
		if n < 0 {
			return -1
		}
		at := open[n]
		left[f.Fingerprint] = slices.Delete(open, n, n+1)
		return at
	}
	for i := range after {
		partner[i] = -1
	}
	for _, fits := range []func(was, is Finding) bool{
		func(was, is Finding) bool { return was.Grade == is.Grade && was.Summary == is.Summary },
		func(was, is Finding) bool { return was.Grade == is.Grade },
		func(Finding, Finding) bool { return true },
	} {
		for i, f := range after {
			if partner[i] < 0 {
				partner[i] = take(f, func(was Finding) bool { return fits(was, f) })
			}
		}
	}
	return partner
}

// seen are the checks that see no less in the later audit. What fell short may have gone
// for good, a pack that was thrown out; what else is not judged any more is a loss of sight.
func seen(before, after *Result) map[string]bool {
	unjudged, judged := map[string]int{}, map[string]int{}
	for _, c := range before.Checks {
		unjudged[c.ID] = c.Counts.NotAssessed
		judged[c.ID] = c.Counts.Conforming + c.Counts.Nonconforming
	}
	for _, f := range before.Findings {
		judged[f.Check] -= f.Extent.N
	}
	sees := map[string]bool{}
	for _, c := range after.Checks {
		looked := c.Outcome == Conforming || c.Outcome == Nonconforming
		sees[c.ID] = looked && c.Counts.NotAssessed <= unjudged[c.ID] && c.Counts.Conforming+c.Counts.Nonconforming >= judged[c.ID]
	}
	return sees
}

func (c *Changes) checks(before, after *Result) {
	earlier := map[string]Check{}
	for _, k := range before.Checks {
		earlier[k.ID] = k
	}
	for _, k := range after.Checks {
		if was := earlier[k.ID]; was.Outcome != k.Outcome {
			c.Checks = append(c.Checks, CheckPair{k.ID, k.Title, was.Outcome, k.Outcome})
		}
		delete(earlier, k.ID)
	}
	for _, k := range before.Checks {
		if _, gone := earlier[k.ID]; gone {
			c.Checks = append(c.Checks, CheckPair{k.ID, k.Title, k.Outcome, ""})
		}
	}
}

// rows are how many rows of each kind were read, and how many data-logger files.
func rows(r *Result) map[string]int {
	n := map[string]int{"traces": len(r.Traces)}
	for _, f := range r.Intake {
		n[f.Kind] += f.Accepted
	}
	return n
}
