package dev

import (
	"encoding/json"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"go.yaml.in/yaml/v4"

	"footing/internal/quantity"
	"footing/internal/trace"
	"footing/schemas"
)

func TestTracesPage(t *testing.T) {
	pages, err := Docs(root)
	require.NoError(t, err)
	page := string(pages["records/traces.md"])
	assert.True(t, strings.HasPrefix(page, generated))
	assert.Contains(t, page, exampleTrace)
	assert.Contains(t, page, exampleLayout)
	assert.Contains(t, string(pages["records/README.md"]), "(traces.md)")
	assert.Contains(t, page, "| `files` | Which files: a name")
	assert.Contains(t, page, "| `pressure` | The column with the pressure of the chamber. | `{column: P, unit: kPa, from: absolute}` |")
	assert.Contains(t, page, "| `date_order` | How dates in figures are written")
	assert.NotContains(t, page, "| `` |")
	assert.NotContains(t, page, "|  |")
	for line := range strings.Lines(page) {
		if strings.HasPrefix(line, "| ") {
			assert.Contains(t, []int{3, 4}, strings.Count(line, "|"), line)
		}
	}
}

// The page lists every name of the schema in its order, and its example has each.
func TestTracesPageHasEveryName(t *testing.T) {
	page, err := tracesPage()
	require.NoError(t, err)
	raw, _ := schemas.Resource("trace-layout")
	var s layoutSchema
	require.NoError(t, json.Unmarshal(raw, &s))
	fields, err := layoutFields(raw, s.Defs.Entry.Properties)
	require.NoError(t, err)
	var example []map[string]any
	require.NoError(t, yaml.Unmarshal([]byte(exampleLayout), &example))
	require.Len(t, example[0], len(fields))
	at := 0
	for _, f := range fields {
		assert.Contains(t, example[0], f.name)
		assert.NotEmpty(t, f.Description, f.name)
		i := strings.Index(string(page), "| `"+f.name+"` |")
		assert.Greater(t, i, at, f.name)
		at = i
	}
}

// The examples are read as the page says.
func TestTracesPageExamplesAreRead(t *testing.T) {
	read := func(text string, opt trace.Options) *trace.Trace {
		opt.Points = 10
		tr, err := trace.Read(strings.NewReader(text), opt)
		require.NoError(t, err)
		assert.Empty(t, tr.Unusable)
		assert.Equal(t, tr.Lines, tr.Heading+tr.Readings+tr.Aside)
		assert.Zero(t, tr.Aside)
		return tr
	}
	tr := read(exampleTrace, trace.Options{Name: "398.csv", Order: quantity.DMY})
	assert.Equal(t, 5, tr.Readings)
	assert.Equal(t, "S1", tr.Sterilizer)
	assert.EqualValues(t, 398, tr.Counter)
	assert.Equal(t, "2026-03-16 14:05:00", tr.Start.String())
	assert.Equal(t, quantity.Absolute, tr.PressureRef())
	assert.True(t, tr.DecimalComma)
	assert.NotEmpty(t, tr.Phases)

	layouts, problems := trace.ParseLayouts([]byte(exampleLayout))
	require.Empty(t, problems)
	require.Equal(t, 2, layouts.Entries)
	tr = read(exampleMapped, trace.Options{Name: "2026/S2-77.txt", Sterilizer: "S2", Layouts: layouts})
	assert.Equal(t, 3, tr.Readings)
	assert.Equal(t, "entry 1", tr.Layout)
	assert.Equal(t, quantity.Gauge, tr.PressureRef())
	assert.Len(t, tr.Points, 3)
	assert.Equal(t, 23.4, tr.Points[0].Coldest)
	assert.EqualValues(t, 20, tr.Points[2].At)
	assert.NotEmpty(t, tr.Phases)
}

// The words that the page lists are read as it says: each makes a file of its own readable.
func TestTracesPageWordsAreRead(t *testing.T) {
	read := func(head, headings string) *trace.Trace {
		tr, err := trace.Read(strings.NewReader(head+headings+"\n14:05:00;23,4;101,2;heating\n14:05:10;31,0;101,4;heating\n14:05:20;38,7;101,3;heating\n"), trace.Options{Name: "a.csv", Temperature: quantity.Celsius, Pressure: quantity.KPa, Reference: quantity.Absolute})
		require.NoError(t, err)
		assert.Empty(t, tr.Unusable, headings)
		return tr
	}
	roles := func(tr *trace.Trace) (list []trace.Role) {
		for _, c := range tr.Columns {
			list = append(list, c.Role)
		}
		return list
	}
	all := []trace.Role{trace.Time, trace.Temperature, trace.Pressure, trace.PhaseName}
	for _, w := range []string{"time", "clock", "elapsed"} {
		assert.Equal(t, all, roles(read("", w+";temp;pressure;phase")), w)
	}
	for _, w := range []string{"temperature", "temp", "T1", "sensor", "sensor 2", "chamber [°C]", "drain (°C)", "load 1 [°C]"} {
		assert.Equal(t, all, roles(read("", "time;"+w+";pressure;phase")), w)
	}
	for _, w := range []string{"pressure", "P", "P [kPa]"} {
		assert.Equal(t, all, roles(read("", "time;temp;"+w+";phase")), w)
	}
	for _, w := range []string{"phase", "step", "stage"} {
		assert.Equal(t, all, roles(read("", "time;temp;pressure;"+w)), w)
	}
	assert.Equal(t, all[:3], roles(read("", "Uhrzeit;Kammer [°C];Druck (bar gauge);Schritt"))[:3])
	for _, w := range []string{"sterilizer", "autoclave", "machine", "device"} {
		assert.Equal(t, "S7", read(w+": S7\n", "time;temp;pressure;phase").Sterilizer, w)
	}
	for _, w := range []string{"counter", "cycle no", "load number", "batch no", "run no"} {
		assert.EqualValues(t, 398, read(w+" = 398\n", "time;temp;pressure;phase").Counter, w)
	}
	for _, w := range []string{"program", "cycle type", "cycle name"} {
		assert.Equal(t, "W121", read(w+";W121\n", "time;temp;pressure;phase").Program, w)
	}
	for _, w := range []string{"date", "start date", "day", "start", "start time", "begin"} {
		assert.Equal(t, "2026-03-16", read(w+";2026-03-16 14:05:00\n", "time;temp;pressure;phase").Start.String()[:10], w)
	}
	assert.False(t, read("Datum;2026-03-16\nCharge;398\n", "time;temp;pressure;phase").Start.Written())
}
