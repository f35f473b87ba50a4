package result

import (
	"bytes"
	"fmt"
	"slices"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// wholeSince has every field set.
func wholeSince() *Since {
	gone := Gone{Finding: "00aa11bb22cc", Check: "a/b", Grade: Minor, Subject: Subject{"sites", "clinic"}, Summary: "s", Accepted: true,
		FirstSeen: "2026-08-01", LastSeen: "2026-09-02", GoneOn: "2026-11-25", Unseen: true, Rule: true}
	return &Since{AsOf: "2026-09-02", Tool: "footing 0.1", Sentence: "Nothing says stop.", Unseen: "all was seen", Counts: Counts{Checks: 1},
		Findings: []Followed{{Finding: "00aa11bb22cc", Grade: Major, State: Still, From: "2026-08-01", Was: &Was{Minor, 1, 2, true}, Rule: true},
			{Finding: "00aa11bb22cd", Grade: Major, State: Again, From: "2026-11-25", GoneOn: "2026-09-02"}},
		Closed: []Gone{gone}, Earlier: []Gone{gone}, Limits: []Limit{{LimitRows, "loads", "3", "2", 0}}}
}

// reading is an audit of a day with one finding a check named; every check of the letters looked.
func reading(day string, checks ...string) *Result {
	r := &Result{Format: Format, Tool: "footing 0.1", AsOf: day, Purpose: Purpose{Kind: "self-audit"}}
	for _, id := range checks {
		r.Findings = append(r.Findings, one(id, Minor, 1))
	}
	for _, id := range []string{"a/a", "b/b", "c/c", "d/d", "e/e"} {
		outcome := Conforming
		if slices.Contains(checks, id) {
			outcome = Nonconforming
		}
		r.Checks = append(r.Checks, Check{ID: id, Title: "title of " + id, Outcome: outcome, Criteria: []string{"crit." + id[:1]}})
	}
	return r
}

func stood(s *Since) (out []string) {
	for _, f := range s.Findings {
		out = append(out, f.State+" from "+f.From)
	}
	return out
}

func goneNames(all []Gone) (out []string) {
	for _, g := range all {
		out = append(out, g.Check)
	}
	return out
}

func TestFollowAChainOfThree(t *testing.T) {
	first := reading("2026-03-01", "a/a", "b/b", "c/c")
	second := Follow(first, reading("2026-06-01", "b/b", "d/d"))
	third := Follow(second, reading("2026-09-01", "a/a", "b/b", "e/e"))
	assert.Equal(t, []string{"still open from 2026-03-01", "new from 2026-06-01"}, stood(second.Since))
	assert.Equal(t, []string{"a/a", "c/c"}, goneNames(second.Since.Closed))
	assert.Equal(t, []string{"found again from 2026-09-01", "still open from 2026-03-01", "new from 2026-09-01"}, stood(third.Since))
	assert.Equal(t, "2026-06-01", third.Since.Findings[0].GoneOn)
	assert.Equal(t, []string{"2026-03-01", "2026-03-01", "2026-09-01"}, []string{third.Findings[0].FirstSeen, third.Findings[1].FirstSeen, third.Findings[2].FirstSeen})
	assert.Equal(t, []string{"d/d"}, goneNames(third.Since.Closed))
	assert.Equal(t, []string{"c/c"}, goneNames(third.Since.Earlier))
	c := third.Since.Earlier[0]
	assert.Equal(t, []string{"2026-03-01", "2026-03-01", "2026-06-01"}, []string{c.FirstSeen, c.LastSeen, c.GoneOn})
	// What came back and stays is open since it came back; it was first seen long before.
	fourth := Follow(third, reading("2026-12-01", "a/a"))
	assert.Equal(t, []string{"still open from 2026-09-01"}, stood(fourth.Since))
	assert.Equal(t, "2026-03-01", fourth.Findings[0].FirstSeen)
	// The first beside the third: the third knows that a went and came back between.
	across := Follow(first, third)
	assert.Equal(t, []string{"found again from 2026-09-01", "still open from 2026-03-01", "new from 2026-09-01"}, stood(across.Since))
	assert.Equal(t, []string{"c/c"}, goneNames(across.Since.Closed))
}

// A finding is followed from grade to grade.
func TestFollowAnotherGradeAndNumber(t *testing.T) {
	a, b := reading("2026-03-01", "a/a"), reading("2026-06-01", "a/a")
	b.Findings[0] = one("a/a", Critical, 3)
	a.Findings[0].Accepted = true
	f := Follow(a, b).Since.Findings[0]
	assert.Equal(t, Followed{Finding: b.Findings[0].Fingerprint, Grade: Critical, State: Still, From: "2026-03-01", Was: &Was{Minor, 1, 2, true}}, f)
}

func TestFollowSaysWhatMayHaveAnotherCause(t *testing.T) {
	a, b := reading("2026-03-01", "a/a", "b/b"), reading("2026-06-01", "c/c", "d/d")
	a.Checks[2].Outcome = NotAssessed // c could not look
	b.Checks[0].Outcome = NotAssessed // a cannot
	b.Rules = []Rule{{Criterion: "crit.b", Ours: "3", Theirs: "4"}, {Criterion: "crit.d", Ours: "3", Theirs: "4"}}
	s := Follow(a, b).Since
	assert.Equal(t, []bool{true, false}, []bool{s.Findings[0].Unseen, s.Findings[1].Unseen})
	assert.Equal(t, []bool{false, true}, []bool{s.Findings[0].Rule, s.Findings[1].Rule})
	assert.Equal(t, []bool{true, false}, []bool{s.Closed[0].Unseen, s.Closed[1].Unseen})
	assert.Equal(t, []bool{false, true}, []bool{s.Closed[0].Rule, s.Closed[1].Rule})
	b.Rules, b.RuleSet = nil, "another"
	s = Follow(a, b).Since
	assert.True(t, s.Closed[0].Rule && s.Closed[1].Rule && s.Findings[0].Rule)
}

func TestLimits(t *testing.T) {
	base := func() *Result {
		r := reading("2026-06-01", "a/a")
		r.Practice.Name, r.RuleSet, r.Seed, r.Purpose.On = "Heron Lane", "ours", 1, "2027-01-06"
		r.Period = Period{"2026-01-01", "2026-05-31 10:00"}
		r.Rules = []Rule{{Criterion: "crit.a", Ours: "3", Theirs: "4"}, {Criterion: "scope", Theirs: "permits x"}, {Criterion: "scope", Theirs: "permits y"}}
		r.Intake = []File{{File: "loads.csv", Kind: "loads", Accepted: 9}}
		r.Coverage = []Coverage{{"loads", "2026-01-01", "", "all"}}
		return r
	}
	for name, c := range map[string]struct {
		change func(before, after *Result)
		want   []Limit
	}{
		"none":               {func(_, b *Result) {}, nil},
		"a day later":        {func(_, b *Result) { b.AsOf, b.Period.Until = "2026-06-02", "2026-06-01 09:00" }, nil},
		"name":               {func(_, b *Result) { b.Practice.Name = "Tern Quay" }, []Limit{{About: LimitPractice, Before: "Heron Lane", After: "Tern Quay"}}},
		"name, spaces alone": {func(_, b *Result) { b.Practice.Name += " " }, nil},
		"one day":            {func(_, b *Result) { b.Findings = nil }, []Limit{{About: LimitSameDay, Before: "2026-06-01", After: "2026-06-01"}}},
		"shared":             {func(_, b *Result) { b.AsOf, b.Shared, b.Findings = "2026-07-01", "a copy", nil }, []Limit{{About: LimitShared}}},
		"shared, the same":   {func(a, b *Result) { a.Shared, b.Shared = "a copy", "a copy" }, nil},
		"tool":               {func(_, b *Result) { b.Tool = "footing 0.2" }, []Limit{{About: LimitTool, Before: "footing 0.1", After: "footing 0.2"}}},
		"rule set":           {func(_, b *Result) { b.RuleSet = "" }, []Limit{{About: LimitRuleSet, Before: "ours"}}},
		"rule":               {func(_, b *Result) { b.Rules[0].Theirs = "5" }, []Limit{{LimitCriterion, "crit.a", "4", "5", 2}}},
		"rule, its words":    {func(_, b *Result) { b.Rules[0].Note = "letter" }, nil},
		"rule taken back":    {func(_, b *Result) { b.Rules = b.Rules[1:] }, []Limit{{LimitCriterion, "crit.a", "4", "3", 2}}},
		"a grant less":       {func(_, b *Result) { b.Rules = b.Rules[:2] }, []Limit{{LimitCriterion, "scope", "permits y", "", 0}}},
		"check gone":         {func(_, b *Result) { b.AsOf, b.Checks, b.Findings = "2026-07-01", b.Checks[1:], nil }, []Limit{{LimitCheck, "title of a/a", Nonconforming, "", 1}}},
		"check new":          {func(a, b *Result) { b.AsOf, a.Checks = "2026-07-01", a.Checks[:4] }, []Limit{{LimitCheck, "title of e/e", "", Conforming, 0}}},
		"blind now":          {func(_, b *Result) { b.AsOf, b.Checks[0].Outcome, b.Findings = "2026-07-01", Broken, nil }, []Limit{{LimitSight, "title of a/a", Nonconforming, Broken, 1}}},
		"seeing now":         {func(a, b *Result) { b.AsOf, a.Checks[1].Outcome = "2026-07-01", NotAssessed }, []Limit{{LimitSight, "title of b/b", NotAssessed, Conforming, 0}}},
		"coverage":           {func(_, b *Result) { b.Coverage[0].Share = "some" }, []Limit{{LimitCoverage, "loads", "all 2026-01-01/", "some 2026-01-01/", 0}}},
		"no coverage":        {func(_, b *Result) { b.Coverage = nil }, []Limit{{LimitCoverage, "loads", "all 2026-01-01/", "", 0}}},
		"begins later":       {func(_, b *Result) { b.Period.From = "2026-01-02" }, []Limit{{LimitPeriod, "", "2026-01-01/2026-05-31 10:00", "2026-01-02/2026-05-31 10:00", 0}}},
		"begins earlier":     {func(_, b *Result) { b.Period.From = "2025-12-31" }, nil},
		"no day in common": {func(_, b *Result) { b.Period = Period{"2025-01-01", "2025-12-31"} },
			[]Limit{{LimitPeriod, "", "2026-01-01/2026-05-31 10:00", "2025-01-01/2025-12-31", 0}}},
		"a row less": {func(_, b *Result) { b.AsOf, b.Intake[0].Accepted = "2026-07-01", 8 }, []Limit{{LimitRows, "loads", "9", "8", 0}}},
		"a row more": {func(_, b *Result) { b.AsOf, b.Intake[0].Accepted = "2026-07-01", 10 }, nil},
		"horizon":    {func(_, b *Result) { b.Purpose.On = "2027-02-06" }, []Limit{{About: LimitHorizon, Before: "2027-01-06", After: "2027-02-06"}}},
		"seed":       {func(_, b *Result) { b.Seed = 2 }, []Limit{{About: LimitSeed}}},
	} {
		a, b := base(), base()
		c.change(a, b)
		assert.Equal(t, c.want, Follow(a, b).Since.Limits, name)
	}
}

// drawn is a reading of one day with any of five findings, one grade each.
func drawn(t *rapid.T, day, label string) (*Result, []string) {
	var checks []string
	for _, id := range []string{"a/a", "b/b", "c/c", "d/d", "e/e"} {
		if rapid.Bool().Draw(t, label+id) {
			checks = append(checks, id)
		}
	}
	return reading(day, checks...), checks
}

// What a reading found that was not followed from the one between came back, where the later
// one was followed from an earlier yet.
func TestFollowKnowsFromAnEarlierOne(t *testing.T) {
	a, b, c := reading("2026-03-01", "a/a"), reading("2026-06-01"), reading("2026-09-01", "a/a")
	r := Follow(b, Follow(a, c))
	assert.Equal(t, Followed{Finding: c.Findings[0].Fingerprint, Grade: c.Findings[0].Grade, State: Again, From: "2026-09-01", GoneOn: "2026-06-01"}, r.Since.Findings[0])
	assert.Equal(t, "2026-03-01", r.Findings[0].FirstSeen)
	for i := range b.Checks {
		b.Checks[i].Outcome = NotAssessed
	}
	r = Follow(b, Follow(a, c))
	assert.Equal(t, Fresh, r.Since.Findings[0].State, "nothing looked for it between")
	assert.True(t, r.Since.Findings[0].Unseen)
	assert.Equal(t, "2026-03-01", r.Findings[0].FirstSeen)
}

// Three readings of any findings: each is followed once, nothing is lost, and what is said
// of it is what the three show.
func TestFollowProperties(t *testing.T) {
	days := []string{"2026-03-01", "2026-06-01", "2026-09-01"}
	rapid.Check(t, func(t *rapid.T) {
		a, inA := drawn(t, days[0], "a")
		b, inB := drawn(t, days[1], "b")
		c, inC := drawn(t, days[2], "c")
		textA, textB := dump(t, a), dump(t, b)
		second := Follow(a, b)
		third := Follow(second, c)
		if dump(t, a) != textA || dump(t, b) != textB {
			t.Fatal("a reading was changed")
		}
		if len(third.Since.Findings) != len(inC) {
			t.Fatalf("%d findings, %d followed", len(inC), len(third.Since.Findings))
		}
		for i, id := range inC {
			was, before := slices.Contains(inB, id), slices.Contains(inA, id)
			state, from, gone := Fresh, days[2], ""
			first := days[2]
			switch {
			case was && before:
				state, from, first = Still, days[0], days[0]
			case was:
				state, from, first = Still, days[1], days[1]
			case before:
				state, gone, first = Again, days[1], days[0]
			}
			if f := third.Since.Findings[i]; f.State != state || f.From != from || f.GoneOn != gone || third.Findings[i].FirstSeen != first {
				t.Fatalf("%s: %+v, first seen %s", id, f, third.Findings[i].FirstSeen)
			}
		}
		var closed, earlier []string
		for _, id := range []string{"a/a", "b/b", "c/c", "d/d", "e/e"} {
			was, before, is := slices.Contains(inB, id), slices.Contains(inA, id), slices.Contains(inC, id)
			if was && !is {
				closed = append(closed, id)
			} else if before && !was && !is {
				earlier = append(earlier, id)
			}
		}
		if !slices.Equal(goneNames(third.Since.Closed), closed) || !slices.Equal(goneNames(third.Since.Earlier), earlier) {
			t.Fatalf("closed %v, earlier %v", goneNames(third.Since.Closed), goneNames(third.Since.Earlier))
		}
		var file bytes.Buffer
		require.NoError(t, Write(&file, third))
		text := file.String()
		back, err := Read(&file)
		require.NoError(t, err)
		if dump(t, back) != text {
			t.Fatal("what was written reads back as something else")
		}
		if fourth := Follow(back, c); dump(t, fourth) != dump(t, Follow(third, c)) {
			t.Fatal("a reading is remembered otherwise once it was written")
		}
	})
}

// Any two readings, also with one name at several grades: the same one says that nothing
// changed, and the way back mirrors the way there.
func TestFollowMirrors(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b := some(t, "a"), some(t, "b")
		self := Follow(a, a).Since
		if len(self.Closed)+len(self.Limits)+len(self.Earlier) > 0 || slices.ContainsFunc(self.Findings, func(f Followed) bool { return f.State != Still }) {
			t.Fatalf("a reading differs from itself: %+v", self)
		}
		there, back := Follow(a, b).Since, Follow(b, a).Since
		if !slices.Equal(fresh(there), gone(back)) || !slices.Equal(fresh(back), gone(there)) {
			t.Fatalf("%v %v\n%v %v", fresh(there), gone(back), fresh(back), gone(there))
		}
		if len(there.Limits) != len(back.Limits) && len(rowLimits(a, b))+len(rowLimits(b, a)) == 0 {
			t.Fatalf("%+v\n%+v", there.Limits, back.Limits)
		}
	})
}

func fresh(s *Since) (out []string) {
	for _, f := range s.Findings {
		if f.State == Fresh {
			out = append(out, f.Finding+f.Grade)
		}
	}
	slices.Sort(out)
	return out
}

func gone(s *Since) (out []string) {
	for _, g := range s.Closed {
		out = append(out, g.Finding+g.Grade)
	}
	slices.Sort(out)
	return out
}

// A huge reading is followed without each finding being sought among all others.
func TestFollowManyFindings(t *testing.T) {
	a, b := reading("2026-03-01"), reading("2026-06-01")
	for i := range 20000 {
		f := one("a/a", Minor, 1)
		f.Fingerprint = fmt.Sprintf("%012x", i)
		if i%2 == 0 {
			a.Findings = append(a.Findings, f)
		}
		if i%3 == 0 {
			b.Findings = append(b.Findings, f)
		}
	}
	s := Follow(Follow(a, b), a).Since
	assert.Len(t, s.Findings, 10000)
	assert.Len(t, s.Closed, 3333)
	assert.Empty(t, s.Earlier)
	again := 0
	for _, f := range s.Findings {
		if f.State == Again {
			again++
		}
	}
	assert.Equal(t, 6666, again)
}

func TestAcceptedMeans(t *testing.T) {
	f := one("a/a", Minor, 1)
	r := &Result{Accepted: []Accepted{{Finding: "b/b", Until: "2027-01-01"}, {Finding: "A/A", Until: "2026-02-01", Reason: "check"}, {Finding: f.Fingerprint, Until: "2026-03-01", Reason: "name"}}}
	assert.Equal(t, "name", r.AcceptedBy(&f).Reason)
	r.Accepted[1].Until = "2026-04-01"
	assert.Equal(t, "check", r.AcceptedBy(&f).Reason)
	other := one("c/c", Minor, 1)
	assert.Nil(t, r.AcceptedBy(&other))
}
