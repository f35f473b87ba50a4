package dev

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"time"
)

// cycle is one run of a sterilizer with pumped air removal: heating, three pulses,
// the hold at 134 °C, exhaust, drying. Times in seconds, temperatures in °C,
// pressures in kPa absolute.
type cycle struct {
	sterilizer string
	counter    int
	start      time.Time
	rng        *rand.Rand
	preheat    int
	pulse      [3]int
	rise       int
	plateau    []float64 // one temperature a second
	exhaust    int
	dried      int
	vent       int
	air        float64 // pressure outside
	flaw       flaw
}

// newCycle draws a cycle from the seed and the number of its load alone, so that
// traces can be written in any order.
func newCycle(seed int64, number int, start time.Time, sterilizer string, counter int) *cycle {
	c := &cycle{sterilizer: sterilizer, counter: counter, start: start, air: 101.3, rng: rand.New(rand.NewPCG(uint64(seed), uint64(number)<<8|3))}
	between := func(low, high int) int { return low + c.rng.IntN(high-low+1) }
	c.preheat = between(230, 280)
	for i := range c.pulse {
		c.pulse[i] = between(205, 235)
	}
	c.rise = between(165, 195)
	level, drift := 134.9+0.4*c.rng.Float64(), 0.0
	for range 240 + between(6, 28) {
		drift = 0.96*drift + 0.05*c.noise()
		c.plateau = append(c.plateau, level+max(-0.4, min(0.4, drift)))
	}
	c.exhaust = between(90, 120)
	c.dried = between(1240, 1320)
	c.vent = between(50, 70)
	return c
}

// noise has a mean of nought and a standard deviation of about one.
func (c *cycle) noise() float64 {
	return 2 * (c.rng.Float64() + c.rng.Float64() + c.rng.Float64() - 1.5)
}

func (c *cycle) seconds() int {
	return c.preheat + c.pulse[0] + c.pulse[1] + c.pulse[2] + c.rise + len(c.plateau) + c.exhaust + c.dried + c.vent
}

func (c *cycle) length() time.Duration { return time.Duration(c.seconds()) * time.Second }

// exposure is the hold in minutes, cut to a tenth.
func (c *cycle) exposure() float64 { return math.Floor(float64(len(c.plateau))/6) / 10 }

// lowest is the lowest temperature of the hold, cut to a tenth.
func (c *cycle) lowest() float64 { return math.Floor(slices.Min(c.plateau)*10) / 10 }

// name is the trace's path below traces/.
func (c *cycle) name() string {
	return fmt.Sprintf("%d/%s-%05d.csv", c.start.Year(), c.sterilizer, c.shown())
}

// readings calls each with every second's temperature and pressure.
func (c *cycle) readings(each func(second int, celsius, kPa float64)) {
	each = c.flaw.sensor(c, each)
	t, celsius := 0, 0.0
	step := func(temperature, pressure float64) {
		celsius = temperature
		each(t, temperature+0.03*c.noise(), pressure+0.25*c.noise())
		t++
	}
	for i := range c.preheat {
		step(24+38*part(i, c.preheat), c.air)
	}
	pressure := c.air
	for _, n := range c.pulse {
		if c.flaw.still {
			c.purge(n, celsius, step)
		} else {
			c.pulseUp(n, celsius, pressure, step)
			pressure = pulseTop
		}
	}
	from := celsius
	for i := range c.rise {
		temperature := celsiusBetween(from, c.plateau[0], part(i+1, c.rise+1))
		step(temperature, saturation(temperature+c.flaw.apart*part(i+1, c.rise)))
		celsius = temperature
	}
	for _, temperature := range c.plateau {
		celsius = temperature
		each(t, temperature, saturation(temperature+c.flaw.apart)+0.25*c.noise())
		t++
	}
	hot, top := saturation(celsius+c.flaw.apart), celsius
	for i := range c.exhaust {
		gone := math.Sqrt(part(i+1, c.exhaust))
		step(top+(108-top)*gone, hot+(c.air-3-hot)*gone)
	}
	for i := range c.dried {
		step(108-18*part(i, c.dried), 7+(c.air-10)*math.Exp(-float64(i)/45))
	}
	for i := range c.vent {
		step(90-6*part(i, c.vent), 7+(c.air-7)*part(i, c.vent))
	}
}

// Each pulse goes down to one pressure, near which steam has that temperature, and
// up to the other.
const (
	pulseBottom = 20.0
	pumpedOut   = 61.0
	pulseTop    = 180.0
)

// pulseUp is one pulse: the pump down, then steam.
func (c *cycle) pulseUp(n int, celsius, kPa float64, step func(temperature, pressure float64)) {
	down := n * 3 / 5
	for i := range down {
		falling := math.Exp(-4 * part(i, down))
		step(pumpedOut+(celsius-pumpedOut)*falling, pulseBottom+(kPa-pulseBottom)*falling)
	}
	for i := range n - down {
		pressure := pulseBottom + (pulseTop-pulseBottom)*part(i+1, n-down)
		step(boiling(pressure), pressure)
	}
}

// purge is as long as a pulse, but only lets steam through at the pressure of the air.
func (c *cycle) purge(n int, from float64, step func(temperature, pressure float64)) {
	for i := range n {
		step(from+(boiling(c.air)-from)*part(i+1, n), c.air)
	}
}

func part(i, n int) float64 { return float64(i) / float64(n) }

// celsiusBetween slows down a little towards the end, as a controller does.
func celsiusBetween(from, to, part float64) float64 { return to - (to-from)*math.Pow(1-part, 1.25) }

// saturation is the pressure of saturated steam in kPa absolute at a temperature in
// °C: IAPWS-IF97, region 4, with its published coefficients (from memory; the test
// holds it against values computed with another program).
func saturation(celsius float64) float64 {
	k := celsius + 273.15
	v := k - 0.23855557567849/(k-0.65017534844798e3)
	a := v*v + 0.11670521452767e4*v - 0.72421316703206e6
	b := -0.17073846940092e2*v*v + 0.12020824702470e5*v - 0.32325550322333e7
	c := 0.14915108613530e2*v*v - 0.48232657361591e4*v + 0.40511340542057e6
	root := 2 * c / (-b + math.Sqrt(b*b-4*a*c))
	return 1000 * root * root * root * root
}

// boiling is the other way round, by halving; 0.01 K is enough for a trace.
func boiling(kPa float64) float64 {
	low, high := 1.0, 200.0
	for high-low > 0.01 {
		if mid := (low + high) / 2; saturation(mid) < kPa {
			low = mid
		} else {
			high = mid
		}
	}
	return (low + high) / 2
}
