package checks

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"footing/internal/result"
	"footing/internal/steam"
)

// tracesForm is a way in which a logger may write the same cycle.
type tracesForm struct {
	name     string
	altitude float64 // m
	head     string
	row      func(second int, celsius, kPa, air float64) string
}

func clockOf(s int) string { return fmt.Sprintf("%02d:%02d:%02d", s/3600, s/60%60, s%60) }

var tracesForms = []tracesForm{
	{"°C and kPa absolute, time of day", 0, "date,2026-03-02\ntime,temperature [°C],pressure [kPa absolute]\n",
		func(s int, c, p, _ float64) string { return fmt.Sprintf("%s,%.2f,%.2f\n", clockOf(9*3600+s), c, p) }},
	{"°F and psi gauge", 0, "date,2026-03-02\ntime,temperature [°F],pressure [psi gauge]\n",
		func(s int, c, p, air float64) string {
			return fmt.Sprintf("%s,%.2f,%.3f\n", clockOf(9*3600+s), c*9/5+32, (p-air)/6.894757)
		}},
	{"°F and psi gauge at 1,500 m", 1500, "date,2026-03-02\ntime,temperature [°F],pressure [psi gauge]\n",
		func(s int, c, p, air float64) string {
			return fmt.Sprintf("%s,%.2f,%.3f\n", clockOf(9*3600+s), c*9/5+32, (p-air)/6.894757)
		}},
	{"semicolons and decimal comma, bar gauge at 1,500 m", 1500, "Date: 2026-03-02\ntime;temperature [°C];pressure [bar gauge]\n",
		func(s int, c, p, air float64) string {
			return strings.ReplaceAll(fmt.Sprintf("%s;%.2f;%.4f\n", clockOf(9*3600+s), c, (p-air)/100), ".", ",")
		}},
	{"tabs and mbar absolute, day and time in one", 1500, "time\ttemperature [°C]\tpressure [mbar absolute]\n",
		func(s int, c, p, _ float64) string {
			return fmt.Sprintf("2026-03-02 %s\t%.2f\t%.1f\n", clockOf(9*3600+s), c, p*10)
		}},
	{"elapsed seconds", 0, "elapsed [s],temperature [°C],pressure [kPa absolute]\n",
		func(s int, c, p, _ float64) string { return fmt.Sprintf("%d,%.2f,%.2f\n", s, c, p) }},
	{"a stop watch", 0, "elapsed [mm:ss],temperature [°C],pressure [kPa absolute]\n",
		func(s int, c, p, _ float64) string { return fmt.Sprintf("%02d:%02d,%.2f,%.2f\n", s/60, s%60, c, p) }},
}

func (f *tracesForm) write(t *testing.T, legs []honestLeg) string {
	t.Helper()
	air, err := steam.Atmosphere(f.altitude)
	require.NoError(t, err)
	outside := make([]honestLeg, len(legs))
	for i, l := range legs {
		if l.kPa == 101.3 {
			l.kPa = air
		}
		outside[i] = l
	}
	var b strings.Builder
	b.WriteString(f.head)
	for s := 0.0; s <= legSeconds(outside); s += 5 {
		celsius, kPa := legAt(outside, s)
		b.WriteString(f.row(int(s), celsius, kPa, air))
	}
	return b.String()
}

// The same cycle, however a logger writes it, gets the same verdict of each check.
func TestTracesSameVerdictInEveryForm(t *testing.T) {
	airy := pumpedCycle(134.8, 240)
	for i := range airy {
		if airy[i].kPa == 0 { // steam with air beside it
			airy[i].kPa, _ = steam.SaturationPressure(airy[i].celsius + 5)
		}
	}
	for name, legs := range map[string][]honestLeg{
		"long enough": pumpedCycle(134.8, 240), "short": pumpedCycle(134.8, 150), "hot": pumpedCycle(140.5, 240), "air": airy, "no pulses": gravityCycle(134.8, 240),
	} {
		for _, id := range []string{"traces/hold", "traces/band", "traces/saturation", "traces/air-removal", "traces/lethality"} {
			want := ""
			for _, f := range tracesForms {
				r := tracesAudit(t, id, map[string]string{
					"practice.yaml":   fmt.Sprintf("name: Practice of the case\nregulator: Council of the case\nrule_set: uk-practice\naltitude: %g m\n", f.altitude),
					"sterilizers.csv": "id,method,air_removal\nS1,steam,dynamic\n",
					"programs.csv":    "id,sterilizer,name,temperature,exposure,pulses\nU,S1,wrapped,134 °C,3.5 min,3\n",
					"loads.csv":       "id,started,trace,program,wrapped,decision\nL-1,2026-03-02 09:00,a.csv,U,yes,released\n",
					"traces/a.csv":    f.write(t, legs),
				})
				got := tracesVerdict(r)
				if want == "" {
					want = got
				}
				assert.Equal(t, want, got, "%s, %s: %s", name, id, f.name)
			}
			if id == "traces/hold" && name == "short" {
				assert.Contains(t, want, "critical")
			}
		}
	}
}

// tracesVerdict is what a check said, without what depends on the digits shown.
func tracesVerdict(r *result.Result) string {
	c := r.Checks[0]
	s := fmt.Sprintf("%s %+v", c.Outcome, c.Counts)
	for _, q := range c.Reasons {
		s += "; " + q.Text
	}
	for _, f := range r.Findings {
		s += "; " + f.Grade + " " + f.Matter
	}
	return s
}
