package cli

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"footing/checks"
	"footing/internal/quantity"
	"footing/internal/steam"
	"footing/internal/trace"
)

// question is what is asked of each data-logger file.
type question struct {
	set, hold, altitude quantity.Quantity // not written where not given
	scale               steam.Scale
	usual               []usual // set temperatures of the shipped tables, coolest first
	above, below        float64 // K: see steam.Setting
}

// usual is a temperature of a table, and the shortest time that any asks there.
type usual struct{ celsius, seconds float64 }

// methods are the scale of lethality of each, and the criterion whose tables are asked.
var methods = map[string]struct {
	scale steam.Scale
	table string
}{"steam": {steam.F0, "cycles.exposure"}, "dry-heat": {steam.FH, "cycles.dry-heat"}, "washer": {steam.A0, ""}}

// question reads the flags. The error names the flag and what to write.
func (o *cycleFlags) question() (*question, error) {
	q := &question{}
	m, ok := methods[strings.ToLower(o.method)]
	if !ok {
		return nil, problem(fmt.Sprintf("--method: there is no method %q", o.method), "write steam, dry-heat or washer")
	}
	q.scale = m.scale
	var reference, tolerance quantity.Quantity
	for _, f := range []struct {
		name, text, like string
		dimension        quantity.Dimension
		into             *quantity.Quantity
	}{
		{"set", o.set, "134 °C", quantity.Temperature, &q.set},
		{"hold", o.hold, "3.5 min", quantity.Span, &q.hold},
		{"altitude", o.altitude, "350 m", quantity.Length, &q.altitude},
		{"reference", o.reference, "121.0 °C", quantity.Temperature, &reference},
		{"tolerance", o.tolerance, "0.5 K", quantity.Difference, &tolerance},
	} {
		if f.text == "" {
			continue
		}
		v, err := quantity.Parse(f.text, f.dimension, quantity.Fallback{})
		if err != nil {
			what := strings.TrimSuffix(err.Error(), ", or once in the heading") // a flag has none
			return nil, problem(fmt.Sprintf("--%s: %s", f.name, what), fmt.Sprintf("write it as --%s %q", f.name, f.like))
		}
		*f.into = v
	}
	if reference.Written() {
		q.scale = rescaled(q.scale, reference.In(quantity.Celsius))
	}
	if err := q.possible(tolerance); err != nil {
		return nil, err
	}
	return q, q.tables(m.table, tolerance)
}

// otherReference is the distance from a scale's own reference, in K, from which on its
// name, which stands for that reference, is no longer right: F0 goes by 121.0 and by
// 121.1 °C, and 250 °F is 121.11.
const otherReference = 0.15

// rescaled is a scale with another reference, and without the name that would be wrong.
func rescaled(s steam.Scale, celsius float64) steam.Scale {
	if math.Abs(celsius-s.Reference) > otherReference {
		s.Name = "F"
	}
	s.Reference = celsius
	return s
}

// possible refuses values that can be written and not be meant.
func (q *question) possible(tolerance quantity.Quantity) error {
	// A span is compared with nought only if it has a fixed length: months have none.
	if q.hold.Written() && (q.hold.AtLeast(quantity.Exact(0, quantity.Second), quantity.Quantity{}) != quantity.Yes || q.hold.Value == 0) {
		return problem("--hold: "+q.hold.String()+" is no time that a cycle can be held", `write it as --hold "3.5 min"`)
	}
	if tolerance.Written() && tolerance.Value < 0 {
		return problem("--tolerance: "+tolerance.String()+" is below nought", `write how far the sensor may be off on either side, as --tolerance "0.5 K"`)
	}
	if q.altitude.Written() {
		if _, err := steam.Atmosphere(q.altitude.In(quantity.Metre)); err != nil {
			return problem("--altitude: "+err.Error(), `write the height above the sea, as --altitude "350 m"`)
		}
	}
	return nil
}

// tables takes from the criteria the set temperatures in use, and how far a sensor
// may be off where it was not said.
func (q *question) tables(id string, tolerance quantity.Quantity) error {
	criteria, err := checks.Criteria()
	if err != nil {
		return err
	}
	if tolerance.Written() {
		q.above = tolerance.In(quantity.KelvinD)
		q.below = q.above
	} else if granted := criteria.Values("traces.error"); len(granted) > 0 {
		q.below = granted[0].Quantity().In(quantity.KelvinD)
	}
	for _, c := range criteria.Values(id) {
		for _, row := range c.Steps() {
			q.add(usual{row[0].In(quantity.Celsius), row[1].In(quantity.Second)})
		}
	}
	slices.SortFunc(q.usual, func(a, b usual) int { return cmp.Compare(a.celsius, b.celsius) })
	return nil
}

func (q *question) add(u usual) {
	for i := range q.usual {
		if q.usual[i].celsius == u.celsius {
			q.usual[i].seconds = min(q.usual[i].seconds, u.seconds)
			return
		}
	}
	q.usual = append(q.usual, u)
}

// look is what one file is watched for.
func (q *question) look(h *trace.Header) (l trace.Look) {
	if q.set.Written() {
		l.Levels = []float64{q.set.In(quantity.Celsius)}
	} else {
		for _, u := range q.usual {
			l.Levels = append(l.Levels, u.celsius)
		}
	}
	l.Above, l.Below = q.above, q.below+h.TemperatureHalf()
	l.Scale = q.scale
	if q.altitude.Written() {
		l.Altitude, l.AltitudeKnown = q.altitude.In(quantity.Metre), true
	}
	return l
}
