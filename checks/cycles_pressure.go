package checks

import (
	"fmt"
	"math"

	"footing/internal/audit"
	"footing/internal/practice"
	"footing/internal/quantity"
	"footing/internal/steam"
)

var _ = define(audit.Check{
	ID:    "cycles/pressure",
	Title: "the pressure written for each steam load fits saturated steam at the temperature written",
	Why: "In saturated steam the pressure fixes the temperature. Where the two that are written do not belong together, air was left in the chamber, the steam was superheated, a sensor or gauge is off, or one of the two was not read but copied. " +
		"A gauge counts from the air outside, so its reading depends on the altitude of the site.",
	Grades:  []audit.Grade{audit.Major, audit.Observation},
	Subject: "sterilizers", Thing: "load", Things: "loads",
	Needs: []string{"loads", "sterilizers"},
	Helps: []string{"loads.pressure", "loads.temperature", "practice.altitude", "sites.altitude", "sterilizers.site", "sterilizers.sensor_tolerance"},
	Uses:  []string{"cycles.pressure"},
	Fix: []string{
		"Look at the next cycle yourself: do gauge and display show what is written, and what does the printout say?",
		"Check that the log says gauge or absolute rightly, and that the altitude is that of the site where the sterilizer stands.",
		"If they do differ, stop using the sterilizer and ask its maker or your service firm to look for air, a leak or a sensor that is off, and to calibrate it.",
		"From today on, write both values of each load as the instruments show them, not as the program sets them.",
	},
	Verify: "A calibration report for sensor and gauge, and later loads whose pressure and temperature belong together.",
	Run: func(x *audit.Examination) {
		c, ok := x.Criterion("cycles.pressure", nil)
		if !ok {
			x.Nothing("no rule says how far pressure and temperature may differ")
			return
		}
		limit := c.Quantity().In(quantity.KelvinD)
		same, other := cyclesPressureHabits(x.P), cyclesPressureOthers(x.P, limit)
		cyclesEachSteam(x, func(subject audit.Subject, l *practice.Load, s *practice.Sterilizer) {
			if !l.Pressure.Written() && cyclesContract(x, subject, l, s) {
				return
			}
			gap, why, missing := cyclesPressureGap(x.P, l, s)
			if why != "" {
				x.Unclear(subject, why, missing...)
				return
			}
			switch {
			case gap.far() <= limit:
				x.Met(subject)
			case gap.far() <= limit+gap.rounding:
				x.Unclear(subject, "off by no more than the rounding of both values and the sensor's tolerance could make")
			case other[l.Sterilizer]:
				x.Unclear(subject, "the pressure fits the temperature only if gauge is read as absolute, or absolute as gauge, and so it is on every row of the sterilizer", audit.Field{Kind: "practice", Name: "units"})
				x.Remark(subject, cyclesPressureMisread(l))
			default:
				x.NotMet(subject, cyclesPressureFault(l, gap, &c, same[cyclesPressureKey(l)]))
			}
		})
	},
})

// cyclesPressureDifference is how a load's two values lie apart, in kelvin.
type cyclesPressureDifference struct {
	written, steam float64 // °C: as written, and of saturated steam at the pressure
	rounding       float64 // half of both last digits, and the sensor's tolerance
}

func (d cyclesPressureDifference) far() float64 { return math.Abs(d.steam - d.written) }

// cyclesPressureGap compares one load's pressure with its temperature, or says
// why it cannot.
func cyclesPressureGap(p *practice.Practice, l *practice.Load, s *practice.Sterilizer) (d cyclesPressureDifference, why string, missing []audit.Field) {
	switch {
	case !l.Pressure.Written():
		return d, "no pressure is written", []audit.Field{{Kind: "loads", Name: "pressure"}}
	case !l.Temperature.Written():
		return d, "no temperature is written", []audit.Field{{Kind: "loads", Name: "temperature"}}
	case l.Pressure.Ref == quantity.Unsaid:
		return d, "the pressure does not say whether it is gauge or absolute; write it once into practice.units or the heading", []audit.Field{{Kind: "practice", Name: "units"}}
	}
	var air float64
	if l.Pressure.Ref == quantity.Gauge {
		altitude, ok := p.AltitudeOf(s)
		if !ok {
			return d, "the pressure is a gauge's, and the altitude of the site is not written", []audit.Field{{Kind: "practice", Name: "altitude"}}
		}
		var err error
		if air, err = steam.Atmosphere(altitude.In(quantity.Metre)); err != nil {
			return d, "the altitude of the site is none that a sterilizer can stand at", []audit.Field{{Kind: "practice", Name: "altitude"}}
		}
	}
	at, err := steam.SaturationTemperature(l.Pressure.In(quantity.KPa) + air)
	low, errLow := steam.SaturationTemperature(l.Pressure.Low(quantity.KPa) + air)
	high, errHigh := steam.SaturationTemperature(l.Pressure.High(quantity.KPa) + air)
	if err != nil || errLow != nil || errHigh != nil {
		return d, "there is no steam at the pressure written; look at its unit", nil
	}
	d.written, d.steam = l.Temperature.In(quantity.Celsius), at
	d.rounding = max(high-at, at-low) + l.Temperature.High(quantity.Celsius) - d.written
	if s.SensorTolerance.Written() {
		d.rounding += s.SensorTolerance.In(quantity.KelvinD)
	}
	return d, "", nil
}

type cyclesPressureGroup struct {
	sterilizer, program string
	temperature         quantity.Quantity
}

// cyclesPressureKey is what rows are compared under for values that never vary: set
// values differ from program to program, which not every log names.
func cyclesPressureKey(l *practice.Load) cyclesPressureGroup {
	return cyclesPressureGroup{l.Sterilizer, l.Program, l.Temperature}
}

// cyclesPressureHabits finds the sterilizers, programs and temperatures of which
// several rows have a pressure, and every one the same.
func cyclesPressureHabits(p *practice.Practice) map[cyclesPressureGroup]bool {
	first := map[cyclesPressureGroup]quantity.Quantity{}
	same := map[cyclesPressureGroup]bool{}
	for _, l := range p.LoadsByTime() {
		if !l.Pressure.Written() || !l.Temperature.Written() {
			continue
		}
		key, now := cyclesPressureKey(l), l.Pressure
		if before, seen := first[key]; !seen {
			first[key] = now
		} else if was, told := same[key]; !told || was {
			same[key] = before == now
		}
	}
	return same
}

func cyclesPressureFault(l *practice.Load, d cyclesPressureDifference, c *audit.Criterion, habit bool) audit.Fault {
	f := audit.Fault{
		Grade: audit.Major, Matter: "above", Weight: d.far(), Day: l.Started.Day(), Criterion: c,
		Found:    fmt.Sprintf("%s and %s written; saturated steam of that pressure has %.1f °C, %.1f K more", l.Temperature, l.Pressure, d.steam, d.far()),
		Needed:   "they should lie no more than " + c.Value() + " and the rounding of both apart; air in the chamber, a sensor or gauge that is off, or a value not read but copied would explain it",
		Evidence: []audit.Evidence{audit.At(&l.Row, "temperature"), audit.At(&l.Row, "pressure")},
	}
	if d.steam < d.written {
		f.Matter = "below"
		f.Found = fmt.Sprintf("%s and %s written; saturated steam of that pressure has %.1f °C, %.1f K less", l.Temperature, l.Pressure, d.steam, d.far())
		f.Needed = "they should lie no more than " + c.Value() + " and the rounding of both apart; superheated steam, a sensor or gauge that is off, or a value not read but copied would explain it"
	}
	if habit {
		f.Grade, f.Matter = audit.Observation, f.Matter+" on every row"
		f.Found += ", and the same two values stand on every row of that temperature"
		f.Needed = "they look like set values or marks on the gauge, which say nothing of how each load ran"
		f.Steps = []string{"From today on, write what gauge and display show during each hold.", "If they show these values, ask the maker or your service firm which of the two is off."}
	}
	return f
}
