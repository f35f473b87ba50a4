package steam

import "math"

// begin takes the first reading.
func (s *Series) begin(r reading) {
	s.c.Readings = 1
	s.c.From, s.c.First = r.at, r.cold
	s.c.Lowest, s.c.Highest, s.c.Warmest = r.cold, r.cold, r.warm
	s.last = r
	s.warmth.begin(r.cold)
	s.still = still{r.at, span{r.press, r.press}}
	if r.press == r.press {
		s.chamber.swing.add(r.at, r.press)
		s.chamber.add(r.at, r.press)
	}
	if r.warm != r.cold {
		s.follow(&r, 0)
	}
	s.turn(&r, 0, false)
	for i := range s.levels {
		s.levels[i].best.OpenStart = i < s.maybe
	}
	if s.up > 0 {
		s.hold(&r)
	}
}

// step takes the next reading, d seconds after the last.
func (s *Series) step(r *reading, d float64, gap bool) {
	c := &s.c
	c.Readings++
	if r.cold < c.Lowest {
		c.Lowest = r.cold
	}
	if r.cold > c.Highest {
		c.Highest = r.cold
	}
	if r.warm > c.Warmest {
		c.Warmest = r.warm
	}
	if r.cold != s.last.cold || gap {
		if by := math.Abs(r.cold - s.last.cold); by > c.Jump && !gap {
			c.Jump, c.JumpAt, c.JumpOver = by, r.at, d
		}
		if s.last.at-s.still.from > c.Flat {
			s.still.end(c, s.last.at)
		}
		s.still.from, s.still.press.least, s.still.press.most = r.at, r.press, r.press
	} else {
		s.still.see(r.press)
	}
	p := &s.chamber
	quiet := r.press >= p.quiet.least && r.press <= p.quiet.most
	if !quiet && r.press == r.press {
		p.swing.add(r.at, r.press)
	}
	if r.warm != r.cold || s.several {
		s.follow(r, d)
	}
	if r.cold >= s.calm.least && r.cold < s.calm.most && !gap && !s.unseen {
		s.line(r, d)
	} else {
		s.turn(r, d, gap)
	}
	if quiet {
		after := r.at - p.at
		p.sum += (p.last + r.press) / 2 * after
		p.bands.seconds[p.bands.in] += after
		p.at, p.last = r.at, r.press
	} else if r.press == r.press {
		if at := p.add(r.at, r.press); at == at {
			s.vented(at)
		}
	}
	if s.up > 0 {
		s.hold(r)
	}
	s.last = *r
}

// line adds what lies between the last reading and this one, where no level is crossed.
func (s *Series) line(r *reading, d float64) {
	s.warmth.add(s.last.cold, r.cold, d)
	if s.up > 0 {
		s.warmth.sum += (s.last.cold + r.cold) / 2 * d
		if len(s.over.limits) > 0 {
			s.over.add(s.last.warm, r.warm, d)
		}
	}
}

// still is a stretch of readings that are all alike.
type still struct {
	from  float64
	press span
}

// see takes one more; no pressure before leaves none to compare with.
func (f *still) see(p float64) {
	if p != p {
		return
	}
	if !(p >= f.press.least) {
		f.press.least = p
	}
	if !(p <= f.press.most) {
		f.press.most = p
	}
}

// end keeps the stretch if it is the longest.
func (f *still) end(c *Cycle, at float64) {
	if at-f.from > c.Flat {
		c.Flat, c.FlatFrom, c.FlatPressure = at-f.from, f.from, f.press.most-f.press.least
	}
}
