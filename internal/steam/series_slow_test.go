package steam

import (
	"math"
	"slices"
)

// slow works out a cycle from all its readings at once, in the plainest way: the
// yardstick for Series, which keeps none of them.
type slow struct {
	set   Setting
	all   []reading
	gap   []bool // whether the time before a reading is one
	usual float64
}

func newSlow(set Setting, all []reading) *slow {
	z := &slow{set: set, all: all, gap: make([]bool, len(all))}
	var first []float64
	for i := 1; i < min(len(all), 16); i++ {
		if d := all[i].at - all[i-1].at; d > 0 {
			first = append(first, d)
		}
	}
	if slices.Sort(first); len(first) > 0 {
		z.usual = first[(len(first)-1)/2]
	}
	for i := 1; i < len(all); i++ {
		d := all[i].at - all[i-1].at
		z.gap[i] = z.usual > 0 && d > 5*z.usual && d > 10
	}
	return z
}

// between is where the line from one reading to the next stands at a time.
func between(a, b reading, at float64) reading {
	share := 0.0
	if b.at > a.at {
		share = (at - a.at) / (b.at - a.at)
	}
	mix := func(v, w float64) float64 { return v + (w-v)*share }
	return reading{at, mix(a.cold, b.cold), mix(a.warm, b.warm), mix(a.press, b.press)}
}

func crossing(a, b reading, level float64) reading {
	share := min(1, max(0, (level-a.cold)/(b.cold-a.cold)))
	r := between(a, b, a.at+(b.at-a.at)*share)
	r.cold = level
	return r
}

// over is how long a straight line lies above a limit.
func over(v, w, seconds, limit float64) float64 {
	limit += grain
	switch {
	case v > limit && w > limit:
		return seconds
	case v <= limit && w <= limit:
		return 0
	}
	return seconds * (max(v, w) - limit) / math.Abs(w-v)
}

// groups are the runs of readings for which ok holds, as first and last.
func (z *slow) groups(ok func(reading) bool, broken bool) (list [][2]int) {
	for i := 0; i < len(z.all); i++ {
		if !ok(z.all[i]) {
			continue
		}
		j := i
		for j+1 < len(z.all) && ok(z.all[j+1]) && !(broken && z.gap[j+1]) {
			j++
		}
		list = append(list, [2]int{i, j})
		i = j
	}
	return list
}

// line is what a group ran through: its readings, and the crossings at its ends.
func (z *slow) line(g [2]int, level float64) (list []reading) {
	if g[0] > 0 {
		list = append(list, crossing(z.all[g[0]-1], z.all[g[0]], level))
	}
	list = append(list, z.all[g[0]:g[1]+1]...)
	if g[1]+1 < len(z.all) {
		list = append(list, crossing(z.all[g[1]], z.all[g[1]+1], level))
	}
	return list
}

func long(line []reading) float64 { return line[len(line)-1].at - line[0].at }

// hold is the longest run at a level; tied says that another is as long.
func (z *slow) hold(level float64) (h Hold, tied bool) {
	h = Hold{Level: level, Over: make([]float64, len(z.set.Over)), Air: make([]float64, len(z.set.Apart)), Superheat: make([]float64, len(z.set.Apart))}
	z.bounds(&h, level)
	best, second := -1.0, -1.0
	var group [2]int
	for _, g := range z.groups(func(r reading) bool { return r.cold >= level-grain }, false) {
		if d := long(z.line(g, level)); d > best {
			group, best, second = g, d, best
		} else {
			second = max(second, d)
		}
	}
	if best < 0 {
		return h, false
	}
	h.Reached = true
	line := z.line(group, level)
	z.warm(&h, line, z.all[group[0]:group[1]+1])
	z.pressed(&h, z.all[group[0]:group[1]+1])
	for i := max(group[0], 1); i <= min(group[1]+1, len(z.all)-1); i++ {
		if z.gap[i] {
			h.Gaps++
		}
	}
	h.Leapt = z.leapt(group[0]) || z.leapt(group[1]+1)
	h.Equilibration = max(0, h.From-max(z.warmFrom(group[0], level), z.closed(group[0], level)))
	h.Pulses = len(pulses(z.all[:group[0]+1]))
	z.after(&h, group[1])
	return h, best-second < 1e-6
}

// leapt reports whether the way to the i-th reading is one that no chamber makes.
func (z *slow) leapt(i int) bool {
	return i > 0 && i < len(z.all) && !z.gap[i] && z.all[i].at-z.all[i-1].at <= 10 && math.Abs(z.all[i].cold-z.all[i-1].cold) >= 60
}

// warmFrom is when the warmest sensor came to a level at which it still is at the i-th reading.
func (z *slow) warmFrom(i int, level float64) float64 {
	for i > 0 && z.all[i-1].warm >= level-grain {
		i--
	}
	if i == 0 {
		return z.all[0].at
	}
	a, b := z.all[i-1], z.all[i]
	return a.at + (b.at-a.at)*min(max((level-a.warm)/(b.warm-a.warm), 0), 1)
}

// closed is when the coldest fell below a level last before the i-th reading.
func (z *slow) closed(i int, level float64) float64 {
	for i--; i > 0; i-- {
		if a, b := z.all[i-1], z.all[i]; a.cold >= level-grain && b.cold < level-grain {
			return a.at + (b.at-a.at)*min(max((level-a.cold)/(b.cold-a.cold), 0), 1)
		}
	}
	return math.Inf(-1)
}

func (z *slow) bounds(h *Hold, level float64) {
	n, may := len(z.all), false
	for _, g := range z.groups(func(r reading) bool { return r.cold >= level+z.set.Above-grain }, true) {
		h.Least = max(h.Least, z.all[g[1]].at-z.all[g[0]].at)
	}
	for _, g := range z.groups(func(r reading) bool { return r.cold >= level-z.set.Below-grain }, false) {
		h.Most, may = max(h.Most, z.all[min(g[1]+1, n-1)].at-z.all[max(g[0]-1, 0)].at), true
		h.OpenStart = h.OpenStart || g[0] == 0
		h.OpenEnd = h.OpenEnd || g[1] == n-1
	}
	for i := range z.all {
		if z.gap[i] {
			h.Most, may = max(h.Most, z.all[i].at-z.all[i-1].at), true
		}
	}
	h.Least = max(0, h.Least-z.set.Resolution)
	if may {
		h.Most += z.set.Resolution
	}
}

func (z *slow) warm(h *Hold, line, inside []reading) {
	h.From, h.Until = line[0].at, line[len(line)-1].at
	h.Lowest, h.Highest, h.Warmest = math.Inf(1), math.Inf(-1), math.Inf(-1)
	for _, r := range inside {
		h.Lowest, h.Highest = min(h.Lowest, r.cold), max(h.Highest, r.cold)
		h.Warmest, h.Spread = max(h.Warmest, r.warm), max(h.Spread, r.warm-r.cold)
	}
	for i := 1; i < len(line); i++ {
		a, b := line[i-1], line[i]
		d := b.at - a.at
		h.Mean += (a.cold + b.cold) / 2 * d
		h.Lethality += z.set.Scale.Segment(a.cold, b.cold, d)
		for k, o := range z.set.Over {
			h.Over[k] += over(a.warm, b.warm, d, h.Level+o)
		}
	}
	if h.Mean /= long(line); long(line) == 0 {
		h.Mean = (h.Lowest + h.Highest) / 2
	}
}

func (z *slow) pressed(h *Hold, inside []reading) {
	type point struct{ at, v float64 }
	var press, apart []point
	for _, r := range inside {
		if !math.IsNaN(r.press) {
			press = append(press, point{r.at, r.press})
			if r.press >= lowest && r.press <= highest && z.set.Absolute {
				t := quickLine().at(r.press) // which has its own test
				apart = append(apart, point{r.at, t - r.cold})
			}
		}
	}
	tell := func(list []point) (mean, least, most float64) {
		mean, least, most = math.NaN(), math.NaN(), math.NaN()
		for i, p := range list {
			if i == 0 {
				mean, least, most = 0, p.v, p.v
				continue
			}
			least, most = min(least, p.v), max(most, p.v)
			mean += (p.v + list[i-1].v) / 2 * (p.at - list[i-1].at)
		}
		if len(list) > 0 {
			if mean /= list[len(list)-1].at - list[0].at; math.IsNaN(mean) {
				mean = (least + most) / 2
			}
		}
		return mean, least, most
	}
	h.MeanPressure, h.LeastPressure, h.MostPressure = tell(press)
	h.Apart, h.ApartLeast, h.ApartMost = tell(apart)
	for k, limit := range z.set.Apart {
		for i := 1; i < len(apart); i++ {
			d := apart[i].at - apart[i-1].at
			h.Air[k] += over(apart[i-1].v, apart[i].v, d, limit)
			h.Superheat[k] += over(-apart[i-1].v, -apart[i].v, d, limit)
		}
	}
}

// pulses finds each fall by 20 kPa from the highest yet, then each rise by 20 kPa from
// the lowest since.
func pulses(all []reading) (list []Pulse) {
	all = slices.DeleteFunc(slices.Clone(all), func(r reading) bool { return math.IsNaN(r.press) })
	up := func(r reading) float64 { return r.press }
	down := func(r reading) float64 { return -r.press }
	turn := func(from int, way func(reading) float64) (at, top int) {
		top = from
		for i := from; i < len(all); i++ {
			if way(all[i]) > way(all[top]) {
				top = i
			}
			if way(all[top])-way(all[i]) >= 20-grain {
				return i, top
			}
		}
		return len(all), top
	}
	at, _ := turn(0, up)
	for at < len(all) {
		rise, low := turn(at, down)
		if rise == len(all) {
			break
		}
		fall, peak := turn(rise, up)
		list = append(list, Pulse{all[low].at, all[low].press, all[peak].press})
		at = fall
	}
	return list
}

// after looks from the last reading in the hold on.
func (z *slow) after(h *Hold, last int) {
	air, pressed := z.air()
	h.After.Vented = math.NaN()
	h.After.Rest = z.all[len(z.all)-1].at - h.Until
	type point struct{ at, v float64 }
	var known []point
	limit, from := 100+grain, -1 // from: the last point in the hold
	if pressed {
		limit = air + 5 + grain
	}
	for i, r := range z.all {
		p := point{r.at, r.press}
		if !pressed {
			p.v = r.cold
		}
		if !math.IsNaN(p.v) {
			known = append(known, p)
		}
		if i == last {
			from = len(known) - 1
		}
	}
	switch {
	case !pressed && h.Level <= limit && last+1 < len(z.all), from >= 0 && known[from].v <= limit:
		h.After.Vented = h.Until
	default:
		for i := from + 1; i < len(known); i++ {
			a, b := known[max(i-1, 0)], known[i]
			if b.v <= limit && a.v > limit {
				h.After.Vented = max(h.Until, a.at+(b.at-a.at)*(a.v-limit)/(a.v-b.v))
				from = i - 1
				break
			}
		}
	}
	if math.IsNaN(h.After.Vented) || !pressed {
		return
	}
	for i := max(from, 0) + 1; i < len(known); i++ {
		a, b := known[i-1], known[i]
		h.After.Vacuum += b.at - a.at - over(a.v, b.v, b.at-a.at, air-20)
	}
	h.After.VacuumEnded = h.After.Vacuum > 0 && known[len(known)-1].v > air-20
}

func (z *slow) air() (air float64, any bool) {
	for _, r := range z.all {
		if p := r.press; !math.IsNaN(p) {
			switch {
			case !z.set.Absolute:
				return 0, true
			case z.set.Air > 0:
				return z.set.Air, true
			case p >= 60 && p <= 110:
				return p, true
			}
			return seaLevel, true
		}
	}
	return math.NaN(), false
}

// cycle is all but the holds and what Setting repeats.
func (z *slow) cycle() Cycle {
	n, nan := len(z.all), math.NaN()
	c := Cycle{Setting: z.set, Readings: n, From: z.all[0].at, Until: z.all[n-1].at, Interval: z.usual,
		Lowest: math.Inf(1), Highest: math.Inf(-1), Warmest: math.Inf(-1), First: z.all[0].cold, LastTemperature: z.all[n-1].cold,
		LeastPressure: nan, MostPressure: nan, FlatPressure: nan}
	flattest := -1
	c.Air, _ = z.air()
	for i, r := range z.all {
		c.Lowest, c.Highest, c.Warmest = min(c.Lowest, r.cold), max(c.Highest, r.cold), max(c.Warmest, r.warm)
		if p := r.press; !math.IsNaN(p) {
			if math.IsNaN(c.LeastPressure) {
				c.BegunAway = math.Abs(p-c.Air) >= 20-grain
				c.LeastPressure, c.MostPressure = p, p
			}
			c.LeastPressure, c.MostPressure = min(c.LeastPressure, p), max(c.MostPressure, p)
		}
		if i == 0 {
			continue
		}
		a := z.all[i-1]
		c.Lethality += z.set.Scale.Segment(a.cold, r.cold, r.at-a.at)
		if z.gap[i] {
			c.Gaps, c.LongestGap = c.Gaps+1, max(c.LongestGap, r.at-a.at)
		} else if by := math.Abs(r.cold - a.cold); by > c.Jump {
			c.Jump, c.JumpAt, c.JumpOver = by, r.at, r.at-a.at
		}
	}
	for i := range z.all {
		least, most := math.Inf(1), math.Inf(-1)
		for j := i; j < n && z.all[j].cold == z.all[i].cold && (j == i || !z.gap[j]); j++ {
			if p := z.all[j].press; !math.IsNaN(p) {
				least, most = min(least, p), max(most, p)
			}
			if d := z.all[j].at - z.all[i].at; d > c.Flat || d > 0 && d == c.Flat && flattest == i {
				flattest = i
				c.Flat, c.FlatFrom, c.FlatPressure = d, z.all[i].at, nan
				if least <= most {
					c.FlatPressure = most - least
				}
			}
		}
	}
	all := pulses(z.all)
	c.PulseCount, c.Pulses = len(all), all[:min(len(all), 32)]
	for _, l := range z.set.Levels {
		h, _ := z.hold(l)
		c.Holds = append(c.Holds, h)
	}
	return c
}
