package quantity

import (
	"errors"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The spellings are those that people write in logs: common practice, no source.
func TestParseReadsWhatPeopleWrite(t *testing.T) {
	for _, c := range []struct {
		in    string
		d     Dimension
		value float64
		half  float64
		unit  Unit
		ref   Reference
		out   string
	}{
		{"121 °C", Temperature, 121, 0.5, Celsius, 0, "121 °C"},
		{"121C", Temperature, 121, 0.5, Celsius, 0, "121 °C"},
		{"121 deg C", Temperature, 121, 0.5, Celsius, 0, "121 °C"},
		{"121 Celsius", Temperature, 121, 0.5, Celsius, 0, "121 °C"},
		{"121 degrees celsius", Temperature, 121, 0.5, Celsius, 0, "121 °C"},
		{"121ºC", Temperature, 121, 0.5, Celsius, 0, "121 °C"},
		{"121 ℃", Temperature, 121, 0.5, Celsius, 0, "121 °C"},
		{"121,3\u00a0°C", Temperature, 121.3, 0.05, Celsius, 0, "121.3 °C"},
		{"\u00a0 134.0 C ", Temperature, 134, 0.05, Celsius, 0, "134.0 °C"},
		{"250 °F", Temperature, 250, 0.5, Fahrenheit, 0, "250 °F"},
		{"250 ℉", Temperature, 250, 0.5, Fahrenheit, 0, "250 °F"},
		{"394 \u212a", Temperature, 394, 0.5, KelvinT, 0, "394 K"},
		{"30′", Span, 30, 0.5, Minute, 0, "30 min"},
		{"30″", Span, 30, 0.5, Second, 0, "30 s"},
		{"75％", Percent, 75, 0.5, PercentU, 0, "75 %"},
		{"123456.123456789 Pa", Pressure, 123456.123456789, 0.5e-9, Pa, 0, "123456.123456789 Pa"},
		{"250f", Temperature, 250, 0.5, Fahrenheit, 0, "250 °F"},
		{"394.2 K", Temperature, 394.2, 0.05, KelvinT, 0, "394.2 K"},
		{"−4 °C", Temperature, -4, 0.5, Celsius, 0, "-4 °C"},
		{"+4 °C", Temperature, 4, 0.5, Celsius, 0, "4 °C"},
		{"-0 °C", Temperature, 0, 0.5, Celsius, 0, "0 °C"},
		{"3 K", Difference, 3, 0.5, KelvinD, 0, "3 K"},
		{"0,5 °C", Difference, 0.5, 0.05, CelsiusD, 0, "0.5 °C"},
		{"9 °F", Difference, 9, 0.5, FahrenheitD, 0, "9 °F"},
		{"15 psi gauge", Pressure, 15, 0.5, Psi, Gauge, "15 psi gauge"},
		{"15psig", Pressure, 15, 0.5, Psi, Gauge, "15 psi gauge"},
		{"15 psi, gauge", Pressure, 15, 0.5, Psi, Gauge, "15 psi gauge"},
		{"15 psi-g", Pressure, 15, 0.5, Psi, Gauge, "15 psi gauge"},
		{"15 PSI", Pressure, 15, 0.5, Psi, Unsaid, "15 psi"},
		{"1.05 bar(g)", Pressure, 1.05, 0.005, Bar, Gauge, "1.05 bar gauge"},
		{"2.05 bara", Pressure, 2.05, 0.005, Bar, Absolute, "2.05 bar absolute"},
		{"2 bars", Pressure, 2, 0.5, Bar, Unsaid, "2 bar"},
		{"205 kPa abs", Pressure, 205, 0.5, KPa, Absolute, "205 kPa absolute"},
		{"205 kPa (abs.)", Pressure, 205, 0.5, KPa, Absolute, "205 kPa absolute"},
		{"1013 hPa", Pressure, 1013, 0.5, Hpa, Unsaid, "1013 hPa"},
		{"0.205 MPa absolute", Pressure, 0.205, 0.0005, MPa, Absolute, "0.205 MPa absolute"},
		{"101325 Pa absolute", Pressure, 101325, 0.5, Pa, Absolute, "101325 Pa absolute"},
		{"1 atm", Pressure, 1, 0.5, Atm, Unsaid, "1 atm"},
		{"2050 mbara", Pressure, 2050, 0.5, Mbar, Absolute, "2050 mbar absolute"},
		{"-0.9 bar gauge", Pressure, -0.9, 0.05, Bar, Gauge, "-0.9 bar gauge"},
		{"1.013 bar absolute", Pressure, 1.013, 0.0005, Bar, Absolute, "1.013 bar absolute"},
		{"0,205 MPa absolute", Pressure, 0.205, 0.0005, MPa, Absolute, "0.205 MPa absolute"},
		{"1.3 mbar/min", PressureRate, 1.3, 0.05, MbarPerMinute, 0, "1.3 mbar/min"},
		{"1,3 mbar per minute", PressureRate, 1.3, 0.05, MbarPerMinute, 0, "1.3 mbar/min"},
		{"0.13 kPa / min", PressureRate, 0.13, 0.005, KPaPerMinute, 0, "0.13 kPa/min"},
		{"78 mbar/h", PressureRate, 78, 0.5, rate(Mbar, 2), 0, "78 mbar/h"},
		{"30 min", Span, 30, 0.5, Minute, 0, "30 min"},
		{"30mins.", Span, 30, 0.5, Minute, 0, "30 min"},
		{"30'", Span, 30, 0.5, Minute, 0, "30 min"},
		{"3,5 min", Span, 3.5, 0.05, Minute, 0, "3.5 min"},
		{".5 h", Span, 0.5, 0.05, Hour, 0, "0.5 h"},
		{"30.0 min", Span, 30, 0.05, Minute, 0, "30.0 min"},
		{"120 sec", Span, 120, 0.5, Second, 0, "120 s"},
		{"10 hrs", Span, 10, 0.5, Hour, 0, "10 h"},
		{"14 days", Span, 14, 0.5, DayU, 0, "14 d"},
		{"1 week", Span, 1, 0.5, Week, 0, "1 week"},
		{"12 months", Span, 12, 0.5, Month, 0, "12 months"},
		{"1 month", Span, 1, 0.5, Month, 0, "1 month"},
		{"1 year", Span, 1, 0.5, Year, 0, "1 year"},
		{"2 yrs", Span, 2, 0.5, Year, 0, "2 years"},
		{"350 m", Length, 350, 0.5, Metre, 0, "350 m"},
		{"3 m", Length, 3, 0.5, Metre, 0, "3 m"},
		{"1150 ft", Length, 1150, 0.5, Foot, 0, "1150 ft"},
		{"1150'", Length, 1150, 0.5, Foot, 0, "1150 ft"},
		{"350 m above sea level", Length, 350, 0.5, Metre, 0, "350 m"},
		{"0.35 km", Length, 0.35, 0.005, Kilometre, 0, "0.35 km"},
		{"75%", Percent, 75, 0.5, PercentU, 0, "75 %"},
		{"2.4 per cent", Percent, 2.4, 0.05, PercentU, 0, "2.4 %"},
		{"42", Plain, 42, 0.5, NoUnit, 0, "42"},
		{"0", Plain, 0, 0.5, NoUnit, 0, "0"},
	} {
		q, err := Parse(c.in, c.d, Fallback{})
		if assert.NoError(t, err, c.in) {
			assert.Equal(t, Quantity{c.value, c.half, c.unit, c.ref}, q, c.in)
			assert.Equal(t, c.out, q.String(), c.in)
			assert.Equal(t, c.d, q.Dimension(), c.in)
			assert.True(t, q.Written(), c.in)
		}
	}
}

func TestParseRefusesInWords(t *testing.T) {
	for _, c := range []struct {
		in    string
		d     Dimension
		words []string
	}{
		{"", Temperature, []string{"is empty", "°C, °F or K"}},
		{" \u00a0", Span, []string{"is empty"}},
		{"121", Temperature, []string{`"121" has no unit`, "°C, °F or K", "121 °C", "heading"}},
		{"121°", Temperature, []string{"degrees of what", "121 °C or 121 °F"}},
		{"121 °", Difference, []string{"has no unit"}},
		{"15", Pressure, []string{"has no unit", "psi", "gauge or absolute"}},
		{"15 gauge", Pressure, []string{"has no unit"}},
		{"0.2 mPa", Pressure, []string{"megapascal or millipascal"}},
		{"0.2 mpa", Pressure, []string{"megapascal or millipascal"}},
		{"121 min", Temperature, []string{"unit not known for a temperature"}},
		{"30 °C", Span, []string{"unit not known for a time span"}},
		{"3 m", Span, []string{"minutes or months", "3 min or 3 months"}},
		{"2 h 3 m", Span, []string{"minutes or months", "3 min or 3 months"}},
		{"2:30", Span, []string{"hours and minutes, or minutes and seconds", "2 h 30 min or 2 min 30 s"}},
		{"2 h 30", Span, []string{"does not say the unit of its last number"}},
		{"30 min 2 h", Span, []string{"from the longest unit to the shortest"}},
		{"30 min 30 min", Span, []string{"from the longest unit to the shortest"}},
		{"2.5 h 30 min", Span, []string{"decimals before its last part"}},
		{"1 month 3 d", Span, []string{"mixes months or years"}},
		{"1 h x", Span, []string{"unit not known"}},
		{"2 h - 30 min", Span, []string{"unit not known"}},
		{"2 h -30 min", Span, []string{"unit not known"}},
		{"999999999 weeks 1.999999999 s", Span, []string{"longer than can be"}},
		{"-2 h 30 min", Span, []string{"below nought"}},
		{"-3 min", Span, []string{"below nought"}},
		{"-5 %", Percent, []string{"below nought"}},
		{"-300 °C", Temperature, []string{"colder than anything"}},
		{"-2 K", Temperature, []string{"colder than anything"}},
		{"-3 kPa absolute", Pressure, []string{"below nought"}},
		{"1,234 mbar", Pressure, []string{"decimal comma or a thousands comma", "1.234 or 1234"}},
		{"12,345.6 Pa", Pressure, []string{"decimal comma or a thousands comma"}},
		{"1,234.5 Pa", Pressure, []string{"thousands"}},
		{"1.234,5 Pa", Pressure, []string{"more than one point or comma", "without a separator"}},
		{"1 234 mbar", Pressure, []string{"two numbers"}},
		{"1'234 mbar", Pressure, []string{"thousands mark"}},
		{"1’234 mbar", Pressure, []string{"thousands mark"}},
		{"nan", Temperature, []string{"does not begin with a number"}},
		{"inf °C", Temperature, []string{"does not begin with a number"}},
		{"1e3 Pa", Pressure, []string{"power of ten"}},
		{"1E3", Plain, []string{"power of ten"}},
		{"abc", Plain, []string{"does not begin with a number", "write one number"}},
		{"~30 min", Span, []string{"does not begin with a number"}},
		{"> 30 min", Span, []string{"does not begin with a number"}},
		{"5. min", Span, []string{"point or comma with no digit"}},
		{"121 °C 30 min", Temperature, []string{"unit not known"}},
		{"121 °C!", Temperature, []string{"unit not known"}},
		{"121-124 °C", Temperature, []string{"unit not known"}},
		{"30 min,", Span, []string{"unit not known"}},
		{"6 packs", Plain, []string{"is not a number alone", "write 6 and nothing after it"}},
		{"1234567890 Pa", Pressure, []string{"more digits than a reading has"}},
		{"1.1234567890 Pa", Pressure, []string{"more digits than a reading has"}},
		{"1234567.123456789 Pa", Pressure, []string{"more digits than a reading has", "at most fifteen"}},
		{"1.3 mbar", PressureRate, []string{"unit not known for a pressure rate", "mbar/min"}},
		{"1.3 /min", PressureRate, []string{"unit not known for a pressure rate"}},
		{"1.3 mbar gauge/min", PressureRate, []string{"unit not known for a pressure rate"}},
		{"1.3 mbar/d", PressureRate, []string{"unit not known for a pressure rate"}},
		{"12 " + strings.Repeat("m", 200), Length, []string{"…", "unit not known for a length"}},
	} {
		q, err := Parse(c.in, c.d, Fallback{})
		if !assert.Error(t, err, c.in) {
			t.Log(q)
			continue
		}
		var e *Error
		require.ErrorAs(t, err, &e)
		assert.Equal(t, c.in, e.Found)
		assert.Zero(t, q, c.in)
		for _, w := range c.words {
			assert.Contains(t, err.Error(), w, c.in)
		}
		assert.Equal(t, strings.ToLower(e.Why), e.Why, "lower case")
	}
}

func TestBareNumberTakesTheFallback(t *testing.T) {
	for _, c := range []struct {
		in   string
		d    Dimension
		f    Fallback
		want string
	}{
		{"121", Temperature, Fallback{Unit: Celsius}, "121 °C"},
		{"121°", Temperature, Fallback{Unit: Celsius}, "121 °C"},
		{"250 °F", Temperature, Fallback{Unit: Celsius}, "250 °F"},
		{"3", Difference, Fallback{Unit: Fahrenheit}, "3 °F"},
		{"3", Difference, Fallback{Unit: KelvinT}, "3 K"},
		{"15", Pressure, Fallback{Psi, Gauge}, "15 psi gauge"},
		{"15 absolute", Pressure, Fallback{Psi, Gauge}, "15 psi absolute"},
		{"15 psi", Pressure, Fallback{KPa, Gauge}, "15 psi"},
		{"30", Span, Fallback{Unit: Minute}, "30 min"},
		{"30", Span, Fallback{Unit: Minute, Ref: Gauge}, "30 min"},
		{"350", Length, Fallback{Unit: Metre}, "350 m"},
		{"75", Percent, Fallback{Unit: PercentU}, "75 %"},
		{"6", Plain, Fallback{}, "6"},
	} {
		q, err := Parse(c.in, c.d, c.f)
		require.NoError(t, err, c.in)
		assert.Equal(t, c.want, q.String(), c.in)
	}
	_, err := Parse("121", Temperature, Fallback{Unit: Minute})
	assert.ErrorContains(t, err, "has no unit", "a fallback of another dimension is none")
	_, err = Parse("3", Span, Fallback{Unit: Celsius})
	assert.ErrorContains(t, err, "has no unit")
}

func TestParseUnit(t *testing.T) {
	for _, c := range []struct {
		in   string
		d    Dimension
		unit Unit
		ref  Reference
	}{
		{"°C", Temperature, Celsius, 0}, {"C", Temperature, Celsius, 0}, {"deg C", Temperature, Celsius, 0},
		{"F", Temperature, Fahrenheit, 0}, {"°C", Difference, CelsiusD, 0}, {"K", Difference, KelvinD, 0},
		{"psi gauge", Pressure, Psi, Gauge}, {"psig", Pressure, Psi, Gauge}, {"kPa abs", Pressure, KPa, Absolute},
		{"bar(g)", Pressure, Bar, Gauge}, {"bar", Pressure, Bar, Unsaid}, {"hPa", Pressure, Hpa, Unsaid},
		{"min", Span, Minute, 0}, {"mins", Span, Minute, 0}, {"hours", Span, Hour, 0}, {"'", Span, Minute, 0},
		{"mbar/min", PressureRate, MbarPerMinute, 0}, {"m", Length, Metre, 0}, {"ft", Length, Foot, 0}, {"%", Percent, PercentU, 0},
	} {
		u, r, err := ParseUnit(c.in, c.d)
		assert.NoError(t, err, c.in)
		assert.Equal(t, c.unit, u, c.in)
		assert.Equal(t, c.ref, r, c.in)
	}
	for in, d := range map[string]Dimension{"": Temperature, "°": Temperature, "gauge": Pressure, "m": Span, "packs": Length, "°C": Plain} {
		_, _, err := ParseUnit(in, d)
		var e *Error
		assert.True(t, errors.As(err, &e), in)
	}
}

func TestMixedSpans(t *testing.T) {
	for _, c := range []struct {
		in, out     string
		value, half float64
		seconds     float64
	}{
		{"2 h 30 min", "2 h 30 min", 150, 0.5, 9000},
		{"2h30min", "2 h 30 min", 150, 0.5, 9000},
		{"2 hours and 30 minutes", "2 h 30 min", 150, 0.5, 9000},
		{"2 hours, 30 minutes", "2 h 30 min", 150, 0.5, 9000},
		{"2 h 0 min", "2 h 0 min", 120, 0.5, 7200},
		{"1 h 90 min", "2 h 30 min", 150, 0.5, 9000},
		{"3 min 30 s", "3 min 30 s", 210, 0.5, 210},
		{"3' 30''", "3 min 30 s", 210, 0.5, 210},
		{"3'30\"", "3 min 30 s", 210, 0.5, 210},
		{"3 min 30.5 s", "3 min 30.5 s", 210.5, 0.05, 210.5},
		{"1 h 2 min 3 s", "1 h 2 min 3 s", 3723, 0.5, 3723},
		{"1 h 3 s", "1 h 3 s", 3603, 0.5, 3603},
		{"1 d 12 h", "1 d 12 h", 36, 0.5, 129600},
		{"1 week 2 d", "1 week 2 d", 9, 0.5, 777600},
	} {
		q, err := Parse(c.in, Span, Fallback{})
		require.NoError(t, err, c.in)
		assert.Equal(t, c.value, q.Value, c.in)
		assert.Equal(t, c.half, q.Half, c.in)
		assert.Equal(t, c.out, q.String(), c.in)
		assert.InDelta(t, c.seconds, q.In(Second), 1e-9, c.in)
	}
	q, err := Parse("1 year 6 months", Span, Fallback{})
	require.NoError(t, err)
	assert.Equal(t, 18.0, q.In(Month))
	assert.Equal(t, "1 year 6 months", q.String())
}

// The factors are exact by definition: the foot and pound agreement of 1959,
// standard gravity 9.80665 m/s² (3rd CGPM, 1901), 1 atm = 101325 Pa (10th CGPM, 1954).
func TestConversionsAreExact(t *testing.T) {
	assert.Equal(t, 0.45359237*9.80665/(0.0254*0.0254)/1000, Exact(1, Psi).In(KPa))
	assert.Equal(t, 6.894757293168361, Exact(1, Psi).In(KPa))
	assert.Equal(t, 0.3048, Exact(1, Foot).In(Metre))
	assert.Equal(t, 101.325, Exact(1, Atm).In(KPa))
	assert.Equal(t, 100.0, Exact(1, Bar).In(KPa))
	assert.Equal(t, 105.0, Exact(1050, Mbar).In(KPa))
	assert.Equal(t, 1000.0, Exact(100, KPa).In(Hpa))
	assert.Equal(t, 0.13, Exact(1.3, MbarPerMinute).In(KPaPerMinute))
	assert.Equal(t, 1.3, Exact(78, rate(Mbar, 2)).In(MbarPerMinute))
	assert.Equal(t, 121.0, Exact(249.8, Fahrenheit).In(Celsius))
	assert.Equal(t, 250.0, Exact(250, Fahrenheit).In(Fahrenheit))
	assert.InDelta(t, 121.05, Exact(394.2, KelvinT).In(Celsius), 1e-12)
	assert.Equal(t, 5.0, Exact(9, FahrenheitD).In(KelvinD), "no offset in a difference")
	assert.Equal(t, 1800.0, Exact(30, Minute).In(Second))
	assert.Equal(t, 14.0, Exact(2, Week).In(DayU))
	assert.Equal(t, 24.0, Exact(2, Year).In(Month))
	assert.Panics(t, func() { Exact(1, Month).In(Second) })
	assert.Panics(t, func() { Exact(1, Celsius).In(KelvinD) })
	assert.Panics(t, func() { Exact(1, Bar).In(Minute) })
}

func TestLowAndHigh(t *testing.T) {
	q, err := Parse("121 °C", Temperature, Fallback{})
	require.NoError(t, err)
	assert.Equal(t, 120.5, q.Low(Celsius))
	assert.Equal(t, 121.5, q.High(Celsius))
	q, err = Parse("250 °F", Temperature, Fallback{})
	require.NoError(t, err)
	assert.InDelta(t, 1.0*5/9, q.High(Celsius)-q.Low(Celsius), 1e-12)
	assert.Equal(t, "30", Exact(30, NoUnit).String())
	assert.Equal(t, "0.25 h", Exact(0.25, Hour).String())
	assert.Empty(t, Quantity{}.String())
	assert.False(t, Quantity{}.Written())
	assert.True(t, Exact(0, Minute).Written())
	assert.False(t, math.Signbit(Exact(0, Minute).In(Second)))
}

func TestNamesOfUnits(t *testing.T) {
	seen := map[string]Unit{}
	for u := Celsius; u < firstMixed; u++ {
		require.NotEmpty(t, u.String())
		if o, ok := seen[u.String()]; ok {
			assert.NotEqual(t, o.Dimension(), u.Dimension(), u.String())
		}
		seen[u.String()] = u
		got, _, err := ParseUnit(u.String(), u.Dimension())
		assert.NoError(t, err, u.String())
		assert.Equal(t, u, got, u.String())
	}
	assert.Equal(t, "pressure rate", PressureRate.String())
	assert.Equal(t, "dimension 99", Dimension(99).String())
}
