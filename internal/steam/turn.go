package steam

import "math"

// turn takes the line from the last reading to this one where it crosses a limit, or
// is a gap.
func (s *Series) turn(r *reading, d float64, gap bool) {
	s.surely(r, gap || s.unseen)
	s.perhaps(r, d, gap)
	if s.up < len(s.levels) && r.cold >= s.levels[s.up].at || s.up > 0 && r.cold < s.levels[s.up-1].at {
		s.cross(r, d, gap)
	} else {
		s.line(r, d)
	}
	if limit := cool + grain; s.last.cold >= limit && r.cold < limit {
		s.cooled(s.last.at + d*s.share(limit, r))
	}
	s.bound(r.cold)
}

// surely counts the times from first to last reading that was surely at or above a
// level; a gap breaks them.
func (s *Series) surely(r *reading, gap bool) {
	for s.sure > 0 && (gap || r.cold < s.levels[s.sure-1].sureAt) {
		s.sure--
		l := &s.levels[s.sure]
		l.least = max(l.least, s.last.at-l.sureFrom)
	}
	for s.sure < len(s.levels) && r.cold >= s.levels[s.sure].sureAt {
		s.levels[s.sure].sureFrom = r.at
		s.sure++
	}
}

// perhaps counts the times from the last reading surely below a level to the next one.
// In a gap anything may have been, even between two readings below.
func (s *Series) perhaps(r *reading, d float64, gap bool) {
	before := s.maybe
	for s.maybe > 0 && r.cold < s.levels[s.maybe-1].maybeAt {
		s.maybe--
		l := &s.levels[s.maybe]
		l.most = max(l.most, r.at-l.maybeFrom)
	}
	for s.maybe < len(s.levels) && r.cold >= s.levels[s.maybe].maybeAt {
		l := &s.levels[s.maybe]
		l.maybeFrom, l.may = s.last.at, true
		s.maybe++
	}
	if gap {
		for i := max(before, s.maybe); i < len(s.levels); i++ {
			l := &s.levels[i]
			l.most, l.may = max(l.most, d), true
		}
	}
}

// A change so great, in K, within so many seconds, is none that a chamber makes: its
// exhaust from 134 °C takes half a minute and more. Our judgement.
const (
	leap       = 60.0
	leapWithin = 10.0
)

// follow notes when the warmest sensor comes to a level, once it and the coldest differ.
func (s *Series) follow(r *reading, d float64) {
	if !s.several {
		s.several = true
		for s.hot < len(s.levels) && s.last.warm >= s.levels[s.hot].at {
			s.levels[s.hot].warmFrom = s.last.at
			s.hot++
		}
	}
	for s.hot < len(s.levels) && r.warm >= s.levels[s.hot].at {
		l := &s.levels[s.hot]
		l.warmFrom = s.last.at + d*min(max((l.best.Level-s.last.warm)/(r.warm-s.last.warm), 0), 1)
		s.hot++
	}
	for s.hot > 0 && r.warm < s.levels[s.hot-1].at {
		s.hot--
	}
}

// cross takes a line that crosses levels, piece by piece.
func (s *Series) cross(r *reading, d float64, gap bool) {
	leapt := !gap && d <= leapWithin && math.Abs(r.cold-s.last.cold) >= leap
	done := 0.0
	to := func(share float64) float64 {
		s.piece(r, d, done, share)
		done = share
		return s.last.at + d*share
	}
	for s.up < len(s.levels) && r.cold >= s.levels[s.up].at {
		s.open(to(s.share(s.levels[s.up].best.Level, r)), gap, leapt)
	}
	for s.up > 0 && r.cold < s.levels[s.up-1].at {
		l := s.levels[s.up-1].best.Level
		s.close(to(s.share(l, r)), l, leapt)
	}
	to(1)
}

// share is how much of the line to r lies before it crosses a temperature.
func (s *Series) share(limit float64, r *reading) float64 {
	if r.cold == s.last.cold {
		return 0
	}
	return min(max((limit-s.last.cold)/(r.cold-s.last.cold), 0), 1)
}

// piece adds a part of the line to r.
func (s *Series) piece(r *reading, d, from, to float64) {
	at := func(a, b, share float64) float64 { return a + (b-a)*share }
	a, b, d := at(s.last.cold, r.cold, from), at(s.last.cold, r.cold, to), d*(to-from)
	s.warmth.add(a, b, d)
	if s.up > 0 {
		s.warmth.sum += (a + b) / 2 * d
		s.over.add(at(s.last.warm, r.warm, from), at(s.last.warm, r.warm, to), d)
	}
}

// bound sets within which temperatures nothing changes.
func (s *Series) bound(celsius float64) {
	b := span{math.Inf(-1), math.Inf(1)}
	b.narrow(cool+grain, celsius)
	for i := range s.levels {
		l := &s.levels[i]
		b.narrow(l.maybeAt, celsius)
		b.narrow(l.at, celsius)
		b.narrow(l.sureAt, celsius)
	}
	s.calm = b
}
