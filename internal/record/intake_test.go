package record

import (
	"slices"
	"strings"
	"testing"
	"time"
	"unicode/utf16"

	"footing/internal/quantity"
)

func TestEncodings(t *testing.T) {
	const text = "date;note;temp\n2026-01-01;Grüße – 5 €;121 °C\n"
	wide := func(order []byte, swap bool) string {
		for _, u := range utf16.Encode([]rune(text)) {
			if swap {
				u = u<<8 | u>>8
			}
			order = append(order, byte(u), byte(u>>8))
		}
		return string(order)
	}
	for _, c := range []struct{ name, text, encoding string }{
		{"plain", text, "UTF-8"},
		{"byte order mark", "\ufeff" + text, "UTF-8"},
		{"UTF-16 little", wide([]byte{0xff, 0xfe}, false), "UTF-16"},
		{"UTF-16 big", wide([]byte{0xfe, 0xff}, true), "UTF-16"},
		{"Windows-1252", strings.NewReplacer("ü", "\xfc", "ß", "\xdf", "–", "\x96", "€", "\x80", "°", "\xb0").Replace(text), "Windows-1252"},
	} {
		rec, in := fill(t, map[string]string{"loads.csv": c.text})
		if len(in.Problems) > 0 || len(rec.Loads) != 1 {
			t.Fatal(c.name, sentences(in))
		}
		if l := rec.Loads[0]; l.Note != "Grüße – 5 €" || l.Temperature.String() != "121 °C" || in.Files[0].Encoding != c.encoding || in.Files[0].Delimiter != "semicolon" {
			t.Errorf("%s: %q %v %+v", c.name, l.Note, l.Temperature, in.Files[0])
		}
		if at := rec.Loads[0].Place("temperature"); at.Column != 24 || at.Line != 2 {
			t.Errorf("%s: %+v", c.name, at)
		}
	}
	_, in := fill(t, map[string]string{"loads.csv": "date,note\n2026-01-01,Grüße\xff\n"})
	if p := problem(t, in, "damaged"); p.Effect != Noted || p.Places[0].Line != 2 || p.Places[0].Column != 17 || in.Files[0].Encoding != "UTF-8" {
		t.Errorf("%+v", p)
	}
}

// What was taken for what is listed, and unknown columns are no error.
func TestHeadings(t *testing.T) {
	_, in := fill(t, map[string]string{"loads.csv": "Cycle-No|START|hold time [min]|Colour||temp (lowest)\n1|2026-01-01|30|red||121 C\n"})
	want := []Heading{{"Cycle-No", "counter", ""}, {"START", "started", ""}, {"hold time [min]", "exposure", ""}, {"Colour", "", ""}, {"temp (lowest)", "temperature", ""}}
	if f := in.Files[0]; !slices.Equal(f.Headings, want) || f.Delimiter != "bar" || len(in.Problems) > 0 {
		t.Errorf("%+v %v", f, sentences(in))
	}
	_, in = fill(t, map[string]string{"loads.json": `[{"started":"2026-01-01","b":1},{"a":2,"started":"2026-01-01"}]`})
	if got := in.Files[0].Headings; !slices.Equal(got, []Heading{{"started", "started", ""}, {"b", "", ""}, {"a", "", ""}}) {
		t.Errorf("%+v", got)
	}
}

// Blank lines and rows of blanks are no rows, wherever they stand.
func TestBlankRows(t *testing.T) {
	for file, text := range map[string]string{
		"loads.csv":   "\n,,\ndate,id\n\n,\n2026-01-01,L1\n  , \t\n\n2026-01-02,L2\n,\n",
		"loads.json":  `[null,{},{"started":"2026-01-01"},{"started":null,"id":""},{"started":"2026-01-02"}]`,
		"loads.jsonl": "\n\n{}\n{\"started\":\"2026-01-01\"}\n \nnull\n{\"started\":\"2026-01-02\"}\n",
		"loads.yaml":  "\n#\n- \n- {}\n- started: 2026-01-01\n\n- started:\n- started: 2026-01-02\n",
	} {
		rec, in := fill(t, map[string]string{file: text})
		if len(in.Problems) > 0 || len(rec.Loads) != 2 || in.Files[0].Rows != 2 || rec.Loads[1].Number() != 2 {
			t.Errorf("%s: %+v %v", file, in.Files, sentences(in))
		}
	}
}

// practice and rules may be two columns of names and values, or a table of one row.
func TestSingleDocuments(t *testing.T) {
	pairs := "Name;Value\npractice name;Tarnwater\ncouncil;Eastmere\ndates;day first\nunits.temperature;°C\nunits.pressure;psi gauge\nclosed days;sat|sun\n" +
		"coverage.1.kind;loads\ncoverage.1.share;all\ncoverage.1.from;31/03/2026\ncoverage.2.kind;trips\ncoverage.2.share;some\naltitude;350 m\nshoe size;44\n\n"
	for file, text := range map[string]string{
		"practice.csv":  pairs,
		"profile.csv":   strings.TrimPrefix(pairs, "Name;Value\n"),
		"practice.json": `{"practice name":"Tarnwater","council":"Eastmere","dates":"dmy","units":{"temperature":"°C","pressure":"psi gauge"},"closed_days":["sat","sunday"],"coverage":[{"kind":"loads","share":"all","from":"31/03/2026"},{"kind":"trips","share":"some"}],"altitude":"350 m","shoe size":44}`,
		"practice.yml":  "practice name: Tarnwater\ncouncil: Eastmere\ndates: dmy\nunits: {temperature: °C, pressure: psi gauge}\nclosed_days: [sat, sunday]\ncoverage:\n- {kind: loads, share: all, from: 31/03/2026}\n- {kind: trips, share: some}\naltitude: 350 m\nshoe size: 44\n",
		"Practice.CSV":  "name,council,dates,units,closed_days,coverage,altitude,shoe size\nTarnwater,Eastmere,dmy,\"{\"\"temperature\"\":\"\"°C\"\",\"\"pressure\"\":\"\"psi gauge\"\"}\",sat;sun,\"[{\"\"kind\"\":\"\"loads\"\",\"\"share\"\":\"\"all\"\",\"\"from\"\":\"\"2026-03-31\"\"},{\"\"kind\"\":\"\"trips\"\",\"\"share\"\":\"\"some\"\"}]\",350 m,44\n",
	} {
		rec, in := fill(t, map[string]string{file: text})
		p := rec.Profile
		if len(in.Problems) > 0 || p.Name != "Tarnwater" || p.Regulator != "Eastmere" || p.Dates != "dmy" || p.Units.Temperature != "°C" || p.Altitude.String() != "350 m" ||
			!slices.Equal(p.ClosedDays.Items, []string{"saturday", "sunday"}) || len(p.Coverage) != 2 || p.Coverage[0].From.String() != "2026-03-31" || p.Coverage[1].Kind != "trips" {
			t.Errorf("%s: %+v %v", file, p, sentences(in))
		}
		if in.Order != quantity.DMY || in.Units != (Units{quantity.Celsius, quantity.Psi, quantity.Gauge}) {
			t.Errorf("%s: %v %v", file, in.Order, in.Units)
		}
		if h := in.Files[0].Headings; h[len(h)-1].Field != "" {
			t.Errorf("%s: %v", file, h)
		}
	}
	rec, in := fill(t, map[string]string{"rules.yaml": "criteria:\n- {criterion: a, value: 7 d, when: {method: steam, air_removal: gravity}}\n- {criterion: b, value: [sterilizer, load]}\n- {criterion: c, value: 3, when: wrapped}\n- {criterion: d, value: true}\n- {value: 1}\nscreen_questions: [latex, rubber]\n"})
	if r := rec.Rules; len(r.Criteria) != 4 || r.Criteria[0].When != "method=steam; air_removal=gravity" || r.Criteria[1].Value != "sterilizer; load" || r.Criteria[2].Value != "3" || r.Criteria[3].Value != "true" ||
		!slices.Equal(r.ScreenQuestions.Items, []string{"latex", "latex"}) {
		t.Errorf("%+v", r)
	}
	if p := problem(t, in, "blank"); p.Field != "criteria.criterion" || p.Effect != Dropped || in.Files[0].Accepted != 1 {
		t.Errorf("%+v", p)
	}
	_, in = fill(t, map[string]string{"practice.csv": "name,A\nregulator,B\n", "practice.yaml": "name: C"})
	if p := problem(t, in, "second"); p.File != "practice.yaml" || p.Effect != FileRefused || len(in.Files) != 1 {
		t.Errorf("%+v", p)
	}
}

// What practice says steers the rest even where practice itself must be set aside.
func TestPracticeSteers(t *testing.T) {
	rec, in := fill(t, map[string]string{"practice.yaml": "dates: mdy\ntime_zone: Pacific/Auckland\n", "loads.csv": "date\n03/31/2026 14:05\n"})
	if len(rec.Loads) != 1 || rec.Loads[0].Started.String() != "2026-03-31 14:05" || in.Zone.String() != "Pacific/Auckland" ||
		rec.Loads[0].Started.First() != time.Date(2026, 3, 31, 1, 5, 0, 0, time.UTC).Unix() { // summer time there: 13 h ahead
		t.Errorf("%v %v %v", rec.Loads, in.Zone, sentences(in))
	}
	if problem(t, in, "no-column"); rec.Profile.Dates != "" {
		t.Error("a practice set aside was filled in")
	}
	_, in = fill(t, map[string]string{"loads.csv": "date\n2026-01-01\n"})
	if in.Zone.String() != "UTC" || in.Order != quantity.ISO {
		t.Errorf("%v %v", in.Zone, in.Order)
	}
}

func TestIDs(t *testing.T) {
	_, in := fill(t, map[string]string{
		"loads/a.csv": "id,date\nL1,2026-01-01\nL2,2026-01-02\nL3,\nL4,2026-01-02\n",
		"loads/b.csv": "id,date\nL2,2026-01-02\nL4,\n",
		"trips.csv":   "id,on\nT1,2026-01-01\n,\n,soon\n",
	})
	for id, want := range map[string]IDState{"L1": IDOne, "L2": IDShared, "L3": IDSetAside, "L4": IDShared, "L9": IDUnknown} {
		if got := in.StateOf("loads", id); got != want {
			t.Errorf("%s is %v, want %v", id, got, want)
		}
	}
	// The trip set aside has no id, so none can be meant by another.
	if got := in.StateOf("trips", "T9"); got != IDUnknown {
		t.Errorf("T9 is %v", got)
	}
	if in.StateOf("clients", "C1") != IDUnknown || (&Intake{}).StateOf("loads", "L1") != IDUnknown {
		t.Error("ids of kinds that are not there are known")
	}
	shared := 0
	for _, p := range in.Problems {
		if p.Cause == "shared-id" {
			shared++
			if p.Effect != Noted || !slices.Contains(p.IDs, "L2") || len(p.Places) != len(p.IDs) {
				t.Errorf("%+v", p)
			}
		}
	}
	if shared != 2 {
		t.Errorf("%d files told of the shared id: %v", shared, sentences(in))
	}
	_, in = fill(t, map[string]string{"trips.json": `[{"on":"2026-01-01","id":["x"]}]`, "loads.jsonl": "{\"id\":\"L1\"\n"})
	if in.StateOf("trips", "T1") != IDSetAside || in.StateOf("loads", "L1") != IDSetAside {
		t.Error("an id that could not be read is taken for unknown")
	}
}

func TestCheck(t *testing.T) {
	if err := Check(&testRecords{}); err != nil {
		t.Error(err)
	}
	type bad struct {
		Row
		On quantity.Day `field:"on"`
	}
	for want, target := range map[string]any{
		"not a pointer": testRecords{},
		"no record kind": &struct {
			X []testLoad `kind:"lods"`
		}{},
		"need a slice": &struct {
			X testLoad `kind:"loads"`
		}{},
		"has no field for": &struct {
			X []bad `kind:"trips"`
		}{},
		"does not embed": &struct {
			X []struct{ A int } `kind:"trips"`
		}{},
		"the schema has no": &struct {
			X []struct {
				testTrip
				Y string `field:"y"`
			} `kind:"trips"`
		}{},
		"two fields are tagged": &struct {
			X []struct {
				testTrip
				Y quantity.Day `field:"on"`
			} `kind:"trips"`
		}{},
	} {
		if err := Check(target); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v does not say %q", err, want)
		}
	}
}
