package record

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"footing/internal/quantity"
)

// show prints what became of the fields of a load that a test looks at.
func show(l *testLoad) string {
	var parts []string
	add := func(name, value string) {
		if value != "" {
			parts = append(parts, name+"="+value)
		}
	}
	add("started", l.Started.String())
	add("ended", l.Ended.String())
	add("temperature", l.Temperature.String())
	add("pressure", l.Pressure.String())
	add("exposure", l.Exposure.String())
	add("wrapped", l.Wrapped.String())
	add("inside", l.InsideIndicator)
	add("entered", l.EnteredOn.String())
	if l.Sets.Written {
		add("sets", "["+strings.Join(l.Sets.Items, "|")+"]")
	}
	if l.Counter.Written {
		add("counter", quantity.Exact(l.Counter.Value, quantity.NoUnit).String())
	}
	add("program", l.Program)
	return strings.Join(parts, " ")
}

// Every value is coerced alike in CSV, in strings of JSON and in YAML.
func TestCoercions(t *testing.T) {
	const day = "2026-03-31"
	for _, c := range []struct{ heading, cell, want, cause string }{
		{"started", " 2026-03-31 ", day, ""},
		{"started", "2026-03-31 14:05", day + " 14:05", ""},
		{"started", "2026-03-31T14:05:06+00:00", day + " 14:05:06", ""},
		{"started", "31/03/2026 2:05 pm", day + " 14:05", ""},
		{"started", "31.3.2026", day, ""},
		{"cycle date", "31 Mar 2026", day, ""},
		{"Cycle_Date", "2026-03-31", day, ""},
		{"entered_on", "31/03/2026", day, ""},
		{"entered_on", "2026-03-31 00:00:00", day, ""},
		{"entered_on", "03/31/2026", "", "no-month-of-that-number"},
		{"entered_on", "31/03/26", day, ""},
		{"entered_on", "31-03-26", "", "two-figures-for-the-year"},
		{"entered_on", "30.02.2026", "", "no-day-of-the-calendar"},
		{"entered_on", "spring", "", "not-a-date-that-can-be-read"},
		{"ended", "2026-03-31 25:00", "", "a-clock-that-no-clock-shows"},
		{"temperature", "121 °C", "121 °C", ""},
		{"temperature", "121.50°C", "121.50 °C", ""},
		{"temperature", "121,5 C", "121.5 °C", ""},
		{"temperature", "250 deg F", "250 °F", ""},
		{"temperature", "121", "121 °C", ""}, // practice.units
		{"temp (F)", "250", "250 °F", ""},
		{"temperature [°F]", "250 °F", "250 °F", ""},
		{"temperature [°F]", "121 °C", "", "unit-clash"},
		{"temperature", "warm", "", "not-begin-with-a-number"},
		{"pressure", "205 kPa absolute", "205 kPa absolute", ""},
		{"pressure", "30 psig", "30 psi gauge", ""},
		{"pressure", "30", "30 psi gauge", ""}, // practice.units

		// Gauge or absolute by practice.units, whatever the unit.
		{"pressure", "2.1 bar", "2.1 bar gauge", ""}, {"pressure [bar]", "2.1", "2.1 bar gauge", ""}, {"pressure [bar]", "2.1 bar", "2.1 bar gauge", ""}, {"pressure", "3.1 bar absolute", "3.1 bar absolute", ""},
		{"pressure [kPa absolute]", "205 kPa", "205 kPa absolute", ""},
		{"pressure [kPa absolute]", "205 kPa gauge", "", "unit-clash"},
		{"exposure", "30", "", "no-unit"},
		{"hold time [min]", "30", "30 min", ""},
		{"exposure", "2 h 30 min", "2 h 30 min", ""},
		{"exposure [min]", "1 h 30 min", "1 h 30 min", ""},
		{"exposure", "3,5 min", "3.5 min", ""},
		{"exposure", "1,500 s", "", "could-have-a-decimal-comma-or-a-thousands-comma"},
		{"exposure", "-3 min", "", "below-nought"},
		{"wrapped", "Y", "yes", ""}, {"wrapped", "FALSE", "no", ""}, {"wrapped", "✓", "yes", ""}, {"wrapped", "x", "", "could-be-a-tick-or-a-cross"},
		{"inside_indicator", "Pass", "pass", ""}, {"inside_indicator", "ok", "pass", ""}, {"inside indicator", "FAIL", "fail", ""}, {"inside_indicator", "maybe", "", "choice"},
		{"sets", "nail x 6; foot x 2 | other", "[nail x 6|foot x 2|other]", ""}, {"sets", "none", "[]", ""}, {"sets", ";", "", "no-item"},
		{"counter", "0398", "398", ""}, {"counter", "398,0", "398", ""}, {"counter", "1,500", "", "thousands"}, {"counter", "3.5", "", "whole-number"}, {"counter", "-1", "", "too-small"},
		{"counter", "soon", "", "whole-number"},
		{"program", "0012", "0012", ""},
		{"program", strings.Repeat("x", 201), "", "too-long"},
	} {
		name := strings.ReplaceAll(strings.ToLower(c.heading), " ", "_")
		for _, file := range []string{"loads.csv", "loads.json", "loads.yaml", "loads.jsonl"} {
			t.Run(c.heading+"="+c.cell[:min(len(c.cell), 20)]+" "+file, func(t *testing.T) {
				text := `{"id": "L", "` + c.heading + `": "` + c.cell + `"}`
				started := "started"
				if strings.Contains(name, "started") || strings.Contains(name, "date") {
					started = "note"
				}
				text = strings.Replace(text, `"id": "L"`, `"`+started+`": "2026-01-01"`, 1)
				switch file {
				case "loads.csv":
					text = started + "," + c.heading + "\n2026-01-01,\"" + c.cell + "\"\n"
				case "loads.yaml":
					text = "- " + text
				}
				rec, in := fill(t, map[string]string{"practice.yaml": "{name: A, regulator: B, dates: dmy, units: {temperature: °C, pressure: psi gauge}}", file: text})
				if c.cause != "" {
					p := problem(t, in, c.cause)
					if p.Found == "" || p.Todo == "" || p.Heading != c.heading || len(p.Places) != 1 || p.Effect != Dropped {
						t.Errorf("%+v", p)
					}
					return
				}
				if len(in.Problems) > 0 || len(rec.Loads) != 1 {
					t.Fatalf("%v", sentences(in))
				}
				l := rec.Loads[0]
				if started == "started" {
					l.Started = quantity.Moment{}
				}
				if got := show(&l); !strings.HasSuffix(got, "="+c.want) || strings.Contains(got, " "+"x=") {
					t.Errorf("%q, want %q", got, c.want)
				}
			})
		}
	}
}

// Numbers and booleans of JSON and YAML stay as written, but for numbers where words
// are meant, and where practice or the name gives the unit.
func TestValuesThatAreNoWords(t *testing.T) {
	for _, c := range []struct{ row, want, cause string }{
		{`"counter": 398`, "counter=398", ""},
		{`"counter": 3.98e2`, "counter=398", ""},
		{`"program": 12`, "program=12", ""},
		{`"program": 1.10`, "program=1.10", ""},
		{`"temperature": 121.50`, "temperature=121.50 °C", ""},
		{`"exposure": 30`, "", "no-unit"},
		{`"exposure [min]": 30`, "exposure=30 min", ""},
		{`"wrapped": true`, "wrapped=yes", ""},
		{`"wrapped": null`, "", ""},
		{`"wrapped": 1`, "", "form"},
		{`"inside_indicator": 5`, "", "choice"},
		{`"entered_on": 20260331`, "", "form"},
		{`"sets": ["a", 2, null, " b "]`, "sets=[a|2|b]", ""},
		{`"sets": []`, "sets=[]", ""},
		{`"sets": ["none"]`, "sets=[]", ""},
		{`"sets": {"a": 1}`, "", "form"},
		{`"sets": "a;b"`, "sets=[a|b]", ""},
		{`"sets": [["a"]]`, "", "list"},
		{`"sets": {"a": 1}`, "", "form"},
		{`"program": ["a"]`, "", "form"},
	} {
		for _, file := range []string{"loads.json", "loads.yaml"} {
			text := `[{"started": "2026-03-31", ` + c.row + `}]`
			if file == "loads.yaml" {
				text = "- {\"started\": 2026-03-31, " + c.row + "}"
			}
			rec, in := fill(t, map[string]string{"practice.yaml": "{name: A, regulator: B, units: {temperature: °C}}", file: text})
			if c.cause != "" {
				problem(t, in, c.cause)
				continue
			}
			want := strings.TrimSpace("started=2026-03-31 " + c.want)
			if len(in.Problems) > 0 || len(rec.Loads) != 1 || show(&rec.Loads[0]) != want {
				t.Errorf("%s %s: %v %v", file, c.row, rec.Loads, sentences(in))
			}
		}
	}
}

// Words that YAML 1.1 took for yes and no are words.
func TestYAMLWords(t *testing.T) {
	rec, in := fill(t, map[string]string{"loads.yaml": "- {started: 2026-03-31 14:05, program: no, sterilizer: NO, fault: on, certificate: 0x1F, trace: 1_000, loaded_by: ~}\n- started: 2026-03-31\n  program: 'yes'\n  fault: |\n    a\n    b\n"})
	if len(in.Problems) > 0 || len(rec.Loads) != 2 {
		t.Fatal(sentences(in))
	}
	a, b := rec.Loads[0], rec.Loads[1]
	if a.Program != "no" || a.Sterilizer != "NO" || a.Fault != "on" || a.Certificate != "0x1F" || a.Trace != "1_000" || a.LoadedBy != "" || a.Started.String() != "2026-03-31 14:05" {
		t.Errorf("%+v", a)
	}
	if b.Program != "yes" || b.Fault != "a\nb" {
		t.Errorf("%+v", b)
	}
}

// Day and clock may stand in two columns.
func TestDayAndClockApart(t *testing.T) {
	for _, c := range []struct{ headings, cells, want, cause string }{
		{"started date,started time", "2026-03-31,14:05", "started=2026-03-31 14:05", ""},
		{"started time,started date", "2:05 pm,2026-03-31", "started=2026-03-31 14:05", ""},
		{"started date,started time", "2026-03-31,", "started=2026-03-31", ""},
		{"started date,note", "2026-03-31,", "started=2026-03-31", ""},
		{"date,time", "2026-03-31,14:05", "started=2026-03-31 14:05", ""},
		{"time,date", "14:05,2026-03-31", "started=2026-03-31 14:05", ""},
		{"date,start time", "2026-03-31,14:05", "started=2026-03-31 14:05", ""},
		{"date,start", "2026-03-31,2026-04-01", "started=2026-03-31", "repeated-heading"},
		{"date,time", ",14:05", "", "clock-alone"},
		{"date,time", "2026-03-31,late", "", "no-clock-that-can-be-read-after-its-date"},
		{"started,ended date,ended time", "2026-03-31,2026-03-31,15:00", "started=2026-03-31 ended=2026-03-31 15:00", ""},
	} {
		names, cells := strings.Split(c.headings, ","), strings.Split(c.cells, ",")
		var json []string
		for i := range names {
			json = append(json, `"`+names[i]+`": "`+cells[i]+`"`)
		}
		for file, text := range map[string]string{"loads.csv": c.headings + "\n" + c.cells + "\n", "loads.json": "[{" + strings.Join(json, ",") + "}]"} {
			rec, in := fill(t, map[string]string{file: text})
			if c.cause != "" {
				problem(t, in, c.cause)
			} else if len(in.Problems) > 0 {
				t.Errorf("%s %s: %v", c.headings, c.cells, sentences(in))
			}
			if c.want != "" && (len(rec.Loads) != 1 || show(&rec.Loads[0]) != c.want) {
				t.Errorf("%s of %s %s: %v", file, c.headings, c.cells, rec.Loads)
			}
			if c.want != "" && c.headings == "time,date" && rec.Loads[0].Text("started") != "2026-03-31 14:05" {
				t.Errorf("%q", rec.Loads[0].Text("started"))
			}
		}
	}
}

// A list may be all where the field allows it; a count or a list of ids says which it is.
func TestAllAndCounts(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"all", "all"}, {"ALL", "all"}, {"nail-trim; corn-reduction", "nail-trim|corn-reduction"}, {"Other: foot spa", "other:foot spa"}, {"none", ""},
	} {
		for form, text := range map[format]string{formatCSV: "client,given_on,procedures\nC1,2026-01-01,\"" + c.text + "\"\n", formatYAML: "- {client: C1, given_on: 2026-01-01, procedures: [\"" + strings.ReplaceAll(c.text, "; ", `","`) + "\"]}"} {
			s, err := readText("consents", form, text)
			if err != nil || len(s.told) > 0 || s.file.Accepted != 1 {
				t.Fatal(err, sentencesOf(s))
			}
			got := s.into.Index(0).FieldByName("F_procedures").Interface().(quantity.List)
			if got.All != (c.want == "all") || !got.Written || !got.All && strings.Join(got.Items, "|") != c.want {
				t.Errorf("%q: %+v", c.text, got)
			}
		}
	}
	rec, in := fill(t, map[string]string{"trips.csv": "on,packs_out,packs_back,packs_spoiled\n2026-01-01,6,K1; K2,none\n2026-01-02,6 bags,,\n"})
	a := rec.Trips[0]
	if a.PacksOut.Count.Value != 6 || a.PacksOut.List.Written || a.PacksBack.Count.Value != 2 || !a.PacksBack.Has("K2") || !a.PacksSpoiled.List.Written || a.PacksSpoiled.Count.Value != 0 {
		t.Errorf("%+v", a)
	}
	if p := problem(t, in, "count"); p.Places[0].Row != 2 || rec.Trips[1].PacksOut.Count.Written {
		t.Errorf("%+v", p)
	}
}

// A clock that cannot be read loses only itself: the row keeps its day.
func TestABadClockKeepsTheDay(t *testing.T) {
	rec, in := fill(t, map[string]string{"practice.yaml": "name: A\nregulator: B\n", "loads.csv": "id,started date,started time\nL1,2026-03-02,12:20 Uhr\nL2,2026-03-02,2.30pm\nL3,2026-03-02,-\n"})
	require.Len(t, rec.Loads, 3)
	for i, want := range []string{"2026-03-02", "2026-03-02 14:30", "2026-03-02"} {
		require.Equal(t, want, rec.Loads[i].Started.String())
	}
	require.Len(t, in.Problems, 1)
	require.Equal(t, Dropped, in.Problems[0].Effect)
	require.Equal(t, []string{"12:20 Uhr"}, in.Problems[0].Values)
	require.Equal(t, 15, in.Problems[0].Places[0].Column)
}

func TestNearHeadings(t *testing.T) {
	_, in := fill(t, map[string]string{"practice.yaml": "name: A\nregulator: B\n", "loads.csv": "date,Temprature [°C],Relased by,Hold/min,Colour,Hold Time in minutes\n2026-03-02,121,P1,30,blue,30\n"})
	near := map[string]string{}
	for _, h := range in.Files[0].Headings {
		if h.Field == "" {
			near[h.Written] = h.Near
		}
	}
	require.Equal(t, map[string]string{"Temprature [°C]": "temperature", "Relased by": "released_by", "Hold/min": "exposure", "Colour": "", "Hold Time in minutes": "exposure"}, near)
}
