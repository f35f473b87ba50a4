package steam

import "math"

// ends are the least and the most of the readings in a run. Of runs at several levels
// only the innermost is kept up to date; when it ends, the one around it takes its over.
type ends struct {
	cold, warm, spread, press, apart span
}

type span struct{ least, most float64 }

var none = span{math.Inf(1), math.Inf(-1)}

var noEnds = ends{none, none, none, none, none}

func (s *span) add(v float64) {
	if v < s.least {
		s.least = v
	}
	if v > s.most {
		s.most = v
	}
}

// narrow leaves of the span the part on the side of a limit on which v lies.
func (s *span) narrow(limit, v float64) {
	if v < limit {
		if limit < s.most {
			s.most = limit
		}
	} else if limit > s.least {
		s.least = limit
	}
}

func (s *span) join(t span) { s.least, s.most = min(s.least, t.least), max(s.most, t.most) }

// told is the span, NaN where nothing was added.
func (s span) told() (least, most float64) {
	if s.least > s.most {
		return math.NaN(), math.NaN()
	}
	return s.least, s.most
}

func (e *ends) join(f *ends) {
	e.cold.join(f.cold)
	e.warm.join(f.warm)
	e.spread.join(f.spread)
	e.press.join(f.press)
	e.apart.join(f.apart)
}
