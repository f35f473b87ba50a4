package trace

import (
	"math/rand/v2"
	"testing"
)

func BenchmarkSketcherReading(b *testing.B) {
	r := rand.New(rand.NewPCG(1, 2))
	var t, p [4096]float64
	for i := range t {
		t[i], p[i] = 134+float64(r.IntN(40))/100, 304+float64(r.IntN(90))/100
	}
	var s sketcher
	b.ReportAllocs()
	for i := range b.N {
		s.add(t[i%4096], p[i%4096])
	}
	_ = s.sketch()
}

func BenchmarkThinnerReading(b *testing.B) {
	r := rand.New(rand.NewPCG(1, 2))
	var t, p [4096]float64
	for i := range t {
		t[i], p[i] = 134+float64(r.IntN(40))/100, 304+float64(r.IntN(90))/100
	}
	s := newThinner(1000)
	b.ReportAllocs()
	for i := range b.N {
		s.add(float64(i), t[i%4096], t[i%4096], p[i%4096])
	}
	_ = s.points()
}
