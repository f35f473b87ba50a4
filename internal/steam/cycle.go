package steam

import (
	"math"
	"slices"
)

// End is what the readings did. No more may be added until Begin makes a new series of it.
func (s *Series) End() Cycle {
	if !s.settled {
		s.settle()
	}
	if s.waiting {
		s.decide(true)
	}
	return s.end()
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
