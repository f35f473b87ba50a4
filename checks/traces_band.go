package checks

import (
	"fmt"
	"slices"

	"footing/internal/audit"
	"footing/internal/practice"
	"footing/internal/quantity"
	"footing/internal/steam"
)

var _ = define(audit.Check{
	ID:    "traces/band",
	Title: "while it was held, each steam cycle stayed inside the band above its set temperature",
	Why: "Each set temperature has a band: it may be a little hotter, not much. A hold far above its band says that steam was superheated or came with too much pressure, that the sensor is off, or that another program ran than the one named; instruments and pouches suffer too. " +
		"The foot of the band, too cool or too short, is told under traces/hold.",
	Grades:  []audit.Grade{audit.Major, audit.Observation},
	Subject: "sterilizers", Thing: "data-logger file", Things: "data-logger files",
	Needs: []string{"traces"},
	Helps: []string{"sterilizers", "programs", "loads.program", "loads.decision", "sterilizers.sensor_tolerance"},
	Uses:  []string{"traces.band", "traces.equilibration", "traces.error", "cycles.exposure", "cycles.dry-heat"},
	Fix: []string{
		"Look at the printout or the display's history of the same cycle: which program ran, and how hot was it?",
		"If another program ran than the one named, correct the load in a new row with today's date.",
		"Ask when the logger's sensor and the sterilizer's own were last calibrated; have the one that is off set right.",
		"If the cycle was as hot as the file says, ask the maker or your service firm to look at the control and the steam, and whether the instruments may be used.",
	},
	Verify: "A calibration report for the sensor, and later files whose hold stays inside the band.",
	Watch: func(x *audit.Examination, t *practice.Traced) steam.Setting {
		s := tracesSetting(x, t)
		for _, c := range x.Every("traces.band") {
			band := c.Quantity().In(quantity.KelvinD)
			s.Over = append(s.Over, max(0, band-s.Above), band, band+s.Below)
		}
		slices.Sort(s.Over)
		return s
	},
	Run: func(x *audit.Examination) {
		var hottest []float64
		tracesEachOf(x, tracesSteamOnly, func(subject audit.Subject, t *practice.Traced) {
			h, sure := tracesSet(x, t)
			tracesBandMark(x, t, h)
			if h == nil || !h.Reached {
				x.Unclear(subject, "no set temperature was reached, so there is no hold to look at: see traces/hold")
				return
			}
			hottest = append(hottest, h.Warmest-h.Level)
			r := x.Ask("traces.band", nil, func(c audit.Criterion) audit.Verdict { return tracesBandJudge(x, t, h, c) })
			hot := r.Verdict == audit.Fail && !r.Depends
			other := tracesBandOther(x, t, h)
			switch {
			case r.Verdict != audit.Meets && !sure:
				x.Unclear(subject, "hotter than the band of the set temperature that was concluded from the readings; another program may have run, and none is named", audit.Field{Kind: "loads", Name: "program"})
			case hot && other != nil:
				x.Unclear(subject, "hotter than the band of the program named, and as another set temperature would be", audit.Field{Kind: "loads", Name: "program"})
				x.Remark(subject, tracesBandProgram(x, t, h, other))
			case hot:
				f := tracesBandFault(x, t, h, r.Criterion)
				c := r.Criterion
				f.Criterion, f.By, f.Needed = &c, r.By, tracesBandNeed(x, c)+"; a sensor that is off, superheated steam or another program than the one named would explain it"
				tracesNotMet(x, subject, t, f)
			default:
				x.Settle(subject, r, tracesBandFault(x, t, h, r.Criterion), func(c audit.Criterion) string { return tracesBandNeed(x, c) },
					"hotter than the band by no more than the sensor's error, or for no longer than readings lie apart")
			}
		})
		tracesSpread(x, "hottest above the set temperature in the hold", "K", hottest)
	},
})

var tracesSteamOnly = []string{"steam"}

// tracesSettling is how long, in s, a hold may be out of its band before that
// counts: the time to settle, and one interval, since what a single reading showed
// may have lasted no longer.
func tracesSettling(x *audit.Examination, t *practice.Traced) float64 {
	if c, ok := x.Criterion("traces.equilibration", nil); ok {
		return cyclesSeconds(c.Quantity()) + t.Cycle.Interval
	}
	return t.Cycle.Interval
}

// tracesSettles says for how long a hold may be otherwise.
func tracesSettles(x *audit.Examination) string {
	if c, ok := x.Criterion("traces.equilibration", nil); ok {
		return ", but for " + c.Value() + " while it settles"
	}
	return ""
}

// tracesBandMark has a chart show the set temperature with the narrowest band that could hold.
func tracesBandMark(x *audit.Examination, t *practice.Traced, h *steam.Hold) {
	if c, ok := x.Criterion("traces.band", nil); ok && h != nil {
		x.Mark(t, h.Level, h.Level+c.Quantity().In(quantity.KelvinD))
	}
}

// tracesBandJudge holds one hold against one band.
func tracesBandJudge(x *audit.Examination, t *practice.Traced, h *steam.Hold, c audit.Criterion) audit.Verdict {
	band := c.Quantity().In(quantity.KelvinD)
	beyond := func(limit float64) float64 { return tracesBeyond(t.Cycle.Setting.Over, h.Over, limit) }
	switch allowed := tracesSettling(x, t); {
	case beyond(max(0, band-tracesTolerance(t))) <= allowed:
		return audit.Meets
	case beyond(band+tracesError(x, t)) > allowed:
		return audit.Fail
	}
	return audit.CannotTell
}

// tracesBandOther is a hotter hold in whose own band the warmest reading lies, and
// that lasted as long as is asked there: then another program may have run.
func tracesBandOther(x *audit.Examination, t *practice.Traced, h *steam.Hold) *steam.Hold {
	for _, level := range slices.Backward(tracesLevels(x, t)) {
		o := tracesHold(t, level)
		if o == nil || level <= h.Level || !o.Reached || o.Most < tracesShortest(x, t, level) {
			continue
		}
		r := x.Ask("traces.band", nil, func(c audit.Criterion) audit.Verdict { return tracesBandJudge(x, t, o, c) })
		if r.Verdict == audit.Meets || r.Depends {
			return o
		}
	}
	return nil
}

func tracesBandNeed(x *audit.Examination, c audit.Criterion) string {
	return "no more than " + c.Value() + " above the set temperature is meant" + tracesSettles(x)
}

func tracesBandFault(x *audit.Examination, t *practice.Traced, h *steam.Hold, c audit.Criterion) audit.Fault {
	if c.ID == "" {
		return audit.Fault{}
	}
	band := c.Quantity().In(quantity.KelvinD)
	top := h.Level + band
	lasted := audit.Lasted(tracesBeyond(t.Cycle.Setting.Over, h.Over, band))
	return audit.Fault{Grade: audit.Major, Matter: "hot", Day: tracesDay(t), Weight: h.Warmest - top,
		Found:    fmt.Sprintf("hotter than %.1f °C for %s of a hold at %s, and up to %.1f °C", top, lasted, tracesLevel(x.P, t, h.Level), h.Warmest),
		Evidence: []audit.Evidence{audit.InTrace(t, 0, fmt.Sprintf("up to %.1f °C in the hold", h.Warmest))}}
}

// tracesBandProgram tells of a hold that fits another set temperature than the one named.
func tracesBandProgram(x *audit.Examination, t *practice.Traced, h, other *steam.Hold) audit.Fault {
	return audit.Fault{Matter: "another program", Day: tracesDay(t),
		Found:  fmt.Sprintf("held at %.1f to %.1f °C, which is hotter than the band of %s that its program sets", other.Lowest, h.Warmest, tracesLevel(x.P, t, h.Level)),
		Needed: fmt.Sprintf("it fits a set temperature of %s, so perhaps another program ran", tracesLevel(x.P, t, other.Level)),
		Evidence: []audit.Evidence{audit.InTrace(t, 0, fmt.Sprintf("up to %.1f °C in the hold", h.Warmest)),
			audit.At(&t.Program.Row, "temperature", "its program")},
		Steps: []string{
			"Look at the printout or the display's history: which program ran?",
			"If it was another one, and that one suits what was in the load, correct the program in a new row with today's date.",
			"If it was the one named, have the sensor and the control looked at.",
		}}
}
