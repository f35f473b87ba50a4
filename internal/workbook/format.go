package workbook

// pattern is what a number format says of a value (ECMA-376 Part 1, 18.8.31).
type pattern struct{ sections []section }

// section is one of the up to four parts of a format, between its semicolons.
type section struct {
	test    string // "<", ">=" …: the section is for values that pass; "" for none
	limit   float64
	date    bool // has years, months or days
	clock   bool // has hours, minutes or seconds
	hour    bool
	elapsed bool // counts hours beyond 24, or minutes and seconds without an hour
	places  int  // decimals of its seconds
	second  bool
	percent bool
	unit    string
	empty   bool // shows no value: its text stands for one, or it hides the cell
}

// general is the look of a cell whose format is General.
var general = patternOf("General")

func patternOf(code string) *pattern {
	if code == "" {
		code = "General"
	}
	l := &pattern{}
	for more := true; more && len(l.sections) < 4; {
		var s section
		s, code, more = readSection(code)
		l.sections = append(l.sections, s)
	}
	return l
}

// of returns the section that is for a value.
func (l *pattern) of(value float64) *section {
	s := &l.sections[0]
	if at := l.pick(value); !l.sections[at].empty {
		s = &l.sections[at]
	}
	return s
}

func (l *pattern) pick(value float64) int {
	numbers := min(len(l.sections), 3) // the fourth is for text
	tested := false
	for i, s := range l.sections[:numbers] {
		if s.test != "" {
			tested = true
			if s.passes(value) {
				return i
			}
		}
	}
	switch {
	case tested:
		for i, s := range l.sections[:numbers] {
			if s.test == "" {
				return i
			}
		}
	case value < 0 && numbers > 1:
		return 1
	case value == 0 && numbers > 2:
		return 2
	}
	return 0
}

func (s *section) passes(v float64) bool {
	switch s.test {
	case "<":
		return v < s.limit
	case "<=":
		return v <= s.limit
	case ">":
		return v > s.limit
	case ">=":
		return v >= s.limit
	case "=":
		return v == s.limit
	}
	return v != s.limit
}
