package result

import (
	"bytes"
	"encoding/json"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"

	"footing/schemas"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// whole is a result in which every list holds something and every field is set.
func whole() *Result {
	low := 2.5
	r := &Result{
		Format: Format, Tool: "footing 0.1", AsOf: "2026-11-25",
		Purpose:  Purpose{Kind: "renewal", On: "2027-01-06", Complaint: "K-1", Chosen: true},
		Practice: Practice{Name: "Lowbridge <foot & nail>", Regulator: "Council of Ardley", TimeZone: "UTC", RenewalOn: "2027-01-06"},
		Period:   Period{From: "2026-08-03", Until: "2026-11-24 16:05"},
		Grades:   map[string]string{Minor: "put right", Critical: "stop", Major: "soon", Observation: "look"},
		Contacts: map[string]string{"public_health": "555 0100", "insurer": "555 0101"},
		Rules:    []Rule{{Criterion: "steam.exposure", When: "wrapped", Ours: "30 min", Theirs: "3 min", Looser: true}},
		Accepted: []Accepted{{Finding: "00aa11bb22cc", Until: "2027-02-01", State: "in force"}},
		Sources:  []Source{{ID: "b"}, {ID: "a", Read: "2026-11-01"}},
		Intake:   []File{{File: "loads.csv", SHA256: strings.Repeat("ab", 32), Rows: 3, Accepted: 2, SetAside: 1, Headings: []HeadingPair{{"hold time", "exposure", ""}}}},
		NotRead:  []NotRead{{File: "sketch.png", Why: "a picture"}, {File: "readme.txt"}},
		Traces: []Trace{{File: "traces/b.csv", Why: "no readings"},
			{File: "traces/a.csv", SHA256: strings.Repeat("cd", 32), Bytes: 900, Lines: 30, Heading: 4, Readings: 25, Aside: 1, Layout: "entry 2", Start: "2026-11-24 16:05",
				Sterilizer: "S1", Program: "P3", Load: "398", By: "counter", Judged: true}},
		Conclusion: Conclusion{Stop: true, Sentence: "Something typed here says stop.",
			Stops: []string{Fingerprint("cycles/exposure", "sterilizers", "S1", "")}},
		Headline: []string{"one line"},
		Checks: []Check{{ID: "cycles/exposure", Fix: []string{"do"}, Grades: []string{Minor, Critical}, Outcome: Nonconforming,
			Criteria: []string{"z", "a"}, Missing: []Missing{{Kind: "loads", Field: "ended", Subjects: 1}, {Kind: "tests", Subjects: 9}},
			Reasons: []Reason{{"few", 1}, {"many", 7}}}},
		NextField: &NextField{Kind: "visits", Field: "packs", Checks: []string{"packs/once", "packs/date"}},
		Findings:  []Finding{finding(Minor, "a/b", "S1"), finding(Critical, "cycles/exposure", "S1"), finding(Critical, "cycles/exposure", "R2")},
		Figures:   []Figure{{Check: "cycles/exposure", Name: "held", Value: 3, Unit: "min", Low: &low}},
		Exhibits: []Exhibit{{ID: "trace-1", Kind: Drawn, Title: "held 3 min", Columns: []string{"a"}, Rows: [][]string{{"1"}}, Chart: chart()},
			{ID: "x", Kind: "table", Columns: []string{"a"}, Rows: [][]string{{"1"}}}},
		Undrawn:      2,
		Actions:      []Action{{ID: "ACT-2", Finding: "b", File: "actions.csv", Row: 2}, {ID: "ACT-1", Finding: "a", DueOn: "2026-12-01", DoneOn: "2026-12-02", VerifiedOn: "2026-12-03", File: "actions.csv", Row: 1}},
		Due:          []Due{{ID: "d2", On: "2027-01-01"}, {ID: "d1", On: "2026-12-12"}},
		Declarations: wholeDeclarations(), AskedFor: wholeAsked(), Bundle: wholeBundle(),
	}
	r.Coverage = []Coverage{{Kind: "loads", From: "2026-01-01", Until: "2026-06-30", Share: "all"}}
	r.Since = wholeSince()
	r.Lookback = []Lookback{wholeLookback("S2"), wholeLookback("S1")}
	r.Trail = wholeTrail()
	r.Days = []Day{{On: "2026-11-03", Sterilizer: "S1", Loads: 2, Spore: "fail"}, {On: "2026-11-02", Sterilizer: "S1", Loads: 1, Rejected: 1, AirRemoval: "pass", Leak: "no result"}}
	r.Gaps = []Gap{{Sterilizer: "S1", Test: "spore", From: "2026-09-07", Until: "2026-09-13", Days: 7}}
	r.Months = []Month{{Month: "2026-11", Sterilizer: "S1", Loads: 3, Exposure: 3, Indicators: 2, Release: 3, Spore: "not told", Missing: "the indicators of 1 load"}}
	Sort(r)
	return r
}

// chart has every field set.
func chart() *Chart {
	set, band := 134.0, 137.0
	return &Chart{File: "traces/a.csv", Load: "398", Sterilizer: "S1", Start: "2026-11-24 16:05",
		Findings: []string{Fingerprint("cycles/exposure", "sterilizers", "S1", "")}, Conforming: "least",
		Time: Series{0, 10.5, 20}, Temperature: Series{20.125, 134.2, 134}, Warmest: Series{21, 134.4, 134.3},
		Pressure: Series{101.3, math.NaN(), 304}, PressureFrom: "absolute", Saturation: Series{100, math.NaN(), 133.9},
		Set: &set, Band: &band, Hold: &Hold{Stretch: Stretch{From: 10, Until: 20}, Least: 9, Most: 11}, Phases: []ChartPhase{{Name: "heating", Stretch: Stretch{From: 0, Until: 10}}}}
}

func finding(grade, check, subject string) Finding {
	return Finding{Fingerprint: Fingerprint(check, "sterilizers", subject, ""), Check: check, Grade: grade,
		Subject: Subject{"sterilizers", subject}, Summary: "3 min found; 30 min needed", Extent: Extent{1, 2, "2026-08-03", "2026-11-24 16:05"},
		Criterion: &Criterion{ID: "steam.exposure", Value: "30", Unit: "min"},
		Verdicts:  []SetVerdict{{Set: "b", Verdict: "met"}, {Set: "a", Verdict: "not met", N: 1}},
		Evidence:  []Evidence{{Kind: "loads", ID: "398", Field: "exposure", Value: "3 min", File: "loads.csv", Line: 13, Column: 31, Row: 12}},
		Steps:     []string{"hold the load"}}
}

func written(t testing.TB, r *Result) []byte {
	var b bytes.Buffer
	require.NoError(t, Write(&b, r))
	return b.Bytes()
}

func TestWhatIsWrittenReadsBackTheSame(t *testing.T) {
	first := written(t, whole())
	back, err := Read(bytes.NewReader(first))
	require.NoError(t, err)
	require.Equal(t, string(first), string(written(t, back)))
	require.Contains(t, string(first), `"Lowbridge <foot & nail>"`)
	require.True(t, bytes.HasSuffix(first, []byte("}\n")))
}

func TestEmptyListsAreWrittenAsListsAndReadAsLists(t *testing.T) {
	r := &Result{Format: Format, AsOf: "2026-11-25", Purpose: Purpose{Kind: "self-audit"}, Findings: []Finding{finding(Minor, "a/b", "S1")}}
	r.Findings[0].Evidence, r.Findings[0].Criterion = nil, nil
	text := string(written(t, r))
	require.Equal(t, 5, strings.Count(text, "null"), "only next_field, trail, bundle, since and criterion may be null")
	back, err := Read(strings.NewReader(text))
	require.NoError(t, err)
	require.NotNil(t, back.Findings[0].Evidence)
	require.NotNil(t, back.Contacts)
}

// The rule that a result survives the trip is put to results of any content.
func TestAnyTextSurvivesTheTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := whole()
		r.Practice.Name = rapid.String().Draw(t, "name")
		r.Findings[0].Evidence[0].Value = rapid.String().Draw(t, "value")
		r.Findings[0].Steps = rapid.SliceOf(rapid.String()).Draw(t, "steps")
		r.Seed = rapid.Int64Range(-1<<53, 1<<53).Draw(t, "seed")
		var b bytes.Buffer
		require.NoError(t, Write(&b, r))
		back, err := Read(&b)
		require.NoError(t, err)
		if r.Findings[0].Steps == nil {
			r.Findings[0].Steps = []string{}
		}
		if d := cmp.Diff(r.Findings[0], back.Findings[0]); d != "" {
			t.Fatal(d)
		}
		if r.Practice != back.Practice || r.Seed != back.Seed {
			t.Fatalf("%+v became %+v", r.Practice, back.Practice)
		}
	})
}

// The schema and the structs name the same fields, at every depth.
func TestSchemaAndStructsNameTheSameFields(t *testing.T) {
	for name, c := range map[string]struct {
		typ   reflect.Type
		least int
	}{"result": {reflect.TypeFor[Result](), 250}, "lookback": {reflect.TypeFor[Answer](), 150}, "draw": {reflect.TypeFor[Draw](), 80}} {
		schema, seen := schemaOf(t, name), 0
		compareShape(t, schema, schema, c.typ, name, &seen)
		require.Greater(t, seen, c.least, name)
	}
}

func schemaOf(t *testing.T, name string) (schema map[string]any) {
	raw, ok := schemas.Resource(name)
	require.True(t, ok, name)
	require.NoError(t, json.Unmarshal(raw, &schema))
	return schema
}

func compareShape(t *testing.T, root, node map[string]any, typ reflect.Type, path string, seen *int) {
	if ref, ok := node["$ref"].(string); ok {
		document, name, _ := strings.Cut(ref, "#/$defs/")
		if document != "" {
			root = schemaOf(t, strings.TrimPrefix(document, "urn:footing:"))
		}
		node = root["$defs"].(map[string]any)[name].(map[string]any)
	}
	require.NotEmpty(t, node["description"], path)
	*seen++
	if forms, ok := node["anyOf"].([]any); ok {
		node = forms[0].(map[string]any)
		compareShape(t, root, node, typ, path, seen)
		return
	}
	switch typ.Kind() {
	case reflect.Pointer:
		if typ.Elem().Kind() == reflect.Struct {
			compareShape(t, root, node, typ.Elem(), path, seen)
		}
	case reflect.Slice:
		if typ == reflect.TypeFor[Series]() {
			require.Equal(t, "string", node["type"], path)
			return
		}
		items := node["items"].(map[string]any)
		if typ.Elem().Kind() == reflect.Struct {
			compareShape(t, root, items, typ.Elem(), path+"[]", seen)
		}
	case reflect.Struct:
		require.Equal(t, false, node["additionalProperties"], path)
		properties := node["properties"].(map[string]any)
		var want, required []string
		named := 0
		for _, field := range reflect.VisibleFields(typ) {
			if field.Anonymous { // its own fields stand in its place
				continue
			}
			name, option, _ := strings.Cut(field.Tag.Get("json"), ",")
			if option == "" { // what may be left out of a document is not required
				want = append(want, name)
			}
			named++
			require.Contains(t, properties, name, path)
			compareShape(t, root, properties[name].(map[string]any), field.Type, path+"."+name, seen)
		}
		for _, n := range node["required"].([]any) {
			required = append(required, n.(string))
		}
		require.Len(t, properties, named, path)
		slices.Sort(want)
		slices.Sort(required)
		require.Equal(t, want, required, path)
	}
}
