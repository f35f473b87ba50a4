package checks

import (
	"fmt"
	"math"

	"footing/internal/audit"
	"footing/internal/practice"
	"footing/internal/quantity"
	"footing/internal/steam"
)

// tracesSaturationOthers finds the sterilizers of which no file fits as it is
// read, and every one does once gauge is read as absolute, or absolute as gauge.
func tracesSaturationOthers(x *audit.Examination, limit float64) map[*practice.Sterilizer]bool {
	others := map[*practice.Sterilizer]bool{}
	for _, t := range x.P.Traces() {
		if t.Sterilizer == nil || tracesSteam(t) != quantity.Yes || t.Unread != "" || t.Unusable != "" {
			continue
		}
		h, _ := tracesSet(x, t)
		if why, _ := tracesSaturationBlind(t, h); why != "" {
			continue
		}
		turned := false
		if g := tracesSaturationGapOf(x, t, h, limit); g.sure {
			at, err := steam.SaturationTemperature(tracesSaturationTurned(x, t, h))
			turned = err == nil && math.Abs(at-h.Mean) <= limit+tracesSaturationRounding(t, h.Level) || tracesSaturationHigh(x, t, h)
		}
		if before, seen := others[t.Sterilizer]; !seen || before {
			others[t.Sterilizer] = turned
		}
	}
	return others
}

// tracesSaturationTurned is the mean pressure of the hold, in kPa absolute, if what
// the file calls gauge were absolute, or the other way round. Where the altitude is
// not written the air is that at the sea.
func tracesSaturationTurned(x *audit.Examination, t *practice.Traced, h *steam.Hold) float64 {
	air := tracesAir(x.P, t)
	if t.PressureRef() == quantity.Gauge {
		return h.MeanPressure - air
	}
	return h.MeanPressure + air
}

// tracesSaturationHigh reports whether what the file calls absolute may be gauge at a
// place above the sea whose altitude is not written: it does not begin with the
// pressure of air, and lacks no more than that of the sea and no less than half of it,
// which is the air of a height at which nobody practises.
func tracesSaturationHigh(x *audit.Examination, t *practice.Traced, h *steam.Hold) bool {
	if _, written := x.P.AltitudeOf(t.Sterilizer); written || t.PressureRef() == quantity.Gauge || !t.Cycle.BegunAway {
		return false
	}
	kPa, err := steam.SaturationPressure(h.Mean)
	lacks, sea := kPa-h.MeanPressure, tracesAir(x.P, t)
	return err == nil && lacks <= sea && lacks+lacks >= sea
}

// tracesSaturationMisread tells of a pressure that fits only under the other name.
func tracesSaturationMisread(t *practice.Traced, h *steam.Hold) audit.Fault {
	was, is := "absolute", "gauge"
	if t.PressureRef() == quantity.Gauge {
		was, is = is, was
	}
	return audit.Fault{Matter: "gauge or absolute", Day: tracesDay(t),
		Found:    fmt.Sprintf("held at %.1f °C with a pressure that does not belong to it, read as %s; read as %s it does, in every file of the sterilizer", h.Mean, was, is),
		Needed:   "if the logger writes " + is + " pressure, say so in traces/layout.yaml or in practice.units instead of " + was,
		Evidence: []audit.Evidence{audit.InTrace(t, 0, "pressure read as "+was)},
		Steps: []string{
			"Look into the logger's instructions: does it write gauge or absolute pressure? A logger that stands in the open air shows about 0 for gauge, and about 100 kPa for absolute.",
			"Say so once in traces/layout.yaml or in practice.units, and audit again.",
		}}
}
