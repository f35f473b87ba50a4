package checks

import (
	"fmt"
	"math"
	"slices"

	"footing/internal/audit"
	"footing/internal/practice"
	"footing/internal/quantity"
	"footing/internal/steam"
)

var _ = define(audit.Check{
	ID:    "traces/saturation",
	Title: "while it was held, each steam cycle's measured pressure and temperature belonged together as those of saturated steam do",
	Why: "In saturated steam the pressure fixes the temperature. A pressure higher than the temperature allows for says that air was left in the chamber beside the steam; a temperature higher than the pressure allows for says that the steam was superheated, which heats like dry air. " +
		"A sensor or gauge that is off, a wrong altitude, and gauge read as absolute look the same, so look at these first.",
	Grades:  []audit.Grade{audit.Major, audit.Observation},
	Subject: "sterilizers", Thing: "data-logger file", Things: "data-logger files",
	Needs: []string{"traces"},
	Helps: []string{"sterilizers", "practice.altitude", "sites.altitude", "sterilizers.site", "practice.units", "programs", "loads.program", "sterilizers.sensor_tolerance"},
	Uses:  []string{"traces.saturation", "traces.equilibration", "traces.error", "cycles.exposure", "cycles.dry-heat"},
	Fix: []string{
		"Check that the file says gauge or absolute rightly, and that the altitude is that of the site where the sterilizer stands.",
		"Have the logger's temperature sensor and pressure sensor calibrated, or ask for their last report.",
		"If both are right, stop using the sterilizer and run the air-removal test and the leak test that its maker names.",
		"Ask the maker or your service firm to look for air, a leak, wet or superheated steam.",
		"Ask them too whether loads of the cycles named here can be relied on; set packs that are still closed aside until they have answered.",
	},
	Verify: "A calibration report for both sensors, a passed air-removal or leak test, and later files whose pressure and temperature belong together.",
	Watch: func(x *audit.Examination, t *practice.Traced) steam.Setting {
		s := tracesSetting(x, t)
		if limit, ok := tracesSaturationLimit(x); ok && t.HasPressure() {
			s.Apart = append(s.Apart, max(0, limit-s.Above), limit)
			for _, level := range s.Levels {
				s.Apart = append(s.Apart, limit+tracesSaturationRounding(t, level))
			}
			slices.Sort(s.Apart)
			s.Apart = slices.Compact(s.Apart)
		}
		return s
	},
	Run: func(x *audit.Examination) {
		limit, ok := tracesSaturationLimit(x)
		if !ok {
			x.Nothing("no rule says how far pressure and temperature may lie apart")
			return
		}
		other := tracesSaturationOthers(x, limit)
		var apart []float64
		tracesEachOf(x, tracesSteamOnly, func(subject audit.Subject, t *practice.Traced) {
			h, _ := tracesSet(x, t)
			if why, missing := tracesSaturationBlind(t, h); why != "" {
				x.Unclear(subject, why, missing...)
				return
			}
			apart = append(apart, h.Apart)
			g := tracesSaturationGapOf(x, t, h, limit)
			switch {
			case g.fits:
				x.Met(subject)
			case !g.sure:
				x.Unclear(subject, "off by no more than the rounding of both values and the sensor's tolerance could make, or for no longer than readings lie apart")
			case other[t.Sterilizer]:
				x.Unclear(subject, "the pressure fits the temperature only if gauge is read as absolute, or absolute as gauge, and so it is in every file of the sterilizer", audit.Field{Kind: "practice", Name: "units"})
				x.Remark(subject, tracesSaturationMisread(t, h))
			default:
				c, _ := x.Criterion("traces.saturation", nil)
				tracesNotMet(x, subject, t, tracesSaturationFault(x, t, h, g, &c))
			}
		})
		tracesSpread(x, "saturation temperature of the pressure less the temperature, mean of the hold", "K", apart)
	},
})

func tracesSaturationLimit(x *audit.Examination) (kelvin float64, ok bool) {
	c, ok := x.Criterion("traces.saturation", nil)
	if !ok {
		return 0, false
	}
	return c.Quantity().In(quantity.KelvinD), true
}

// tracesSaturationRounding is what the last digits of both values, and the sensor's
// tolerance where given, can make at a set temperature, in K.
func tracesSaturationRounding(t *practice.Traced, level float64) float64 {
	sum := t.TemperatureHalf() + tracesTolerance(t)
	kPa, err := steam.SaturationPressure(level)
	if err != nil {
		return sum
	}
	low, err := steam.SaturationTemperature(kPa - t.PressureHalf())
	if err != nil {
		return sum
	}
	return sum + level - low
}

// tracesSaturationBlind says why a file's hold cannot be compared with steam; "" where it can.
func tracesSaturationBlind(t *practice.Traced, h *steam.Hold) (why string, missing []audit.Field) {
	switch {
	case !t.HasPressure():
		return "the data-logger file has no pressure", nil
	case t.PressureRef() == quantity.Unsaid:
		return "the pressure does not say whether it is gauge or absolute; write it once into practice.units or traces/layout.yaml", []audit.Field{{Kind: "practice", Name: "units"}}
	case !t.Cycle.Setting.Absolute:
		return "the pressure is a gauge's, and the altitude of the site is not written", []audit.Field{{Kind: "practice", Name: "altitude"}}
	case h == nil || !h.Reached:
		return "no set temperature was reached, so there is no hold to look at: see traces/hold", nil
	case math.IsNaN(h.Apart):
		return "no pressure was read in the hold", nil
	}
	return "", nil
}

// tracesSaturationGap is how one hold's pressure and temperature lie apart.
type tracesSaturationGap struct {
	fits, sure bool
	above      bool    // the pressure is higher than steam alone would have
	seconds    float64 // further apart than the limit, on that side
	far        float64 // K, the furthest on that side
}

func tracesSaturationGapOf(x *audit.Examination, t *practice.Traced, h *steam.Hold, limit float64) (g tracesSaturationGap) {
	watched, allowed := t.Cycle.Setting.Apart, tracesSettling(x, t)
	within := max(0, limit-tracesTolerance(t))
	beyond := limit + tracesSaturationRounding(t, h.Level)
	air, superheat := tracesBeyond(watched, h.Air, limit), tracesBeyond(watched, h.Superheat, limit)
	g.fits = tracesBeyond(watched, h.Air, within) <= allowed && tracesBeyond(watched, h.Superheat, within) <= allowed
	g.sure = tracesBeyond(watched, h.Air, beyond) > allowed || tracesBeyond(watched, h.Superheat, beyond) > allowed
	if g.above = air >= superheat; g.above {
		g.seconds, g.far = air, h.ApartMost
	} else {
		g.seconds, g.far = superheat, -h.ApartLeast
	}
	return g
}

func tracesSaturationFault(x *audit.Examination, t *practice.Traced, h *steam.Hold, g tracesSaturationGap, c *audit.Criterion) audit.Fault {
	need := "they should lie no more than " + c.Value() + " and the rounding of both apart" + tracesSettles(x) + "; "
	f := audit.Fault{Grade: audit.Major, Matter: "above", Weight: g.far, Day: tracesDay(t), Criterion: c,
		Found:    fmt.Sprintf("for %s of the hold the pressure was that of steam more than %s hotter than measured, and up to %.1f K hotter", audit.Lasted(g.seconds), c.Value(), g.far),
		Needed:   need + "an altitude that is wrong, gauge taken for absolute, a sensor that is off, or air left in the chamber would explain it",
		Evidence: []audit.Evidence{audit.InTrace(t, 0, fmt.Sprintf("mean of the hold %.1f °C with %.1f kPa absolute", h.Mean, h.MeanPressure))}}
	if !g.above {
		f.Matter = "below"
		f.Found = fmt.Sprintf("for %s of the hold the temperature measured was more than %s above that of steam at the pressure measured, and up to %.1f K above", audit.Lasted(g.seconds), c.Value(), g.far)
		f.Needed = need + "an altitude that is wrong, absolute taken for gauge, a sensor that is off, or superheated steam would explain it"
	}
	return f
}
