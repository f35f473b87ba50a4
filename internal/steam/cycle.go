package steam

import (
	"math"
	"slices"
)

// Cycle is what the readings did. More may be added afterwards.
func (s *Series) Cycle() Cycle { return s.copy().End() }

// End is Cycle for a series to which no more is added, until Begin makes a new one of it.
func (s *Series) End() Cycle {
	if !s.settled {
		s.settle()
	}
	if s.waiting {
		s.decide(true)
	}
	return s.end()
}

// copy is the same series, of which nothing is shared that changes.
func (s *Series) copy() *Series {
	z := *s
	z.levels, z.lists = slices.Clone(s.levels), slices.Clone(s.lists)
	z.carve()
	for _, b := range [...]*bands{&z.over, &z.apart.bands, &z.chamber.bands} {
		b.seconds = slices.Clone(b.seconds)
	}
	return &z
}

// end closes what is open and tells all.
func (s *Series) end() Cycle {
	c, p := &s.c, &s.chamber
	if c.Readings == 0 {
		nan := math.NaN()
		c.First, c.Lowest, c.Highest, c.Warmest, c.LastTemperature = nan, nan, nan, nan, nan
	} else {
		s.still.end(c, s.last.at)
		c.Until, c.LastTemperature = s.last.at, s.last.cold
		s.closeAll()
		if s.trial.left > 0 {
			s.within(s.trial.longest) // it may have been gaps
		}
	}
	p.swing.settle()
	c.Air, c.BegunAway = p.air, p.away
	c.LeastPressure, c.MostPressure = p.all.told()
	c.Pulses = slices.Clone(p.swing.pulses[:min(p.swing.count, keptPulses)])
	c.PulseCount = p.swing.count
	s.pace.keep()
	c.Interval = s.pace.longest
	c.Lethality = s.warmth.lethalBefore + s.warmth.lethal
	c.Holds = make([]Hold, len(s.levels))
	for i := range s.levels {
		c.Holds[i] = s.levels[i].hold(s)
	}
	return *c
}

// closeAll ends, at the last reading, the runs that are open.
func (s *Series) closeAll() {
	for i := range s.levels {
		l := &s.levels[i]
		if l.best.OpenEnd = i < s.maybe; l.best.OpenEnd {
			l.most = max(l.most, s.last.at-l.maybeFrom)
		}
		if i < s.sure {
			l.least = max(l.least, s.last.at-l.sureFrom)
		}
	}
	for s.up > 0 {
		s.close(s.last.at, s.last.cold, false)
	}
}

// hold is the longest run at a level, with what followed.
func (l *level) hold(s *Series) Hold {
	h, c := l.best, &s.chamber
	nan := math.NaN()
	h.After.Vented = nan
	if !h.Reached {
		h.Lowest, h.Highest, h.Mean, h.Warmest = nan, nan, nan, nan
		h.MeanPressure, h.LeastPressure, h.MostPressure = nan, nan, nan
		h.Apart, h.ApartLeast, h.ApartMost = nan, nan, nan
	}
	h.Least = max(l.least-s.c.Setting.Resolution, 0)
	if h.Most = l.most; l.may {
		h.Most += s.c.Setting.Resolution
	}
	if !h.Reached {
		return h
	}
	h.After.Rest = s.last.at - h.Until
	if c.any() {
		h.After.Vented = l.air
	} else {
		h.After.Vented = l.cool
	}
	if c.any() && !l.lacksAir {
		h.After.Vacuum = c.vacuum() - l.evacuated
		h.After.VacuumEnded = h.After.Vacuum > 0 && c.last >= c.bands.limits[0]
	}
	return h
}
