package record

import "slices"

// named is true for files in which each row names its values.
func (s *source) named() bool {
	return s.format == formatJSON || s.format == formatLines || s.format == formatYAML
}

// share keeps a value of a shared lane until the row is whole.
func (s *sheet) share(l *lane, sh shape, text string) {
	if sh != isNull && !(sh == isText && unwritten(trim(text))) {
		s.twins = append(s.twins, typed{lane: l, shape: sh, text: text})
		s.filled = true
	}
}

// settle reads what stands under the names of shared lanes. What a name means hangs on
// the names in its own row alone, whatever rows come before or after.
func (s *sheet) settle() {
	eachField(s.twins, func(v []typed) {
		at := partner(v)
		for i, t := range v[1:] {
			if i+1 != at {
				s.wrong = append(s.wrong, rowFault{fault: s.alsoWritten(t.lane, v[0].lane), lane: t.lane, note: true})
			}
		}
		if at < 0 && v[0].lane.part == whole {
			s.put(v[0].lane, v[0].shape, v[0].text)
			return
		}
		day, clock := halves(v, at)
		s.joinPair(&pair{day: day.lane, clock: clock.lane, dayText: trim(day.text), clockText: trim(clock.text)})
	})
	s.twins = s.twins[:0]
}

// eachField puts the values of one field together: first what stands under its own name,
// then the others in the order of their row.
func eachField(values []typed, do func([]typed)) {
	slices.SortStableFunc(values, func(a, b typed) int { return a.lane.order() - b.lane.order() })
	for from := 0; from < len(values); {
		to := from + 1
		for to < len(values) && values[to].lane.col == values[from].lane.col {
			to++
		}
		do(values[from:to])
		from = to
	}
}

func (l *lane) order() int {
	if l.written == l.col.field.Name {
		return 2 * l.col.index
	}
	return 2*l.col.index + 1
}

// partner finds the day, or the clock, that belongs to the first of the values of a moment; -1 if none does.
func partner(values []typed) int {
	for i := range values[1:] {
		if clockAmong(values[0].lane, values[i+1].lane) != nil {
			return i + 1
		}
	}
	return -1
}

// halves gives the day and the clock of a moment; one of them may have no lane.
func halves(values []typed, partner int) (day, clock typed) {
	first := values[0]
	switch {
	case partner < 0 && first.lane.part == clockPart:
		return typed{}, first
	case partner < 0:
		return first, typed{}
	case clockAmong(first.lane, values[partner].lane) == first.lane:
		return values[partner], first
	}
	return first, values[partner]
}

// alsoWritten notes that the row has two names for one field.
func (s *sheet) alsoWritten(l, first *lane) *fault {
	if l.told == nil || l.extra != first {
		l.extra = first
		l.told = newFault("repeated-heading", `means the same field as "`+shorten(first.written)+`", which is the one read`).do("keep one of the two")
	}
	return l.told
}
