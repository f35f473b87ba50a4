package checks

import (
	"fmt"

	"footing/internal/audit"
	"footing/internal/practice"
	"footing/internal/quantity"
)

// cyclesPressureOthers finds the sterilizers of which no row fits as written, and
// every one does once gauge is read as absolute, or absolute as gauge.
func cyclesPressureOthers(p *practice.Practice, limit float64) map[string]bool {
	others := map[string]bool{}
	for _, l := range p.LoadsByTime() {
		s, state := p.Sterilizer(l.Sterilizer)
		if state != practice.One {
			continue
		}
		gap, why, _ := cyclesPressureGap(p, l, s)
		if why != "" {
			continue
		}
		fits := false
		if gap.far() > limit+gap.rounding {
			turned := *l
			turned.Pressure.Ref = quantity.Gauge
			if l.Pressure.Ref == quantity.Gauge {
				turned.Pressure.Ref = quantity.Absolute
			}
			gap, why, _ = cyclesPressureGap(p, &turned, s)
			fits = why == "" && gap.far() <= limit+gap.rounding
		}
		if before, seen := others[l.Sterilizer]; !seen || before {
			others[l.Sterilizer] = fits
		}
	}
	return others
}

// cyclesPressureMisread tells of a pressure that fits only under the other name.
func cyclesPressureMisread(l *practice.Load) audit.Fault {
	was, is := "absolute", "gauge"
	if l.Pressure.Ref == quantity.Gauge {
		was, is = is, was
	}
	return audit.Fault{Matter: "gauge or absolute", Day: l.Started.Day(),
		Found:    fmt.Sprintf("%s and %s written, which do not belong together; read as %s they do, on every row", l.Temperature, l.Pressure, is),
		Needed:   "if the display shows " + is + " pressure, say so in the heading or in practice.units instead of " + was,
		Evidence: []audit.Evidence{audit.At(&l.Row, "temperature"), audit.At(&l.Row, "pressure")},
		Steps:    []string{"Look into the maker's instructions or at the display: is the pressure gauge or absolute?", "Correct the heading of the column, or practice.units, and audit again."}}
}
