package audit

import (
	"fmt"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"footing/internal/result"
	"footing/schemas"
)

// weight is what seeing one more check is worth: by the highest grade that it may give.
func (c *Check) weight() float64 {
	return result.GradeWeight(c.Grades[0].String())
}

// share is how much of what a check would examine it could not, for want of one
// missing thing: all of it where the check was not assessed at all.
func (e *examined) share(f Field) float64 {
	if len(e.absent) > 0 {
		return 1 / float64(len(e.absent))
	}
	examined := e.counts.met + e.counts.notMet + e.counts.unclear
	subjects := len(e.missing[f])
	if examined == 0 || subjects == 0 {
		return 0
	}
	all := 0
	for _, s := range e.missing {
		all += len(s)
	}
	return float64(e.counts.unclear) / float64(examined) * float64(subjects) / float64(all)
}

// nextField computes which record or column, kept from today on, would let most
// be seen: the sum over checks of what each could not see for want of it,
// weighed by the check's highest grade.
func nextField(exams []*examined) *result.NextField {
	worth := map[Field]float64{}
	checks := map[Field][]string{}
	add := func(e *examined, f Field) {
		if w := e.check.weight() * e.share(f); w > 0 {
			worth[f] += w
			checks[f] = append(checks[f], e.check.ID)
		}
	}
	for _, e := range exams {
		if e.broken != "" {
			continue
		}
		for _, kind := range e.absent {
			if !e.lost(kind) && (kind != "traces" || e.P.HasLogger()) { // else it is kept already, or may not be had
				add(e, Field{Kind: kind})
			}
		}
		for f := range e.missing {
			add(e, f)
		}
	}
	kept := func(f Field) bool { return f.Name == "" && exams[0].P.Count(f.Kind) > 0 }
	var best Field
	for f, w := range worth {
		// A kind that is kept already comes last: what lacks there is older rows, or the word that they are all there.
		switch b := worth[best]; {
		case b > 0 && kept(f) != kept(best):
			if kept(best) {
				best = f
			}
		case w > b || w == b && earlier(f, best):
			best = f
		}
	}
	if worth[best] == 0 {
		return nil
	}
	slices.Sort(checks[best])
	return &result.NextField{Kind: best.Kind, Field: best.Name, Checks: checks[best], Why: whyNext(best, checks[best], kept(best))}
}

func earlier(a, b Field) bool {
	return compareMissing(result.Missing{Kind: a.Kind, Field: a.Name}, result.Missing{Kind: b.Kind, Field: b.Name}) < 0
}

func whyNext(f Field, checks []string, kept bool) string {
	n := fmt.Sprintf("%d checks", len(checks))
	if len(checks) == 1 {
		n = "one more check"
	}
	if f.Kind == "traces" {
		return fmt.Sprintf("with the files of the data logger kept in the folder traces from today on, %s could see more", n)
	}
	kind, ok := schemas.Lookup(f.Kind)
	if !ok {
		return ""
	}
	if kept {
		return fmt.Sprintf("with every row of %s kept from today on, and practice.coverage saying from which day they are all here, %s could see more", f.Kind, n)
	}
	if f.Name == "" {
		return fmt.Sprintf("with %s (%s) kept from today on, %s could see more", f.Kind, inner(kind.Description), n)
	}
	field, ok := kind.Field(f.Name)
	if !ok {
		return ""
	}
	if kind.Single {
		return fmt.Sprintf("with %s (%s) written in %s, %s could see more", f.Name, inner(field.Description), f.Kind, n)
	}
	return fmt.Sprintf("with the column %s of %s (%s) filled from today on, %s could see more", f.Name, f.Kind, inner(field.Description), n)
}

// inner is the first sentence of a description, to stand within another.
func inner(text string) string {
	first, _, _ := strings.Cut(text, ". ")
	r, size := utf8.DecodeRuneInString(first)
	if next, _ := utf8.DecodeRuneInString(first[size:]); !unicode.IsUpper(next) {
		first = string(unicode.ToLower(r)) + first[size:]
	}
	return strings.TrimSuffix(first, ".")
}
