package steam

import "math"

// By what it is judged what came after a hold, in kPa. Our judgement, all of them.
const (
	underAir = 20.0 // so far under the air's
	weather  = 5.0  // so little above the air's is back at it: a barometer moves that far
	airLeast = 60.0 // a first reading between these is the air's
	airMost  = 110.0
)

// chamber follows the pressure, from one reading that has one to the next.
type chamber struct {
	absolute  bool
	away      bool    // the first pressure was not that of the air
	given     float64 // Setting.Air
	air       float64 // NaN before the first pressure
	at, last  float64
	sum       float64 // kPa·s
	all       span
	bands     bands   // vacuum; the air's; above
	evacuated float64 // s of vacuum before the last time added
	swing     swing
	quiet     span // a pressure in it only adds to sum and bands
}

func newChamber(s Setting) chamber {
	c := chamber{absolute: s.Absolute, given: s.Air, air: math.NaN(), last: math.NaN(), all: none, quiet: none}
	c.swing.begin()
	return c
}

// begin takes the first pressure.
func (c *chamber) begin(at, p float64) {
	c.air = c.given
	if unknown := math.IsNaN(c.given) || c.absolute && c.given == 0; unknown {
		switch {
		case !c.absolute:
			c.air = 0
		case p >= airLeast && p <= airMost:
			c.air = p
		default:
			c.air = seaLevel
		}
	}
	c.bands = newBands([]float64{c.air - underAir + grain, c.air + weather + grain})
	c.bands.find(p)
	maybeAir := math.IsNaN(c.given) && p >= airLeast && p <= airMost // counted from a vacuum, if nobody says from where
	c.away = math.Abs(p-c.air) >= underAir-grain && !maybeAir
	c.at, c.last = at, p
	c.all.add(p)
	c.calm()
}

// add takes a pressure. It returns the time at which the pressure came back to that
// of the air since the one before, NaN if it did not.
func (c *chamber) add(at, p float64) (vented float64) {
	if !c.any() {
		c.begin(at, p)
		return math.NaN()
	}
	c.all.add(p)
	vented = math.NaN()
	d := at - c.at
	c.sum += (c.last + p) / 2 * d
	c.evacuated = c.vacuum()
	if p >= c.bands.low && p < c.bands.high {
		c.bands.seconds[c.bands.in] += d
	} else {
		if limit := c.bands.limits[1]; c.last >= limit && p < limit {
			vented = c.at + d*(c.last-limit)/(c.last-p)
		}
		c.bands.split(c.last, p, d)
	}
	c.at, c.last = at, p
	c.calm()
	return vented
}

// calm sets between what pressures nothing changes: no limit is crossed, nothing is
// lower or higher than before, and no swing turns.
func (c *chamber) calm() {
	q := c.swing.calm()
	c.quiet.least = max(c.all.least, c.bands.low, q.least)
	c.quiet.most = min(c.all.most, c.bands.high-grain, q.most)
}

// atAir says that the last pressure was that of the air, or below.
func (c *chamber) atAir() bool { return c.last < c.air+weather+grain }

// any says that a pressure was read.
func (c *chamber) any() bool { return c.last == c.last }

// vacuum is how long the pressure has lain at least 20 kPa under the air's.
func (c *chamber) vacuum() float64 {
	if !c.any() {
		return 0
	}
	return c.bands.seconds[0]
}
