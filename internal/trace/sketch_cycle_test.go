package trace

import (
	"math"
	"math/rand/v2"
)

// madeUp is a made-up steam cycle with three pulses of air removal, one reading a second,
// as a controller with noise runs it: common practice, no source. A punctual one takes
// the same number of seconds for each part every time.
type madeUp struct {
	noise    float64 // K; five times as much in kPa
	punctual bool
}

type reading struct{ celsius, kPa float64 }

// run gives the cycle of a seed.
func (m madeUp) run(seed uint64) (list []reading) {
	r := rand.New(rand.NewPCG(seed, 7))
	drift := 0.0
	put := func(celsius, kPa float64) {
		drift = 0.96*drift + 0.3*m.noise*r.NormFloat64()
		list = append(list, reading{celsius + drift + m.noise*r.NormFloat64(), kPa + 5*m.noise*r.NormFloat64()})
	}
	part := func(low, high int, each func(x float64)) {
		n := (low + high) / 2
		if !m.punctual {
			n = low + r.IntN(high-low+1)
		}
		for i := range n {
			each(float64(i) / float64(n))
		}
	}
	level, from := 134.9, 62.0
	if !m.punctual {
		level += 0.4 * r.Float64()
	}
	part(230, 280, func(x float64) { put(24+38*x, 101.3) })
	for range 3 {
		part(123, 141, func(x float64) { put(from-12*x, 20+81*math.Exp(-4*x)) })
		part(82, 94, func(x float64) { put(boils(20+160*x), 20+160*x) })
		from = boils(180)
	}
	part(165, 195, func(x float64) { t := level - (level-from)*(1-x)*(1-x); put(t, vapour(t)) })
	part(246, 268, func(float64) { put(level, vapour(level)) })
	part(90, 120, func(x float64) {
		put(level+(108-level)*math.Sqrt(x), vapour(level)+(98-vapour(level))*math.Sqrt(x))
	})
	part(1240, 1320, func(x float64) { put(108-18*x, 7+91*math.Exp(-28*x)) })
	part(50, 70, func(x float64) { put(90-6*x, 7+94.3*x) })
	return list
}

// dry is a made-up cycle of dry heat: a heater with some inertia, switched on and off by
// a thermostat, so that the same ripple comes again and again.
func (m madeUp) dry(seed uint64, hours int) (list []reading) {
	r := rand.New(rand.NewPCG(seed, 8))
	room := 21.0
	if !m.punctual {
		room += r.Float64()
	}
	heater, air, on := room, room, true
	for i := range hours * 3600 {
		power := 0.0
		if on && i < hours*3000 {
			power = 1.2
		}
		heater += power - (heater-air)/90
		air += (heater-air)/90 - (air-room)/2400
		shown := air + m.noise*r.NormFloat64()
		if shown < 170.5 {
			on = true
		} else if shown > 171 {
			on = false
		}
		list = append(list, reading{shown, math.NaN()})
	}
	return list
}

// vapour is about the pressure of steam in kPa; near enough for a made-up cycle.
func vapour(celsius float64) float64 {
	return 101.325 * math.Exp(13.1*(1-373.15/(celsius+273.15)))
}

func boils(kPa float64) float64 { return 373.15/(1-math.Log(kPa/101.325)/13.1) - 273.15 }

// display is what a logger writes of a cycle: every so many seconds, to a last digit.
type display struct {
	every       int
	celsius     float64
	kPa         float64 // 0 for a logger without pressure
	fahrenheits bool    // the last digit is one of °F
}

func (d display) of(cycle []reading, phase int) (list []reading) {
	for i := phase % d.every; i < len(cycle); i += d.every {
		x := reading{d.read(cycle[i].celsius), math.NaN()}
		if d.kPa > 0 {
			x.kPa = math.Round(cycle[i].kPa/d.kPa) * d.kPa
		}
		list = append(list, x)
	}
	return list
}

func (d display) read(celsius float64) float64 {
	if d.fahrenheits {
		return (math.Round((celsius*9/5+32)/d.celsius)*d.celsius - 32) * 5 / 9
	}
	return math.Round(celsius/d.celsius) * d.celsius
}

// sketchOf is the sketch of readings, with an offset on the temperature.
func sketchOf(list []reading, offset float64) Sketch {
	var s sketcher
	for _, x := range list {
		s.add(x.celsius+offset, x.kPa)
	}
	return s.sketch()
}
