package steam

import (
	"math"
	"slices"
)

// Series sums up readings as they come, in memory that does not grow with them.
//
// Between two readings everything is taken to move on a straight line. A gap is a time
// between readings longer than 5 times the usual one and than 10 s, unless the next one
// is at least half as long too: then the logger has changed its pace. A reading after a
// long time is therefore looked at only when the next one is there. Until a third long
// time shows that the pace has changed, what a hold has lasted at least does not span them.
type Series struct {
	c    Cycle
	last reading
	pace pace

	first   [16]reading // the first ones, kept back until the usual interval is known
	kept    int
	settled bool
	late    reading // came after a long time: the next one tells whether that was a gap
	waiting bool
	trial   trial
	unseen  bool // the time before the reading at hand may yet turn out a gap

	warmth     warmth
	chamber    chamber
	still      still
	levels     []level
	lists      []float64 // those of the levels
	maybe      int       // levels of which the last reading was not surely below
	up         int       // levels at or above which it was, as written
	sure       int       // levels at or above which it surely was
	calm       span      // nothing changes while a temperature is not below its least and below its most
	over       bands     // of the warmest sensor
	apart      apart
	saturation *quickTable
	several    bool  // two sensors have differed
	hot        int   // levels at or above which the warmest was, once they have
	overAt     []int // for each level and each of Setting.Over, its place in over
	apartAt    []int // for each of Setting.Apart, its places in apart: as air, as superheat
}

// reading is one line of a series; press is NaN where there is none.
type reading struct{ at, cold, warm, press float64 }

// grain is less than any sensor tells, and more than turning units loses: a reading
// that lies so little under a limit lies at it.
const grain = 1e-9

// wild is so great, either way, that no clock or sensor shows it: no number to reckon with.
const wild = 1e12

// NewSeries begins one. The Setting is kept as it is, and must not change meanwhile.
func NewSeries(set Setting) *Series {
	s := new(Series)
	s.Begin(set)
	return s
}

// Begin makes of a series a new one, as NewSeries does, in the same memory.
func (s *Series) Begin(set Setting) {
	if set.Scale == (Scale{}) {
		set.Scale = F0
	}
	*s = Series{levels: s.levels[:0], saturation: quickLine(), c: Cycle{Setting: set, Air: math.NaN(), FlatPressure: math.NaN()}}
	s.pace.unknown()
	s.warmth.scale, s.warmth.per = set.Scale, math.Ln10/set.Scale.Z
	s.chamber = newChamber(set)
	s.measure(set)
	for _, l := range set.Levels {
		s.levels = append(s.levels, newLevel(l, &set))
	}
	s.lists = make([]float64, len(set.Levels)*(2*len(set.Over)+4*len(set.Apart)))
	s.carve()
}

// measure sets the limits whose times are counted.
func (s *Series) measure(set Setting) {
	over := make([]float64, 0, len(set.Levels)*len(set.Over))
	for _, l := range set.Levels {
		for _, o := range set.Over {
			over = append(over, l+o+grain)
		}
	}
	apart := make([]float64, 0, 2*len(set.Apart))
	for _, d := range set.Apart {
		apart = append(apart, d+grain, -d-grain)
	}
	s.over, s.overAt = limited(over)
	s.apart.bands, s.apartAt = limited(apart)
}

// limited makes bands of the limits, and says at which place each of them is.
func limited(list []float64) (b bands, at []int) {
	limits := slices.Clone(list)
	slices.Sort(limits)
	limits = slices.Compact(limits)
	at = make([]int, len(list))
	for i, v := range list {
		at[i], _ = slices.BinarySearch(limits, v)
	}
	return newBands(limits), at
}

// Add takes the next reading: seconds on the series' clock, never falling; the
// coldest and the warmest sensor in °C; the pressure in kPa, NaN where there is none.
// Several readings may have the same time. A reading whose time or temperature is no
// number, or beyond 10^12, or whose time is before the last one, is passed over and
// counted in Cycle.Ignored.
func (s *Series) Add(at, coldest, warmest, pressure float64) {
	r := reading{at, coldest, warmest, pressure}
	if !(warmest >= coldest && warmest < wild) {
		r.warm = coldest
	}
	if !(pressure > -wild && pressure < wild) {
		r.press = math.NaN()
	}
	d := at - s.last.at
	if d > s.pace.short && d < s.pace.long && !s.waiting && s.trial.left == 0 && coldest > -wild && coldest < wild {
		s.pace.count, s.pace.odd = s.pace.count+1, 0
		s.step(&r, d, false)
		return
	}
	s.slow(r)
}

// slow takes a reading that is not simply the next one.
func (s *Series) slow(r reading) {
	before := s.last.at
	switch {
	case s.waiting:
		before = s.late.at
	case s.kept > 0 && !s.settled:
		before = s.first[s.kept-1].at
	case s.kept == 0:
		before = math.Inf(-1)
	}
	if !(math.Abs(r.at) < wild && math.Abs(r.cold) < wild) || r.at < before {
		s.c.Ignored++
		return
	}
	switch {
	case !s.settled:
		s.first[s.kept] = r
		if s.kept++; s.kept == len(s.first) {
			s.settle()
		}
	case s.waiting:
		d, next := s.late.at-s.last.at, r.at-s.late.at
		s.decide(next < d/2)
		s.take(r)
	default:
		s.take(r)
	}
}

// settle learns from the first readings how far they are apart, and takes them.
func (s *Series) settle() {
	s.settled = true
	if s.kept == 0 {
		return
	}
	s.pace.learn(s.first[:s.kept])
	s.begin(s.first[0])
	for _, r := range s.first[1:s.kept] {
		if s.waiting {
			s.decide(r.at-s.late.at < (s.late.at-s.last.at)/2)
		}
		s.take(r)
	}
}

// take takes a reading, or keeps it back where a long time went before.
func (s *Series) take(r reading) {
	d := r.at - s.last.at
	if d > s.pace.gap {
		s.late, s.waiting = r, true
		return
	}
	if s.trial.left > 0 {
		s.try(d)
	}
	s.pace.see(d)
	s.step(&r, d, false)
	s.unseen = false
}

// trial is a new, slower pace until it has shown to be one: two times without
// readings, one soon after the other, look like it at first.
type trial struct {
	left    int     // long times that are still to come
	gap     float64 // s: what was a gap before
	usual   float64 // s: the pace before
	count   int     // long times so far
	longest float64
}

// try takes the next time between readings of a pace on trial. One of the old pace
// shows that there was none, and that the long times were gaps.
func (s *Series) try(d float64) {
	t := &s.trial
	if d > t.gap {
		t.left, t.count, t.longest, s.unseen = t.left-1, t.count+1, max(t.longest, d), true
		return
	}
	s.disprove()
}

// disprove counts the long times of the pace on trial as the gaps that they were.
func (s *Series) disprove() {
	t := &s.trial
	s.c.Gaps += t.count
	s.c.LongestGap = max(s.c.LongestGap, t.longest)
	s.within(t.longest)
	s.pace.set(t.usual)
	t.left = 0
}

// within says that in so many seconds anything may have been.
func (s *Series) within(d float64) {
	for i := range s.levels {
		l := &s.levels[i]
		l.most, l.may = max(l.most, d), true
	}
}

// decide takes the reading that was kept back, after a gap or at a new pace.
func (s *Series) decide(gap bool) {
	s.waiting = false
	d := s.late.at - s.last.at
	if gap {
		s.c.Gaps++
		s.c.LongestGap = max(s.c.LongestGap, d)
	} else {
		if s.trial.left > 0 {
			s.disprove() // by a pace that is slower still
		}
		s.trial = trial{left: tried - 1, gap: s.pace.gap, usual: s.pace.usual, count: 1, longest: d}
		s.unseen = true
		s.pace.set(d)
	}
	r := s.late
	s.step(&r, d, gap)
	s.unseen = false
}
