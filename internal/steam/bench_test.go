package steam

import (
	"math"
	"math/rand/v2"
	"testing"
)

// made is a cycle with pumped air removal, read each second: heating, three pulses, a
// hold at 134 °C, exhaust, vacuum drying, venting; temperatures rounded to 0.01 K.
func made(seed uint64) []reading {
	rng := rand.New(rand.NewPCG(seed, 1))
	noise := func() float64 { return rng.Float64() + rng.Float64() + rng.Float64() - 1.5 }
	var all []reading
	celsius := 24.0
	put := func(t, p float64) {
		celsius = t
		t = math.Round(100*(t+0.06*noise())) / 100
		all = append(all, reading{float64(len(all)), t, t + math.Round(10*rng.Float64())/100, math.Round(10*(p+0.5*noise())) / 10})
	}
	for i := range 250 {
		put(24+38*float64(i)/250, 101.3)
	}
	for range 3 {
		from := celsius
		for i := range 130 {
			put(from-12*float64(i)/130, 20+81*math.Exp(-4*float64(i)/130))
		}
		for i := range 90 {
			p := 20 + 160*float64(i+1)/90
			put(saturationTemperature(p), p)
		}
	}
	from := celsius
	for i := range 180 {
		left := 1 - float64(i+1)/180
		t := 135.1 - (135.1-from)*left*left
		put(t, saturationPressure(t+zero))
	}
	drift := 0.0
	for range 257 {
		drift = 0.96*drift + 0.1*noise()
		put(135.1+drift, saturationPressure(135.1+drift+zero))
	}
	for i := range 105 {
		gone := math.Sqrt(float64(i+1) / 105)
		put(135-27*gone, 315-217*gone)
	}
	for i := range 1280 {
		put(108-18*float64(i)/1280, 7+91*math.Exp(-float64(i)/45))
	}
	for i := range 60 {
		put(90-float64(i)/10, 7+94.3*float64(i)/60)
	}
	return all
}

// watched is what a whole battery asks for: six levels.
func watched() Setting {
	return Setting{
		Levels: []float64{121, 126, 132, 134, 135, 137}, Below: 0.005, Above: 0.5, Over: []float64{3, 4},
		Apart: []float64{2}, Absolute: true, Air: seaLevel, Scale: F0,
	}
}

// In nanoseconds a reading: whole cycles, each with its NewSeries and Cycle; and of drying
// alone, in which most readings lie.
func BenchmarkSeriesAdd(b *testing.B) {
	all, set := made(1), watched()
	b.Run("cycle", func(b *testing.B) {
		b.ReportAllocs()
		for b.Loop() {
			if c := summed(set, all); c.Readings != len(all) {
				b.Fatal(c.Readings)
			}
		}
		b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*len(all)), "ns/reading")
	})
	b.Run("drying", func(b *testing.B) {
		all, s, at := all[1600:2600], NewSeries(set), 0.0
		for b.Loop() {
			for i := range all {
				at++
				s.Add(at, all[i].cold, all[i].warm, all[i].press)
			}
		}
		b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N*len(all)), "ns/reading")
	})
}
