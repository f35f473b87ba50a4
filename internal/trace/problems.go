package trace

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
)

// problems keeps each cause once, where it was first met, so that they stay few
// however long a file is.
type problems []*problem

// problem is one cause as it is gathered.
type problem struct {
	Problem
	longest float64 // s, of gaps
}

// meet counts a cause and returns it the first time that it is met, to be worded.
func (p *problems) meet(cause string, line int) *problem {
	for _, q := range *p {
		if q.Cause == cause {
			q.Count++
			return nil
		}
	}
	q := &problem{Problem: Problem{Cause: cause, Line: line, Count: 1}}
	*p = append(*p, q)
	return q
}

// say is meet with the words at hand.
func (p *problems) say(cause string, line int, sentence, todo string) {
	if q := p.meet(cause, line); q != nil {
		q.Sentence, q.Todo = sentence, todo
	}
}

// grave is say for what keeps a file from being relied on as whole.
func (p *problems) grave(cause string, line int, sentence, todo string) {
	if q := p.meet(cause, line); q != nil {
		q.Sentence, q.Todo, q.Grave = sentence, todo, true
	}
}

// count is how often a cause was met.
func (p problems) count(cause string) int {
	for _, q := range p {
		if q.Cause == cause {
			return q.Count
		}
	}
	return 0
}

// gap counts a time without readings, and keeps the longest.
func (p *problems) gap(line int, seconds float64) {
	if q := p.meet("gap", line); q != nil {
		q.Todo = "A logger that was read out, or lost its link, would explain it; what the chamber did meanwhile is not known."
		q.Sentence = fmt.Sprintf("Before line %s there is no reading for %s.", grouped(line), lasting(seconds))
		q.longest = seconds
		return
	}
	for _, q := range *p {
		if q.Cause == "gap" {
			q.longest = max(q.longest, seconds)
		}
	}
}

// list gives them by line, each with its count where it was met more than once.
func (p problems) list() []Problem {
	var list []Problem
	for _, q := range p {
		c := q.Problem
		if c.Count > 1 && c.Line > 0 {
			c.Sentence = strings.TrimSuffix(c.Sentence, ".") + "; this is the first of " + grouped(c.Count) + "."
			if q.longest > 0 {
				c.Sentence = strings.TrimSuffix(c.Sentence, ".") + ", the longest " + lasting(q.longest) + "."
			}
		}
		list = append(list, c)
	}
	slices.SortStableFunc(list, func(a, b Problem) int { return a.Line - b.Line })
	return list
}

// grouped writes a count with commas between thousands.
func grouped(n int) string {
	s := strconv.Itoa(n)
	for i := len(s) - 3; i > 0; i -= 3 {
		s = s[:i] + "," + s[i:]
	}
	return s
}

func atLine(n int) string { return "Line " + grouped(n) }
