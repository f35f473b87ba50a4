package quantity

import "fmt"

// Dimension is what a quantity measures.
type Dimension uint8

// The dimensions. A Plain number has no unit.
const (
	Plain Dimension = iota
	Temperature
	Difference // of temperatures: an offset never applies
	Pressure
	PressureRate
	Span // of time
	Length
	Percent
)

var dimensionNames = [...]string{"number", "temperature", "difference", "pressure", "pressure rate", "time span", "length", "percent"}

// String returns the dimension in words.
func (d Dimension) String() string {
	if int(d) < len(dimensionNames) {
		return dimensionNames[d]
	}
	return fmt.Sprintf("dimension %d", uint8(d))
}

// Reference says what a pressure is counted from. The zero value means unsaid.
type Reference uint8

// Gauge pressures are nought at the open door, absolute ones in a perfect vacuum.
const (
	Unsaid Reference = iota
	Gauge
	Absolute
)

// String returns "gauge", "absolute", or "" where nothing was said.
func (r Reference) String() string { return [...]string{"", "gauge", "absolute"}[r%3] }

// Unit is a unit of measurement. The zero value means none, or not written.
type Unit uint8

// The units. Those of a temperature and of a difference of temperatures are
// apart, because only the first have an offset.
const (
	NoUnit Unit = iota
	Celsius
	Fahrenheit
	KelvinT
	KelvinD
	CelsiusD
	FahrenheitD
	KPa
	Bar
	Mbar
	Psi
	Hpa
	Pa
	MPa
	Atm
	Second
	Minute
	Hour
	DayU
	Week
	Month
	Year
	Metre
	Foot
	Kilometre
	PercentU
	firstRate
)

// Rates of pressure in common use. There are more: each unit of pressure per
// second, minute and hour can be read.
const (
	KPaPerMinute  = firstRate + 1
	BarPerMinute  = firstRate + 3*(Bar-KPa) + 1
	MbarPerMinute = firstRate + 3*(Mbar-KPa) + 1
	PsiPerMinute  = firstRate + 3*(Psi-KPa) + 1
	HpaPerMinute  = firstRate + 3*(Hpa-KPa) + 1
	PaPerMinute   = firstRate + 3*(Pa-KPa) + 1
	firstMixed    = firstRate + 3*(Atm-KPa+1)
)

// mixed lists the spans written in several units ("2 h 30 min"), coarsest and
// finest. Each is a unit of its own so that it prints as written; its value
// counts the finest.
var mixed = [...]struct{ coarse, fine Unit }{
	{Hour, Minute}, {Minute, Second}, {Hour, Second}, {DayU, Hour}, {DayU, Minute}, {DayU, Second},
	{Week, DayU}, {Week, Hour}, {Week, Minute}, {Week, Second}, {Year, Month},
}

const lastUnit = firstMixed + Unit(len(mixed)) - 1

type unitInfo struct {
	name     string
	many     string // name when the value is not 1
	dim      Dimension
	num, den float64 // value × num ÷ den is in the canonical unit, after the offset
	offset   float64 // subtracted first (temperatures)
	calendar bool    // months and years: of no fixed length
}

// psi is one pound-force per square inch in kPa: 0.45359237 kg × 9.80665 m/s² ÷
// (0.0254 m)², from the exact definitions of pound, standard gravity and inch.
const psi = 6.894757293168361

var units = func() (t [lastUnit + 1]unitInfo) {
	set := func(u Unit, name, many string, d Dimension, num, den float64) {
		t[u] = unitInfo{name: name, many: many, dim: d, num: num, den: den}
	}
	set(NoUnit, "", "", Plain, 1, 1)
	set(Celsius, "°C", "°C", Temperature, 1, 1)
	set(Fahrenheit, "°F", "°F", Temperature, 5, 9)
	t[Fahrenheit].offset = 32
	set(KelvinT, "K", "K", Temperature, 1, 1)
	t[KelvinT].offset = 273.15
	set(KelvinD, "K", "K", Difference, 1, 1)
	set(CelsiusD, "°C", "°C", Difference, 1, 1)
	set(FahrenheitD, "°F", "°F", Difference, 5, 9)
	set(KPa, "kPa", "kPa", Pressure, 1, 1)
	set(Bar, "bar", "bar", Pressure, 100, 1)
	set(Mbar, "mbar", "mbar", Pressure, 1, 10)
	set(Psi, "psi", "psi", Pressure, psi, 1)
	set(Hpa, "hPa", "hPa", Pressure, 1, 10)
	set(Pa, "Pa", "Pa", Pressure, 1, 1000)
	set(MPa, "MPa", "MPa", Pressure, 1000, 1)
	set(Atm, "atm", "atm", Pressure, 101325, 1000)
	set(Second, "s", "s", Span, 1, 1)
	set(Minute, "min", "min", Span, 60, 1)
	set(Hour, "h", "h", Span, 3600, 1)
	set(DayU, "d", "d", Span, 86400, 1)
	set(Week, "week", "weeks", Span, 7*86400, 1)
	set(Month, "month", "months", Span, 1, 1)
	set(Year, "year", "years", Span, 12, 1)
	t[Month].calendar, t[Year].calendar = true, true
	set(Metre, "m", "m", Length, 1, 1)
	set(Foot, "ft", "ft", Length, 3048, 10000)
	set(Kilometre, "km", "km", Length, 1000, 1)
	set(PercentU, "%", "%", Percent, 1, 1)
	per := [...]struct {
		name     string
		num, den float64
	}{{"/s", 60, 1}, {"/min", 1, 1}, {"/h", 1, 60}}
	for p := KPa; p <= Atm; p++ {
		for i, x := range per {
			name := t[p].name + x.name
			set(rate(p, i), name, name, PressureRate, t[p].num*x.num, t[p].den*x.den)
		}
	}
	for i, m := range mixed {
		t[firstMixed+Unit(i)] = t[m.fine]
	}
	return t
}()

func rate(pressure Unit, per int) Unit { return firstRate + 3*(pressure-KPa) + Unit(per) }

// Dimension returns what the unit measures; of NoUnit, Plain.
func (u Unit) Dimension() Dimension { return units[min(u, lastUnit)].dim }

// String returns the unit's symbol. A span in several units answers with its
// finest, the one its value counts.
func (u Unit) String() string { return units[min(u, lastUnit)].many }

func (u Unit) calendar() bool { return units[u].calendar }

// convert turns a value in one unit into another of the same dimension.
func convert(v float64, from, to Unit) float64 {
	if from == to {
		return v
	}
	f, t := &units[from], &units[to]
	if f.dim != t.dim || f.calendar != t.calendar {
		panic(fmt.Sprintf("quantity: %q cannot be told in %q", f.many, t.many))
	}
	n, d := f.num*t.den, f.den*t.num
	return (v-f.offset)*n/d + t.offset
}

// canonical returns the unit in which quantities of u's kind are compared: °C,
// K, kPa, kPa/min, s or months, m, %.
func (u Unit) canonical() Unit {
	switch units[u].dim {
	case Temperature:
		return Celsius
	case Difference:
		return KelvinD
	case Pressure:
		return KPa
	case PressureRate:
		return KPaPerMinute
	case Span:
		if u.calendar() {
			return Month
		}
		return Second
	case Length:
		return Metre
	case Percent:
		return PercentU
	}
	return NoUnit
}
