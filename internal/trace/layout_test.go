package trace

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"footing/internal/quantity"
)

func TestEachFieldOfALayout(t *testing.T) {
	l, problems := ParseLayouts([]byte(`# maker's export
- files: "S1-*.csv"
  sterilizer: s 1
  time: {column: t, unit: min}
  date: Datum
  temperature:
    - {column: T1, unit: °C}
    - {column: 3, unit: K}
    - "4"
    - 250 °F
  pressure: {column: P, unit: psi, from: gauge}
  phase: {column: 7}
  skip: 12
  delimiter: semicolon
  decimal: comma
  date_order: dmy
  note: from the handbook
- sterilizer: 2
  time: 1
  date: {column: 2}
  temperature: {column: T, unit: F}
  pressure: {column: 5, unit: mbar, from: absolute}
  phase: Phase
  skip: 0
  delimiter: tab
  decimal: point
  date_order: mdy
- files: x.csv
  time: "2026"
  temperature: 2.5
  pressure: Druck
  delimiter: bar
  date_order: iso
- {files: y.csv, delimiter: comma, time: {column: 1, unit: h}, pressure: }
`))
	assert.Empty(t, problems)
	assert.Equal(t, 4, l.Entries)
	assert.Equal(t, []layout{
		{number: 1, files: "s1-*.csv", sterilizer: "s1", skip: 12, delimiter: ';', decimal: ',', order: quantity.DMY, hasOrder: true, columns: []layoutColumn{
			{role: Time, heading: "t", unit: quantity.Minute}, {role: Date, heading: "Datum"},
			{role: Temperature, heading: "T1", unit: quantity.Celsius}, {role: Temperature, index: 3, unit: quantity.KelvinT},
			{role: Temperature, heading: "4"}, {role: Temperature, heading: "250 °F"},
			{role: Pressure, heading: "P", unit: quantity.Psi, ref: quantity.Gauge}, {role: PhaseName, index: 7}}},
		{number: 2, sterilizer: "2", delimiter: '\t', decimal: '.', order: quantity.MDY, hasOrder: true, columns: []layoutColumn{
			{role: Time, index: 1}, {role: Date, index: 2}, {role: Temperature, heading: "T", unit: quantity.Fahrenheit},
			{role: Pressure, index: 5, unit: quantity.Mbar, ref: quantity.Absolute}, {role: PhaseName, heading: "Phase"}}},
		{number: 3, files: "x.csv", skip: -1, delimiter: '|', order: quantity.ISO, hasOrder: true, columns: []layoutColumn{
			{role: Time, heading: "2026"}, {role: Temperature, heading: "2.5"}, {role: Pressure, heading: "Druck"}}},
		{number: 4, files: "y.csv", skip: -1, delimiter: ',', columns: []layoutColumn{{role: Time, index: 1, unit: quantity.Hour}}},
	}, l.list)
}

// Each unit that the schema takes is one that is read.
func TestUnitsOfLayouts(t *testing.T) {
	read := func(text string) quantity.Unit {
		l, problems := ParseLayouts([]byte("- {files: x, " + text + "}"))
		require.Empty(t, problems, text)
		return l.list[0].columns[0].unit
	}
	for written, want := range map[string]quantity.Unit{"°C": quantity.Celsius, "C": quantity.Celsius, "° C": quantity.Celsius, "°F": quantity.Fahrenheit,
		"F": quantity.Fahrenheit, "K": quantity.KelvinT} {
		assert.Equal(t, want, read("temperature: {column: T, unit: "+written+"}"), written)
	}
	for written, want := range map[string]quantity.Unit{"kPa": quantity.KPa, "MPa": quantity.MPa, "hPa": quantity.Hpa, "Pa": quantity.Pa, "mbar": quantity.Mbar,
		"bar": quantity.Bar, "psi": quantity.Psi, "atm": quantity.Atm} {
		assert.Equal(t, want, read("pressure: {column: P, unit: "+written+"}"), written)
	}
	for written, want := range map[string]quantity.Unit{"s": quantity.Second, "min": quantity.Minute, "h": quantity.Hour} {
		assert.Equal(t, want, read("time: {column: P, unit: "+written+"}"), written)
	}
}

func TestFirstFittingEntryIsFound(t *testing.T) {
	l, problems := ParseLayouts([]byte(`
- {files: 2026/S1-00?.csv}
- {files: "S1-*.csv", sterilizer: S1}
- {files: traces/old/*}
- {sterilizer: "S 3"}
- {files: ./new.csv}
- {files: "*"}
`))
	require.Empty(t, problems)
	for _, c := range []struct {
		name, sterilizer string
		want             int
	}{
		{"2026/S1-001.csv", "", 1}, {"2026/S1-001.csv", "S1", 1}, {"2026/S1-0010.csv", "s1", 2}, {"S1-9.csv", "S1", 2}, {"S1-9.csv", "S2", 6},
		{"S1-9.csv", "", 6}, {"a/b/S1-9.csv", "S1", 2}, {"old/x.csv", "", 3}, {"x/old/x.csv", "", 6}, {"y.csv", "s-3", 4}, {"new.csv", "", 5}, {"2027/new.csv", "", 5},
		{"deep/in/other.csv", "", 6}, {"s1-9.CSV", "s1", 2}, {"Old/X.csv", "", 3},
	} {
		e := l.find(c.name, c.sterilizer)
		if assert.NotNil(t, e, "%+v", c) {
			assert.Equal(t, c.want, e.number, "%+v", c)
		}
	}
	few, _ := ParseLayouts([]byte("- {files: a.csv}"))
	assert.Nil(t, few.find("b.csv", ""))
	assert.Nil(t, (*Layouts)(nil).find("a.csv", "S1"))
	assert.Nil(t, (&Layouts{}).find("a.csv", "S1"))
}

// An entry without a mistake keeps its number when others are left out.
func TestMistakesCostOnlyTheirEntry(t *testing.T) {
	l, problems := ParseLayouts([]byte("- {files: a, skip: x}\n- {files: b}\n-\n- 5\n- {files: c}\n"))
	assert.Len(t, problems, 2)
	assert.Equal(t, []int{2, 2}, []int{l.Entries, l.LeftOut}, "a blank one counts in neither")
	assert.Equal(t, 2, l.find("b", "").number)
	assert.Equal(t, 5, l.find("c", "").number)
}

func TestEmptyLayouts(t *testing.T) {
	for _, text := range []string{"", "\n", "# nothing yet\n", "---\n", "[]", "- \n-\n", "~", "\ufeff", "- {files: }\n"} {
		l, problems := ParseLayouts([]byte(text))
		assert.Zero(t, l.Entries, text)
		if !strings.Contains(text, "files") {
			assert.Empty(t, problems, text)
		}
	}
}

func TestFormsOfText(t *testing.T) {
	for _, text := range []string{"\ufeff- files: a\r\n  skip: 3\r\n- files: b\r\n", "---\n- files: a\n  skip: 3\n- files: b\n---\n", `[{"files": "a", "skip": 3}, {"files": "b"}]`} {
		l, problems := ParseLayouts([]byte(text))
		assert.Empty(t, problems, text)
		assert.Equal(t, 2, l.Entries, text)
		assert.Equal(t, 3, l.find("a", "").skip, text)
	}
}
