package steam

import "math"

// cool is the temperature, in °C, at or below which a chamber of which no pressure is
// known is taken to be open to the air: water boils there at the sea.
const cool = 100.0

// open begins a run at the next level.
func (s *Series) open(at float64, gap, leapt bool) {
	w := &s.warmth
	if s.up == 0 {
		// Else a broken sensor's great number would leave no figures for a small one.
		w.lethalBefore, w.lethal = w.lethalBefore+w.lethal, 0
	}
	l := &s.levels[s.up]
	r := &l.run
	r.leapt, r.settling = leapt, 0
	if s.several {
		r.settling = max(0, at-max(l.warmFrom, l.closed))
	}
	r.from, r.gaps, r.pulses = at, s.c.Gaps, s.chamber.swing.count
	if gap {
		r.gaps--
	}
	r.lethal, r.warm = w.lethal, w.sum
	r.press, r.apart, r.ends = since{}, since{}, noEnds
	for i := range r.over {
		r.over[i] = s.over.above(s.overAt[s.up*len(r.over)+i])
	}
	s.up++
}

// close ends the run at the innermost level, at a time and a temperature.
func (s *Series) close(at, celsius float64, leapt bool) {
	s.up--
	l := &s.levels[s.up]
	l.closed = at
	l.run.leapt = l.run.leapt || leapt
	if !l.best.Reached || at-l.run.from > l.best.Seconds() {
		s.keep(l, at)
		s.after(l, at, celsius)
	}
	if s.up > 0 {
		s.levels[s.up-1].run.ends.join(&l.run.ends)
	} else {
		s.apart.on = false
	}
}

// keep writes the run as the longest at its level.
func (s *Series) keep(l *level, at float64) {
	h, r, e := &l.best, &l.run, &l.run.ends
	h.Reached, h.From, h.Until, h.Leapt, h.Equilibration = true, r.from, at, r.leapt, r.settling
	h.Lowest, h.Highest = e.cold.least, e.cold.most
	h.Mean = (h.Lowest + h.Highest) / 2
	if at > r.from {
		// Of a hold that lasts a millionth of a second no figures are left.
		h.Mean = min(max((s.warmth.sum-r.warm)/(at-r.from), h.Level), h.Highest)
	}
	h.Warmest, h.Spread = e.warm.most, e.spread.most
	h.LeastPressure, h.MostPressure = e.press.told()
	h.MeanPressure = r.press.mean(s.chamber.at, s.chamber.sum, e.press)
	h.ApartLeast, h.ApartMost = e.apart.told()
	h.Apart = r.apart.mean(s.apart.at, s.apart.sum, e.apart)
	i := s.up
	for k := range h.Over {
		h.Over[k] = s.over.above(s.overAt[i*len(h.Over)+k]) - r.over[k]
	}
	for k := range h.Air {
		h.Air[k], h.Superheat[k] = 0, 0
		if r.apart.any {
			h.Air[k] = s.apart.bands.above(s.apartAt[2*k]) - r.air[k]
			h.Superheat[k] = s.apart.bands.below(s.apartAt[2*k+1]) - r.superheat[k]
		}
	}
	h.Pulses, h.Gaps = r.pulses, s.c.Gaps-r.gaps
	h.Lethality = s.warmth.lethal - r.lethal
}

// after begins to wait for what follows the longest run.
func (s *Series) after(l *level, at, celsius float64) {
	l.air, l.cool = math.NaN(), math.NaN()
	l.lacksAir, l.lacksCool = true, true
	if s.chamber.atAir() {
		l.air, l.lacksAir, l.evacuated = at, false, s.chamber.vacuum()
	}
	if celsius < cool+grain {
		l.cool, l.lacksCool = at, false
	}
}

// vented notes that the pressure came back to that of the air.
func (s *Series) vented(at float64) {
	for i := range s.levels {
		if l := &s.levels[i]; l.lacksAir {
			l.air, l.lacksAir, l.evacuated = max(at, l.best.Until), false, s.chamber.evacuated
		}
	}
}

// cooled notes that the temperature came down to 100 °C.
func (s *Series) cooled(at float64) {
	for i := range s.levels {
		if l := &s.levels[i]; l.lacksCool {
			l.cool, l.lacksCool = max(at, l.best.Until), false
		}
	}
}

// hold takes a reading at or above a level.
func (s *Series) hold(r *reading) {
	e := &s.levels[s.up-1].run.ends
	e.cold.add(r.cold)
	e.warm.add(r.warm)
	e.spread.add(r.warm - r.cold)
	if r.press != r.press {
		return
	}
	e.press.add(r.press)
	for i := s.up - 1; i >= 0 && !s.levels[i].run.press.any; i-- {
		s.levels[i].run.press = since{true, r.at, s.chamber.sum}
	}
	if s.c.Setting.Absolute && r.press >= lowest && r.press <= highest {
		a := s.saturation.at(r.press) - r.cold
		e.apart.add(a)
		s.apart.add(r.at, a)
		for i := s.up - 1; i >= 0 && !s.levels[i].run.apart.any; i-- {
			s.since(&s.levels[i].run)
		}
	}
}

// since notes what had been added up of the difference from saturation.
func (s *Series) since(r *run) {
	r.apart = since{true, s.apart.at, s.apart.sum}
	for k := range r.air {
		r.air[k] = s.apart.bands.above(s.apartAt[2*k])
		r.superheat[k] = s.apart.bands.below(s.apartAt[2*k+1])
	}
}

// apart follows the difference from saturation, from one reading that has a pressure to
// the next, while at or above the lowest level.
type apart struct {
	on            bool
	at, last, sum float64
	bands         bands
}

func (a *apart) add(at, v float64) {
	if d := at - a.at; a.on {
		a.sum += (a.last + v) / 2 * d
		a.bands.add(a.last, v, d)
	}
	a.on, a.at, a.last = true, at, v
}
