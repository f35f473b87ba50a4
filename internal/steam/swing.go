package steam

import "math"

// swung is how far, in kPa, pressure must fall, and rise again, to count as a pulse.
// Our judgement: a pump's or a steam flush's pulse moves it by 50 kPa and more, noise and
// a controller's hunting by 10 at most.
const swung = 20.0

// keptPulses are told one by one; more are only counted.
const keptPulses = 32

// swing finds the pulses of pressure: a fall of at least 20 kPa and then a rise of at
// least 20 kPa. What moves less between two turns is noise. It makes no difference
// whether the pressure goes below that of the air, as with a pump, or stays above, as
// with steam flushes.
type swing struct {
	falling   bool
	high, low float64 // kPa, since the last turn
	lowAt     float64 // s
	open      bool    // the rise that goes on belongs to a pulse
	count     int
	pulses    [keptPulses]Pulse
}

func (z *swing) begin() { z.high = math.Inf(-1) }

func (z *swing) add(at, p float64) {
	if z.falling {
		z.fall(at, p)
		return
	}
	if p > z.high {
		z.high = p
	} else if p <= z.high-swung+grain {
		z.settle()
		z.falling, z.low, z.lowAt, z.open = true, p, at, false
	}
}

func (z *swing) fall(at, p float64) {
	if p < z.low {
		z.low, z.lowAt = p, at
	} else if p >= z.low+swung-grain {
		if z.count < keptPulses {
			z.pulses[z.count] = Pulse{At: z.lowAt, Lowest: z.low, Peak: p}
		}
		z.count++
		z.falling, z.high, z.open = false, p, true
	}
}

// calm is between what pressures nothing is to be noted.
func (z *swing) calm() span {
	if z.falling {
		return span{z.low, z.low + swung - 2*grain}
	}
	return span{z.high - swung + 2*grain, z.high}
}

// settle writes the peak of the pulse that is open.
func (z *swing) settle() {
	if z.open && z.count <= keptPulses {
		z.pulses[z.count-1].Peak = z.high
	}
}
