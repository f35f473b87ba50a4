package trace

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// oddCases are readings that are none, and what becomes of their lines.
var oddCases = []struct {
	name, text               string
	heading, readings, aside int
	causes                   string
	grave                    bool
}{
	{name: "words and powers are blank", text: "Time,T [°C]\n0,20.1\n1,nan\n2,1e3\n3,---\n4,0x10\n5,OVR\n6,\n7,20.2\n",
		heading: 1, readings: 2, aside: 6, causes: "blank:3"},
	{name: "at and past what a sensor shows", text: "Time,T [°C]\n0,-40\n1,-40.1\n2,400\n3,400.1\n4,20\n", heading: 1, readings: 3, aside: 2, causes: "beyond:3"},
	{name: "one of two sensors blank", text: "Time,T1 [°C],T2 [°C]\n0,20.1,20.2\n1,,20.2\n2,20.3,20.2\n", heading: 1, readings: 3, causes: "blank:3"},
	{name: "pressure blank", text: "Time,T [°C],P [kPa abs]\n0,20.1,101\n1,20.1,\n2,20.3,x\n3,20.3,2000.1\n", heading: 1, readings: 4, causes: "blank-pressure:3"},
	{name: "torn in a field", text: "Time,T [°C],P [kPa abs]\n0,20.1,101.0\n1,20.1,101.1\n2,20.3,10", heading: 1, readings: 2, aside: 1, causes: "torn:4", grave: true},
	{name: "torn before a field", text: "Time,T [°C],P [kPa abs]\n0,20.1,101.0\n1,20.1,101.1\n2,20.3", heading: 1, readings: 2, aside: 1, causes: "torn:4", grave: true},
	{name: "torn in the time", text: "Time,T [°C],P [kPa abs]\n14:05:00,20.1,101.0\n14:05:01,20.1,101.1\n14:0", heading: 1, readings: 2, aside: 1, causes: "torn:4", grave: true},
	{name: "torn after the comma", text: "Time,T [°C],P [kPa abs]\n0,20.1,101.0\n1,20.1,101.1\n2,20.3,", heading: 1, readings: 2, aside: 1, causes: "torn:4", grave: true},
	{name: "torn where numbers have no decimals", text: "Time,T [°C],P [kPa abs]\n0,20,101\n1,20,101\n2,20,10", heading: 1, readings: 2, aside: 1, causes: "torn:4"},
	{name: "whole without an end", text: "Time,T [°C],P [kPa abs]\n0,20.1,101.0\n1,20.1,101.1\n2,20.3,99.9", heading: 1, readings: 3},
	{name: "fields left out at the end", text: "Time,T [°C],P [kPa abs],Phase\n0,20.1,101.0,Heat\n1,20.1,101.1\n2,20.3,101.1", heading: 1, readings: 3},
	{name: "a footer", text: "Time,T [°C]\n0,20.1\n1,20.2\n\ncycle complete\nresult,pass\nmaximum,20.2\n", heading: 5, readings: 2},
	{name: "headings again, a second cycle", text: "Time,T [°C]\n14:05:00,20.1\n14:05:01,20.2\n14:05:02,20.2\nTime,T [°C]\n15:05:00,20.1\n15:05:01,20.2\n", heading: 2, readings: 3, aside: 2, causes: "second-table:6", grave: true},
	{name: "headings again, a new page", text: "Time,T [°C]\n14:05:00,20.1\n14:05:01,20.2\n14:05:02,20.2\n\nTime,T [°C]\n14:05:03,20.1\n14:05:04,20.2\n", heading: 3, readings: 5},
	{name: "other headings", text: "Time,T [°C]\n14:05:00,20.1\n14:05:01,20.2\nTime,T1 [°C],T2 [°C]\n15:05:00,20.1,20\n", heading: 2, readings: 2, aside: 1, causes: "other-table:4"},
	{name: "a summary below", text: "Time,T [°C]\n14:05:00,20.1\n14:05:01,20.2\n\nPhase,Time,Highest temp\nHold,3:30,135.2\n", heading: 4, readings: 2, causes: "other-table:5"},
	{name: "more fields than headings", text: "Time,T [°C]\n0,20.1\n1,20,2\n2,20.3\n", heading: 1, readings: 2, aside: 1, causes: "fields:3"},
	{name: "delimiters at the end", text: "Time;T [°C]\n0;20.1;\n1;20.2;;\n", heading: 1, readings: 2},
	{name: "sep", text: "sep=;\nTime;T, °C\n0;20,1\n1;20,2\n", heading: 2, readings: 2},
	{name: "a line too long", text: "Time,T [°C]\n0,20.1\n" + strings.Repeat("9", longest+1) + "\n1,20.2\n", heading: 1, readings: 2, aside: 1, causes: "long-line:3"},
	{name: "a line just not too long", text: "Time,T [°C]\n0,20.1\n" + strings.Repeat("x", longest) + "\n1,20.2\n", heading: 2, readings: 2},
	{name: "below nought proves gauge", text: "Time,T [°C],P [bar]\n0,20.1,-0.8\n1,20.1,0.5\n", heading: 1, readings: 2, causes: "below-nought:2"},
	{name: "a pressure without a unit", text: "Time,T [°C],Pressure\n0,20.1,1\n1,20.1,0.5\n", heading: 1, readings: 2, causes: "pressure-unit:1"},
	{name: "no headings mistaken", text: "Temperature, time, place\nClinic, one\nTime,T [°C]\n0,20.1\n1,20.1\n", heading: 3, readings: 2},
	{name: "events among the readings", text: "Time,T [°C],P [kPa abs]\n0,20.1,101.0\n1,Door locked\n2,20.3,101.0\n3,Cycle complete", heading: 3, readings: 2},
	{name: "a short line that is no event", text: "Time,T [°C],P [kPa abs]\n0,20.1,101.0\n1,OVR\n2,20.3,101.0\n", heading: 1, readings: 2, aside: 1, causes: "blank:3"},
	{name: "noughts left by a loss of power", text: "Time,T [°C]\n0,20.1\n1,20.2\n\x00\x00\x00\n3,20.3\n", heading: 1, readings: 3, aside: 1, causes: "time:4"},
	{name: "a second line of headings", text: ";Chamber;;Jacket\nTime;Temp [°C];P [kPa abs];Temp [°C]\n0;20.1;101;80\n1;20.1;101;80\n", heading: 2, readings: 2},
	{name: "thousands in mbar", text: "Time;T [°C];P [mbar abs]\n0;20;1,013\n1;20;1,012\n", heading: 1, readings: 2, causes: "blank-pressure:2"},
}

func TestOddLines(t *testing.T) {
	for _, c := range oddCases {
		t.Run(c.name, func(t *testing.T) {
			tr, err := Read(strings.NewReader(c.text), Options{Name: "x.csv"})
			require.NoError(t, err)
			require.NoError(t, counted(tr, []byte(c.text)))
			require.Empty(t, tr.Unusable)
			require.Equal(t, c.causes, causes(tr))
			require.Equal(t, []int{c.heading, c.readings, c.aside}, []int{tr.Heading, tr.Readings, tr.Aside})
			grave := false
			for _, p := range tr.Problems {
				grave = grave || p.Grave
			}
			require.Equal(t, c.grave, grave)
		})
	}
}

// unusableCases are files of which nothing can be judged.
var unusableCases = []struct{ name, text, says string }{
	{"empty", "", "The file is empty"},
	{"blank lines", "\n\n", "No table"},
	{"a PDF", "%PDF-1.7\n%\xe2\xe3\n", "a PDF"},
	{"a picture", "\x89PNG\r\n\x1a\n\x00\x00", "a picture (PNG)"},
	{"a spreadsheet", "PK\x03\x04\x14\x00", "a spreadsheet"},
	{"binary", "\x01\x02\x00\x04\x05\n", "no text"},
	{"prose", "Dear practice,\nhere is the cycle.\n", "No table"},
	{"figures without headings", "14:05:00,20.1,101\n14:05:01,20.1,101\n", "no line of headings"},
	{"a list of cycles", "date,time,temperature [°C]\n2026-03-02,09:00,134\n2026-03-02,09:31,134\n2026-03-02,10:02,134\n2026-03-03,09:00,134\n", "a list of cycles"},
	{"no unit", "Time,Temperature\n0,20\n1,21\n", "no unit"},
	{"only a jacket", "Time,Jacket [°C]\n0,20\n1,21\n", "No temperature of the chamber"},
	{"one reading", "Time,T [°C]\n0,20\n", "fewer than two"},
	{"parts of a day", "Time,T [°C]\n0.586111,20\n0.586123,21\n0.586134,21\n", "parts of a day"},
	{"channels of unknown kind", "Time,Ch 1,Ch 2\n0,20,100\n1,21,101\n", "no unit"},
	{"headings alone", "Time,T [°C]\n", "no time was found"},
	{"decimal comma between commas", "Time,T [°C],P [kPa abs]\n0,20,1,101,3\n1,20,2,101,2\n2,20,3,101,1\n", "more fields than the headings"},
}

func TestUnusable(t *testing.T) {
	for _, c := range unusableCases {
		t.Run(c.name, func(t *testing.T) {
			tr, err := Read(strings.NewReader(c.text), Options{Name: "x.csv"})
			require.NoError(t, err)
			require.NoError(t, counted(tr, []byte(c.text)))
			require.Contains(t, tr.Unusable, c.says)
			require.Less(t, tr.Readings, 2)
		})
	}
}
