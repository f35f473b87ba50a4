package steam

import "sync"

// The saturation line as a series needs it, at every reading of a hold: read off a
// table with a parabola through the three nearest points, which costs a fifth of the
// formula, with its four roots one after the other, and lies within a ten-millionth
// of a kelvin of it.
const (
	quickFrom  = 80.0 // kPa
	quickUntil = 650.0
	quickStep  = 0.25
)

type quickTable [int((quickUntil-quickFrom)/quickStep) + 2]float64

var quickLine = sync.OnceValue(func() *quickTable {
	var t quickTable
	for i := range t {
		t[i] = saturationTemperature(quickFrom + quickStep*float64(i))
	}
	return &t
})

// at is saturationTemperature by the table, and by the formula outside it.
func (t *quickTable) at(kPa float64) float64 {
	if !(kPa >= quickFrom+quickStep && kPa < quickUntil) {
		return saturationTemperature(kPa)
	}
	x := (kPa - quickFrom) * (1 / quickStep)
	i := int(x + 0.5)
	x -= float64(i)
	before, here, after := t[i-1], t[i], t[i+1]
	return here + x*((after-before)+x*(before-2*here+after))/2
}
