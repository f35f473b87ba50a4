package audit

import (
	"fmt"
	"strings"

	"footing/internal/quantity"
	"footing/internal/steam"
	"footing/internal/trace"
)

// SecondOpinion goes with every lethality that is told.
const SecondOpinion = "a second opinion, and never a ground for release"

// figures are rows of "what" and "how much".
type figures [][]string

func (f *figures) add(what, value string) { *f = append(*f, []string{what, value}) }

// keyFigures is what a cycle did, in words.
func keyFigures(t *trace.Trace, hold *steam.Hold, band float64) [][]string {
	var f figures
	f.add("First reading", orElse(t.Start.Words(), "no date that could be read"))
	if t.Unusable != "" {
		f.add("Not judged", t.Unusable)
		return f
	}
	c := &t.Cycle
	f.readings(t)
	if hold == nil {
		f.add("Temperature", between(c.Lowest, c.Highest, "°C")+warmest(t, c.Warmest))
	} else {
		f.hold(t, hold, band)
	}
	f.pressure(t, hold)
	f.after(t, hold)
	f.lethality(c, hold)
	return f
}

func (f *figures) readings(t *trace.Trace) {
	c := &t.Cycle
	f.add("Readings", fmt.Sprintf("%s over %s, one every %s; %s", counted(c.Readings), Lasted(c.Until-c.From), Lasted(c.Interval), many(sensors(t), "temperature sensor")))
	if c.Gaps > 0 {
		f.add("Gaps", fmt.Sprintf("%d, the longest of %s", c.Gaps, Lasted(c.LongestGap)))
	}
}

func (f *figures) hold(t *trace.Trace, h *steam.Hold, band float64) {
	set := tenths(h.Level) + " °C"
	if !bad(band) {
		set += ", band up to " + tenths(band) + " °C"
	}
	f.add("Set temperature", set)
	f.add("Longest unbroken hold", HeldFor(h))
	if !h.Reached {
		f.add("Temperature", between(t.Cycle.Lowest, t.Cycle.Highest, "°C")+warmest(t, t.Cycle.Warmest))
		return
	}
	f.add("Temperature in the hold", fmt.Sprintf("lowest %s, mean %s, highest %s °C%s", tenths(h.Lowest), tenths(h.Mean), tenths(h.Highest), warmest(t, h.Warmest)))
	if sensors(t) > 1 {
		f.add("Widest between sensors", tenths(h.Spread)+" K")
		f.add("Equilibration", Lasted(h.Equilibration)+" from the warmest sensor to the coldest")
	}
	f.add("Heating", Lasted(h.From-t.Cycle.From)+" from the first reading to the hold")
}

// warmest adds what the warmest of several sensors showed.
func warmest(t *trace.Trace, celsius float64) string {
	if sensors(t) < 2 {
		return ""
	}
	return "; warmest sensor up to " + tenths(celsius) + " °C"
}

func (f *figures) pressure(t *trace.Trace, h *steam.Hold) {
	if !t.HasPressure() {
		return
	}
	c, unit := &t.Cycle, strings.TrimSpace("kPa "+pressureFrom(t))
	held, bySteam := h != nil && h.Reached, ScaleOf(c).Name == steam.F0.Name
	f.add("Pressure", between(c.LeastPressure, c.MostPressure, unit)+turned(t))
	if held && !bad(h.MeanPressure) {
		f.add("Pressure in the hold", fmt.Sprintf("%s, mean %s", between(h.LeastPressure, h.MostPressure, unit), tenths(h.MeanPressure)))
	}
	switch {
	case held && bySteam:
		f.add("Against saturated steam", apart(t, h))
		f.add("Pulses before the hold", pulses(h.Pulses, c.Pulses[:min(h.Pulses, len(c.Pulses))], unit))
	case bySteam:
		f.add("Pulses", pulses(c.PulseCount, c.Pulses, unit))
	}
}

// turned says how gauge readings became absolute ones.
func turned(t *trace.Trace) string {
	switch {
	case t.PressureRef() != quantity.Gauge:
		return ""
	case t.Cycle.Setting.Absolute:
		return "; written as gauge, the air outside of " + tenths(t.Cycle.Air) + " kPa added"
	}
	return "; the altitude is not known, so it was not turned absolute"
}

// apart is the difference to saturated steam, with what its sign means.
func apart(t *trace.Trace, h *steam.Hold) string {
	switch {
	case !t.Cycle.Setting.Absolute && t.PressureRef() == quantity.Gauge:
		return "not known: gauge pressure needs the altitude"
	case !t.Cycle.Setting.Absolute:
		return "not known: the file does not say whether the pressure is gauge or absolute"
	case bad(h.Apart):
		return "not known: no pressure was written in the hold"
	}
	return fmt.Sprintf("%s K (%s to %s K), saturated steam of that pressure less the temperature measured; far above nought points to air, far below to superheat, either to a sensor",
		signed(h.Apart), signed(h.ApartLeast), signed(h.ApartMost))
}

// pulses lists the depth of each, of those that were kept.
func pulses(n int, kept []steam.Pulse, unit string) string {
	if n == 0 {
		return "none"
	}
	var depths, peaks []string
	for _, p := range kept {
		depths, peaks = append(depths, tenths(p.Lowest)), append(peaks, tenths(p.Peak))
	}
	text := fmt.Sprintf("%d, down to %s %s", n, words(depths), unit)
	// The last rise leads into the hold.
	if between := peaks[:min(n-1, len(peaks))]; len(between) > 0 {
		text += ", up to " + words(between) + " between them"
	}
	if n > len(kept) {
		text += fmt.Sprintf(" (the first %d)", len(kept))
	}
	return text
}

func (f *figures) after(t *trace.Trace, h *steam.Hold) {
	if h == nil || !h.Reached || ScaleOf(&t.Cycle).Name != steam.F0.Name {
		return
	}
	a := &h.After
	back := "the pressure was back at that of the air"
	if !t.HasPressure() {
		back = "the temperature was at 100 °C"
	}
	if bad(a.Vented) {
		f.add("Venting", "the file ends before "+back)
	} else {
		f.add("Venting", Lasted(a.Vented-h.Until)+" from the end of the hold until "+back)
	}
	switch {
	case a.Vacuum > 0 && a.VacuumEnded:
		f.add("Drying", Lasted(a.Vacuum)+" under vacuum, to its end")
	case a.Vacuum > 0:
		f.add("Drying", Lasted(a.Vacuum)+" under vacuum; the file ends before the vacuum does")
	default:
		f.add("Drying", "no vacuum seen; the file goes on for "+Lasted(a.Rest)+" after the hold")
	}
}

func (f *figures) lethality(c *steam.Cycle, h *steam.Hold) {
	s := ScaleOf(c)
	text := fmt.Sprintf("%s over all readings", Lethality(s, c.Lethality))
	if h != nil && h.Reached {
		text += fmt.Sprintf(", %s in the hold", Lethality(s, h.Lethality))
	}
	f.add(s.Name, fmt.Sprintf("%s; reference %s °C, z %g K; %s", text, tenths(s.Reference), s.Z, SecondOpinion))
}
