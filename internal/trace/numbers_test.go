package trace

import (
	"bytes"
	"fmt"
	"math"

	"footing/internal/steam"
)

// numbered holds what is promised of the numbers of any file: none is missing where
// its comment promises one, none is beyond all bounds, and they go with each other.
func numbered(tr *Trace) error {
	c := &tr.Cycle
	if c.Readings == 0 {
		return nil
	}
	list := []float64{c.From, c.Until, c.First, c.Lowest, c.Highest, c.Warmest, c.LastTemperature, c.Lethality, c.Interval, c.Flat, c.FlatFrom, c.Jump, c.JumpAt, c.JumpOver, tr.Interval}
	sane := c.From == 0 && c.Until >= 0 && c.Lowest <= c.Highest && c.Highest <= c.Warmest && c.Lethality >= 0 && !(c.LeastPressure > c.MostPressure)
	for i := range c.Holds {
		h := &c.Holds[i]
		list = append(list, h.Least, h.Most)
		sane = sane && h.Least >= 0 && h.Least <= h.Most
		if !h.Reached {
			continue
		}
		list = append(list, h.From, h.Until, h.Lowest, h.Highest, h.Mean, h.Warmest, h.Spread, h.Lethality, h.After.Vacuum, h.After.Rest)
		list = append(append(append(list, h.Over...), h.Air...), h.Superheat...)
		const near = 1e-6
		sane = sane && h.From <= h.Until && h.Lowest <= h.Highest && h.Mean >= h.Level-near && h.Mean <= h.Highest+near && h.Lethality <= c.Lethality+near && ordered(h)
	}
	for i, p := range tr.Points {
		list = append(list, p.At, p.Coldest, p.Warmest)
		sane = sane && !math.IsInf(p.Pressure, 0) && (i == 0 || p.At >= tr.Points[i-1].At)
	}
	for _, p := range tr.Phases {
		list = append(list, p.From, p.Until)
	}
	for i, v := range list {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return fmt.Errorf("number %d is %v: %+v", i, v, c)
		}
	}
	if !sane {
		return fmt.Errorf("numbers that contradict each other: %+v", c)
	}
	return nil
}

// ordered: of pressures and distances all are known or none, least to most.
func ordered(h *steam.Hold) bool {
	for _, v := range [][3]float64{{h.LeastPressure, h.MeanPressure, h.MostPressure}, {h.ApartLeast, h.Apart, h.ApartMost}} {
		none := math.IsNaN(v[0]) && math.IsNaN(v[1]) && math.IsNaN(v[2])
		const near = 1e-6
		if !none && !(v[0] <= v[1]+near && v[1] <= v[2]+near) {
			return false
		}
	}
	return true
}

// straddling puts blank lines before a text, so that it lies across the end of the
// smallest buffer.
func straddling(text []byte) []byte {
	lines := bytes.Repeat(append(bytes.Repeat([]byte(" "), 4095), '\n'), leastBuffer/4096)
	n := max(0, len(lines)-len(text)/2-1)
	return append(append(lines[:n:n], '\n'), text...)
}
