package report

import (
	"fmt"
	"math"
	"strings"

	"footing/internal/result"
)

// steamAt is about the temperature in °C at which water boils at a pressure in kPa:
// Antoine's equation for water with its usual constants below and above 100 °C, from
// memory. It only gives the made-up cycles a likely shape.
func steamAt(kPa float64) float64 {
	mmHg := max(kPa, 0.1) * 7.50062
	if kPa < 101.325 {
		return 1730.63/(8.07131-math.Log10(mmHg)) - 233.426
	}
	return 1810.94/(8.14019-math.Log10(mmHg)) - 244.485
}

// cycle is a made-up pre-vacuum cycle at 134 °C: three pulses, a hold of so many
// seconds, exhaust and vacuum drying. air is how much higher the pressure is in the
// hold than steam alone would have, in kPa.
type cycle struct {
	hold, air float64
	sensors   int
	gauge     bool
	phases    bool
	step      float64
}

// leg is a part of a cycle: how long, in s, to which pressure, how.
type leg struct {
	name    string
	seconds float64
	kPa     float64
	fast    bool // most of the change at first, as a valve gives it
}

func (c cycle) legs() []leg {
	var out []leg
	out = append(out, leg{"warm-up", 60, 101, false})
	for i := range 3 {
		out = append(out, leg{fmt.Sprintf("vacuum %d", i+1), 100, 15 - float64(i), true}, leg{fmt.Sprintf("steam %d", i+1), 70, 150 + 20*float64(i), false})
	}
	return append(out, leg{"heating", 150, 310, false}, leg{"hold", c.hold, 310, false}, leg{"exhaust", 80, 101, true},
		leg{"vacuum drying", 420, 8, true}, leg{"air in", 40, 101, false})
}

func (c cycle) chart() *result.Chart {
	set, band := 134.0, 137.0
	out := &result.Chart{Set: &set, Band: &band, PressureFrom: "absolute"}
	if c.gauge {
		out.PressureFrom = "gauge"
	}
	at, was, warm := 0.0, 101.0, 24.0
	for _, l := range c.legs() {
		for t := 0.0; t < l.seconds; t += c.step {
			share := t / l.seconds
			if l.fast {
				share = (1 - math.Exp(-4*share)) / (1 - math.Exp(-4))
			}
			kPa := was + (l.kPa-was)*share
			shiver := math.Sin(at/7) + 0.6*math.Sin(at/3.1)
			target := steamAt(kPa)
			switch {
			case l.name == "warm-up":
				target = 60
			case kPa < 90: // the chamber's walls keep a vacuum warm
				target = max(target, 92)
			}
			warm += (target - warm) * (1 - math.Exp(-c.step/12))
			if l.name == "hold" {
				warm = 134.55 + 0.12*shiver
				kPa = 311 + c.air + 0.9*shiver
			}
			out.Time, out.Temperature = append(out.Time, at), append(out.Temperature, warm)
			if c.sensors > 1 {
				out.Warmest = append(out.Warmest, warm+0.5+0.2*math.Sin(at/11))
			}
			out.Saturation = append(out.Saturation, steamAt(kPa))
			if c.gauge {
				kPa -= 101.3
			}
			out.Pressure = append(out.Pressure, kPa)
			at += c.step
		}
		was = l.kPa
		if l.name == "hold" {
			was += c.air
		}
	}
	c.mark(out)
	return out
}

// mark finds the hold and names the phases.
func (c cycle) mark(out *result.Chart) {
	for i, v := range out.Temperature {
		switch {
		case v < *out.Set:
		case out.Hold == nil:
			out.Hold = &result.Hold{Stretch: result.Stretch{From: out.Time[i], Until: out.Time[i]}}
		default:
			out.Hold.Until = out.Time[i]
		}
	}
	if h := out.Hold; h != nil { // a reading may be missed at each end
		h.Least, h.Most = h.Until-h.From-c.step, h.Until-h.From+c.step
	}
	at := 0.0
	for _, l := range c.legs() {
		if c.phases {
			out.Phases = append(out.Phases, result.ChartPhase{Name: l.name, Stretch: result.Stretch{From: at, Until: at + l.seconds}})
		}
		at += l.seconds
	}
}

// drawnSample is three data-logger files as a report draws them: a hold that is too
// short, one with air in the steam, and one that conforms.
func drawnSample(step float64) []result.Exhibit {
	short := cycle{hold: 190, sensors: 2, phases: true, step: step}.chart()
	short.File, short.Load, short.Sterilizer, short.Start, short.Findings = "traces/c401.csv", "401", "S1", "2026-11-08 16:05", []string{"dd0000000001"}
	air := cycle{hold: 290, air: 34, gauge: true, step: step}.chart()
	air.File, air.Load, air.Sterilizer, air.Start, air.Findings = "traces/c400.csv", "400", "S1", "2026-11-07 16:05", []string{"dd0000000002"}
	good := cycle{hold: 300, sensors: 2, phases: true, step: step}.chart()
	good.File, good.Sterilizer, good.Start, good.Conforming = "traces/c404.csv", "S1", "2026-11-11 16:05", "most"
	out := []result.Exhibit{{Check: "traces/hold", Chart: short}, {Check: "traces/saturation", Chart: air}, {Check: "traces/hold", Chart: good}}
	for i := range out {
		x := &out[i]
		x.ID, x.Kind, x.Title, x.Columns = fmt.Sprintf("trace-%d", i+1), result.Drawn, "Data-logger file "+x.Chart.File[len("traces/"):], []string{"Figure", "Value"}
		x.Rows = sampleFigures()[i]
	}
	return out
}

// sampleFigures are as many and as long as those of an audit.
func sampleFigures() [][][]string {
	return [][][]string{
		{
			{"First reading", "8 Nov 2026, 16:05"},
			{"Readings", "731 over 24 min 20 s, one every 2 s; 2 temperature sensors"},
			{"Set temperature", "134.0 °C, band up to 137.0 °C"},
			{"Longest unbroken hold", "3 min 12 s (3 min 8 s to 3 min 16 s)"},
			{"Temperature in the hold", "lowest 134.3, mean 134.5, highest 134.8 °C; warmest sensor up to 135.4 °C"},
			{"Widest between sensors", "0.7 K"},
			{"Heating", "12 min 8 s from the first reading to the hold"},
			{"Pressure", "8.2 to 312.4 kPa absolute"},
			{"Pressure in the hold", "309.7 to 312.4 kPa absolute, mean 311.0"},
			{"Against saturated steam", "+0.4 K (+0.1 to +0.7 K), saturated steam of that pressure less the temperature measured; far above nought points to air, far below to superheat, either to a sensor"},
			{"Pulses before the hold", "3, down to 15.2, 14.1 and 13.0 kPa absolute"},
			{"Venting", "1 min 20 s from the end of the hold until the pressure was back at that of the air"},
			{"Drying", "6 min 10 s under vacuum, to its end"},
			{"F0", "78.0 min over all readings, 71.2 min in the hold; reference 121.1 °C, z 10 K; a second opinion, and never a ground for release"},
		},
		{{"First reading", "7 Nov 2026, 16:05"}, {"Longest unbroken hold", "4 min 56 s (4 min 52 s to 5 min)"}, {"Against saturated steam", "+4.0 K (+3.6 to +4.3 K), saturated steam of that pressure less the temperature measured; far above nought points to air, far below to superheat, either to a sensor"}},
		{{"First reading", "11 Nov 2026, 16:05"}, {"Longest unbroken hold", "5 min (4 min 56 s to 5 min 4 s)"}},
	}
}

// loggerFiles are twelve files: paired in each way, two with no load, one that cannot be judged.
func loggerFiles() (out []result.Trace) {
	for i := range 12 {
		t := result.Trace{File: fmt.Sprintf("traces/c%03d.csv", i+400), SHA256: strings.Repeat(fmt.Sprintf("%02x", i), 32), Bytes: 41200,
			Lines: 1000, Heading: 6, Readings: 993, Aside: 1, Start: fmt.Sprintf("2026-11-%02d 16:05", i+7), Sterilizer: "S1", Load: fmt.Sprint(400 + i), Judged: true}
		t.By = []string{"name", "counter", "counter", "start"}[i%4]
		switch i {
		case 4:
			t.Load, t.By, t.Why = "", "", "no load began within ten minutes of it"
		case 5:
			t.Load, t.By, t.Why, t.Judged, t.Heading, t.Readings, t.Aside = "", "", "no column of it is a temperature", false, 1000, 0, 0
		}
		out = append(out, t)
	}
	return out
}
