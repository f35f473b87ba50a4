package trace

import (
	"testing"

	"github.com/stretchr/testify/require"

	"footing/internal/quantity"
)

func TestHeadings(t *testing.T) {
	const no = quantity.NoUnit
	for _, c := range []struct {
		heading string
		role    Role
		unit    quantity.Unit
		ref     quantity.Reference
		ignored string
	}{
		{"Temp [°C]", Temperature, quantity.Celsius, 0, ""},
		{"temperature (C)", Temperature, quantity.Celsius, 0, ""},
		{"Temperature, C", Temperature, quantity.Celsius, 0, ""},
		{"T1 [degC]", Temperature, quantity.Celsius, 0, ""},
		{"T/°C", Temperature, quantity.Celsius, 0, ""},
		{"T2 deg F", Temperature, quantity.Fahrenheit, 0, ""},
		{"Chamber temperature (deg. F)", Temperature, quantity.Fahrenheit, 0, ""},
		{"TC1 °F", Temperature, quantity.Fahrenheit, 0, ""},
		{"°C", Temperature, quantity.Celsius, 0, ""},
		{"Drain [°C]", Temperature, quantity.Celsius, 0, ""},
		{"Channel 3 (°C)", Temperature, quantity.Celsius, 0, ""},
		{"sensor 1", Temperature, no, 0, ""},
		{"Probe 2", Temperature, no, 0, ""},
		{"Pt100", Temperature, no, 0, ""},
		{"Temp [K]", Temperature, quantity.KelvinT, 0, ""},
		{"Temp [?C]", Temperature, quantity.Celsius, 0, ""},
		{"Temp [C°]", Temperature, quantity.Celsius, 0, ""},
		{"Jacket temp. [°C]", Temperature, quantity.Celsius, 0, "jacket"},
		{"Steam generator temperature °C", Temperature, quantity.Celsius, 0, "steam generator"},
		{"Heater temp", Temperature, no, 0, "heater"},
		{"Temp set [°C]", Temperature, quantity.Celsius, 0, "set point"},
		{"Temperature setpoint", Temperature, no, 0, "set point"},
		{"Ambient temp (°C)", Temperature, quantity.Celsius, 0, "air of the room"},
		{"Room [°C]", Temperature, quantity.Celsius, 0, "air of the room"},
		{"Saturation temp [°C]", Temperature, quantity.Celsius, 0, "computed, not measured"},
		{"Delta T [K]", Other, no, 0, ""},
		{"P_kPa_abs", Pressure, quantity.KPa, quantity.Absolute, ""},
		{"Pressure, bar gauge", Pressure, quantity.Bar, quantity.Gauge, ""},
		{"psig", Pressure, quantity.Psi, quantity.Gauge, ""},
		{"P (psia)", Pressure, quantity.Psi, quantity.Absolute, ""},
		{"Pressure kPa(a)", Pressure, quantity.KPa, quantity.Absolute, ""},
		{"Pressure kPa(g)", Pressure, quantity.KPa, quantity.Gauge, ""},
		{"bar abs", Pressure, quantity.Bar, quantity.Absolute, ""},
		{"Abs. pressure [mbar]", Pressure, quantity.Mbar, quantity.Absolute, ""},
		{"Gauge pressure (kPa)", Pressure, quantity.KPa, quantity.Gauge, ""},
		{"Pressure (kPa) abs", Pressure, quantity.KPa, quantity.Absolute, ""},
		{"Sensor 4 [bar]", Pressure, quantity.Bar, quantity.Unsaid, ""},
		{"Chamber P [MPa abs]", Pressure, quantity.MPa, quantity.Absolute, ""},
		{"Pressure", Pressure, no, 0, ""},
		{"Jacket pressure [bar]", Pressure, quantity.Bar, 0, "jacket"},
		{"Atmospheric pressure [kPa]", Pressure, quantity.KPa, 0, "air of the room"},
		{"Time", Time, no, 0, ""},
		{"Elapsed [s]", Time, no, 0, ""},
		{"seconds", Time, no, 0, ""},
		{"t/min", Time, no, 0, ""},
		{"t [s]", Time, no, 0, ""},
		{"Date/Time", Time, no, 0, ""},
		{"Timestamp", Time, no, 0, ""},
		{"Date", Date, no, 0, ""},
		{"Hold time", Other, no, 0, ""},
		{"Remaining time [s]", Other, no, 0, ""},
		{"F0 [min]", Other, no, 0, ""},
		{"Phase", PhaseName, no, 0, ""},
		{"Step no.", PhaseName, no, 0, ""},
		{"Cycle stage", PhaseName, no, 0, ""},
		{"Door", Other, no, 0, ""},
		{"Conductivity [µS]", Other, no, 0, ""},
		{"", Other, no, 0, ""},
	} {
		h := readHeading(c.heading)
		require.Equal(t, Column{Heading: c.heading, Role: c.role, Unit: c.unit, Ref: c.ref, Ignored: c.ignored}, h.Column, c.heading)
	}
}

// TestLetters: a last letter is a unit, or it names one of several sensors.
func TestLetters(t *testing.T) {
	for line, want := range map[string][]quantity.Unit{
		"Time,Temp C":                  {quantity.Celsius},
		"Time,T1_C,T2_C":               {quantity.Celsius, quantity.Celsius},
		"Time,Temp A,Temp B,Temp C":    {0, 0, 0},
		"Time,Temp B,Temp C":           {0, 0},
		"Time,Sensor C,Sensor F":       {0, 0},
		"Time,Probe A [°C],Probe F":    {quantity.Celsius, quantity.Fahrenheit},
		"Time,Probe A [°C],Probe B":    {quantity.Celsius, 0},
		"Time,Temperature F,Pressure ": {quantity.Fahrenheit},
	} {
		table := findTable([]byte(line), 0)
		require.NotNil(t, table, line)
		table.choose()
		var got []quantity.Unit
		for _, i := range table.temperatures {
			got = append(got, table.headings[i].Unit)
		}
		require.Equal(t, want, got, line)
	}
}

func TestNameCounters(t *testing.T) {
	for name, want := range map[string][]int64{
		"2026/S1-00341.csv":                  {341, 1},
		"cycle.csv":                          nil,
		"20260303_00341.csv":                 {341},
		"2026-03-03 00341.csv":               {341},
		"2026-03-03_1405_S1_341.csv":         {341, 1},
		"S1_341_20260303_140507.csv":         {341, 1},
		"20260303_0341.csv":                  nil, // could be a clock
		"20260303140507.csv":                 nil,
		"03.04.2026-77.txt":                  {77},
		"1405.csv":                           {1405},
		"2026-03-03 14-05-07 load 12.csv":    {12},
		"2026-03-03T14-05 load 12.csv":       {12},
		"1234567890.csv":                     nil,
		"123456789.csv":                      {123456789},
		"99991399_5.csv":                     {5, 99991399},
		"a/b/c 7":                            {7},
		"CYCLE.341":                          {341},
		"cycle.7.csv":                        {7},
		"":                                   nil,
		"2026-03-03_2026-03-04_load0099.csv": {99},
		"Load 12-13-14.csv":                  {14, 13, 12},
	} {
		require.Equal(t, want, nameCounters(name), name)
	}
}

func TestHeaderLines(t *testing.T) {
	for _, c := range []struct {
		lines               string
		sterilizer, program string
		counter             int64
		date, start         string
	}{
		{"sterilizer,S1\ncounter,00341\nprogram,P134\ndate,2026-03-03", "S1", "P134", 341, "2026-03-03", ""},
		{"Autoclave: S2\nCycle No.: 12\nProgramme = 134 wrapped\nStart time: 14:05:07", "S2", "134 wrapped", 12, "", "14:05:07"},
		{"# Device\tS3\tCycle number\t#77\tDate\t3 March 2026", "S3", "", 77, "3 March 2026", ""},
		{"Machine ID;M1;Load no;No. 8;;\nStart;2026-03-03 14:05", "M1", "", 8, "", "2026-03-03 14:05"},
		{"Cycle: 134 wrapped\nLoad: 9", "", "134 wrapped", 9, "", ""},
		{"\"Unit ID\",\"S4\"\n\"Cycle\",\"15\"", "S4", "", 15, "", ""},
		{"Date: March 3, 2026", "", "", -1, "March 3, 2026", ""},
		{"Counter: 1234567890\nCounter: 5", "", "", 5, "", ""},
		{"sterilizer,S1\nsterilizer,S2", "S1", "", -1, "", ""},
		{"operator,someone\nserial,12", "", "", -1, "", ""},
		{"counter,12a\nCycle no,", "", "", -1, "", ""},
	} {
		f := facts{counter: -1}
		for i, l := range splitLines(c.lines) {
			f.read([]byte(l), i+1)
		}
		require.Equal(t, []any{c.sterilizer, c.program, c.counter, c.date, c.start}, []any{f.sterilizer, f.program, f.counter, f.date, f.start}, c.lines)
	}
}
