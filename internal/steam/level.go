package steam

import "math"

// level follows one of Setting.Levels.
type level struct {
	at, maybeAt, sureAt float64 // °C, at which a reading is at it, may be, surely is
	maybeFrom, sureFrom float64 // s, of the times that go on
	least, most         float64 // s, the longest yet
	may                 bool    // some reading may have been at it
	warmFrom, closed    float64 // s: when the warmest sensor reached it, when a run ended last
	run                 run     // open while the last reading was at or above the level
	best                Hold
	lacksAir, lacksCool bool    // best is not yet vented, by pressure, by temperature
	air, cool           float64 // when it was
	evacuated           float64 // s of vacuum before that
}

// run is an unbroken time at or above a level, with what had been added up when it began.
type run struct {
	from         float64
	gaps, pulses int
	leapt        bool
	settling     float64 // s from the warmest sensor to the coldest
	lethal, warm float64
	over         []float64
	press, apart since
	air          []float64
	superheat    []float64
	ends         ends
}

// since is what had been added up at the first reading in a run that has what is added.
type since struct {
	any     bool
	at, sum float64
}

// mean is that of what was added since; of a single time, the middle of its readings.
func (s *since) mean(at, sum float64, of span) float64 {
	if at > s.at && s.any {
		return (sum - s.sum) / (at - s.at)
	}
	least, most := of.told()
	return (least + most) / 2
}

func newLevel(l float64, s *Setting) level {
	return level{closed: math.Inf(-1), at: l - grain, maybeAt: l - s.Below - grain, sureAt: l + s.Above - grain, best: Hold{Level: l}}
}

// carve gives each level its lists, all out of one.
func (s *Series) carve() {
	left := s.lists
	take := func(n int) (list []float64) {
		list, left = left[:n:n], left[n:]
		return list
	}
	over, apart := len(s.c.Setting.Over), len(s.c.Setting.Apart)
	for i := range s.levels {
		l := &s.levels[i]
		l.run.over, l.best.Over = take(over), take(over)
		l.run.air, l.best.Air = take(apart), take(apart)
		l.run.superheat, l.best.Superheat = take(apart), take(apart)
	}
}
