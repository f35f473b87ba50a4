package result

import (
	"bytes"
	"io"
	"reflect"
	"strings"
	"testing"

	"footing/schemas"

	"github.com/go-json-experiment/json"
	"github.com/santhosh-tekuri/jsonschema/v5"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// wholePlace is evidence with every field set.
func wholePlace(kind, id string) Evidence {
	return Evidence{Kind: kind, ID: id, Field: "id", Heading: "No", Value: id, File: kind + ".csv", Line: 13, Column: 1, EndColumn: 4, Row: 12, Sheet: "s", Cell: "A13", Note: "why"}
}

// wholeLookback has every list filled.
func wholeLookback(id string) Lookback {
	window := Window{Name: Wide, Since: "2026-10-06", Until: "2026-11-12", Why: "a passed test", Proof: []Evidence{wholePlace("tests", "T-38")},
		Days: 37, Loads: 23, Packs: 63, Unnumbered: 25, OnShelf: 12, Unwritten: 25, Visits: 3, Clients: 3, MostVisits: 74, MostClients: 58}
	narrow := window
	narrow.Name, narrow.Days = Narrow, -1
	return Lookback{Kind: "sterilizers", ID: id, Sterilizer: id, Summary: "9 days", Failed: "2026-11-03", Bounded: true, Windows: []Window{window, narrow},
		Pull:      []Pull{{Pack: "P-1", Count: 1, Load: "L-1", Set: "nail set", Site: "clinic", Where: PullShelf, State: "counted on the shelf", On: "2026-11-02", Narrow: true, Record: wholePlace("packs", "P-1")}},
		Affected:  []Affected{{Visit: "V-1", Client: "C-1", On: "2026-11-03T10:00", Site: "clinic", Person: "P1", How: "names pack P-1", Named: true, Record: wholePlace("visits", "V-1")}},
		Loads:     []InWindow{{Load: "L-1", On: "2026-11-02T09:00", Counter: "398", Decision: "released", Shows: "indicators passed", Packs: "4", Record: wholePlace("loads", "L-1")}},
		Narrowing: []Narrowing{{What: "the control of T-40", Days: 9, Loads: 6, Visits: 20, Clients: 18}}}
}

func wholeTrail() *Trail {
	return &Trail{Seed: 7, Of: 412, Drawn: []string{"V-1", "V-9"}, Judged: 2, Followed: 1, Level: 95, Low: 1.26, High: 98.74,
		Links: []TrailLink{{Name: "pack", Found: 1, Missing: 1}, {Name: "consent", Unkept: 1, None: 1}}, Weakest: "pack"}
}

func wholeChain() Chain {
	return Chain{Visit: "V-1", Client: "C-1", On: "2026-03-18", Site: "clinic", Person: "P1", Whole: true,
		Links:  []Link{{Name: "pack", State: LinkFound, What: "P-1", Evidence: []Evidence{wholePlace("packs", "P-1")}}, {Name: "consent", State: LinkUnkept}},
		Copies: []Evidence{wholePlace("visits", "V-1")}, Record: wholePlace("visits", "V-1")}
}

func wholeAnswer() *Answer {
	r := whole()
	return &Answer{Format: LookbackFormat, Tool: r.Tool, AsOf: r.AsOf, Practice: r.Practice, Period: r.Period, Contacts: r.Contacts, RuleSet: "x", Rules: r.Rules,
		Asked: Asked{Kind: "tests", ID: "T-41", Since: "2026-10-01", Until: "2026-11-01", Words: "spore test T-41"}, Says: []string{"growth"}, Now: []string{"stop"}, Decides: "public health",
		Lookbacks: []Lookback{wholeLookback("S1")}, Chains: []Chain{wholeChain()}, Others: &Others{Clients: 12, Shares: []string{"loads"}}, Missing: []string{"T-40"}, Limits: []string{"upper limits"}}
}

func wholeDraw() *Draw {
	r := whole()
	return &Draw{Format: DrawFormat, Tool: r.Tool, AsOf: r.AsOf, Practice: r.Practice, Period: r.Period, Contacts: r.Contacts, Trail: *wholeTrail(), Chains: []Chain{wholeChain()}, Missing: []string{"3 rows"}}
}

// documentSchema compiles a schema with those that it refers to.
func documentSchema(t testing.TB, name string) *jsonschema.Schema {
	c := jsonschema.NewCompiler()
	c.Draft = jsonschema.Draft2020
	for _, n := range []string{"result", name} {
		raw, ok := schemas.Resource(n)
		require.True(t, ok, n)
		require.NoError(t, c.AddResource("urn:footing:"+n, bytes.NewReader(raw)))
	}
	s, err := c.Compile("urn:footing:" + name)
	require.NoError(t, err)
	return s
}

// valid fails on a document that its schema refuses.
func valid(t require.TestingT, s *jsonschema.Schema, text []byte) {
	var v any
	require.NoError(t, json.Unmarshal(text, &v))
	require.NoError(t, s.Validate(v), "%s", text)
}

// document is one that is written by its own function: whole, and with nothing in it.
type document struct {
	schema      string
	whole, bare func(io.Writer) error
}

var documents = []document{
	{"lookback", func(w io.Writer) error { return WriteAnswer(w, wholeAnswer()) }, func(w io.Writer) error {
		return WriteAnswer(w, &Answer{Format: LookbackFormat, AsOf: "2026-11-25", Asked: Asked{Kind: "loads"}})
	}},
	{"draw", func(w io.Writer) error { return WriteDraw(w, wholeDraw()) }, func(w io.Writer) error {
		return WriteDraw(w, &Draw{Format: DrawFormat, AsOf: "2026-11-25"})
	}},
}

func TestDocumentsAreValid(t *testing.T) {
	for _, d := range documents {
		s := documentSchema(t, d.schema)
		var first, again, bare bytes.Buffer
		require.NoError(t, d.whole(&first))
		require.NoError(t, d.whole(&again))
		require.NoError(t, d.bare(&bare))
		require.Equal(t, first.String(), again.String(), "same bytes")
		require.True(t, strings.HasSuffix(first.String(), "}\n"))
		valid(t, s, first.Bytes())
		valid(t, s, bare.Bytes())
		require.LessOrEqual(t, strings.Count(bare.String(), "null"), 1, "only others may be null")
		require.Contains(t, first.String(), `"Lowbridge <foot & nail>"`)
	}
}

// The schemas refuse what no such document may hold.
func TestSchemasOfDocumentsRefuse(t *testing.T) {
	for _, d := range documents {
		s := documentSchema(t, d.schema)
		var b bytes.Buffer
		require.NoError(t, d.whole(&b))
		for _, swap := range [][2]string{{`"as_of": "2026-11-25"`, `"as_of": "today"`}, {`"tool":`, `"tools":`}, {`"format": "footing `, `"format": "other `}, {`"row": 12`, `"row": "12"`}, {`"chains": [`, `"chains": null, "x": [`}} {
			text := strings.Replace(b.String(), swap[0], swap[1], 1)
			require.NotEqual(t, b.String(), text, swap)
			var v any
			require.NoError(t, json.Unmarshal([]byte(text), &v))
			require.Error(t, s.Validate(v), "%s %s", d.schema, swap)
		}
	}
}

// Whatever words an answer holds, what is written is valid and reads back the same.
func TestAnyAnswerSurvivesTheTrip(t *testing.T) {
	s := documentSchema(t, "lookback")
	rapid.Check(t, func(t *rapid.T) {
		a := wholeAnswer()
		text := rapid.String()
		a.Asked.Words, a.Decides, a.Says = text.Draw(t, "words"), text.Draw(t, "decides"), rapid.SliceOf(text).Draw(t, "says")
		a.Lookbacks[0].Affected[0].How, a.Chains[0].Links[0].What = text.Draw(t, "how"), text.Draw(t, "what")
		a.Lookbacks[0].Windows[0].Days = rapid.IntRange(-1, 40_000).Draw(t, "days")
		var b bytes.Buffer
		require.NoError(t, WriteAnswer(&b, a))
		valid(t, s, b.Bytes())
		back, err := ReadAnswer(&b)
		require.NoError(t, err)
		fill(reflect.ValueOf(a).Elem())
		require.Equal(t, a, back)
	})
}

// Each document reads back the same, and no other is taken for it.
func TestDocumentsReadBack(t *testing.T) {
	var draw, answer, audit bytes.Buffer
	require.NoError(t, WriteDraw(&draw, wholeDraw()))
	require.NoError(t, WriteAnswer(&answer, wholeAnswer()))
	require.NoError(t, Write(&audit, whole()))
	back, err := ReadDraw(bytes.NewReader(draw.Bytes()))
	require.NoError(t, err)
	want := wholeDraw()
	fill(reflect.ValueOf(want).Elem())
	require.Equal(t, want, back)

	_, err = ReadDraw(&answer)
	require.ErrorContains(t, err, "this is not a draw.json: its part “format” should say \"footing draw 1\"")
	_, err = ReadAnswer(&audit)
	require.ErrorContains(t, err, "this is not a lookback.json")
	_, err = ReadDraw(strings.NewReader(draw.String()[:draw.Len()/2]))
	require.ErrorContains(t, err, "not a draw.json, or it was cut short: line")
	require.ErrorContains(t, err, "draw again to have it written anew")
	_, err = ReadDraw(strings.NewReader(strings.Replace(draw.String(), DrawFormat, "footing draw 2", 1)))
	require.ErrorContains(t, err, "this draw.json has another version")
	_, err = ReadDraw(strings.NewReader(strings.Replace(draw.String(), `"seed": 7`, `"seed": "seven"`, 1)))
	require.ErrorContains(t, err, "this draw.json was changed after it was written, or by another program: trail, seed, line ")
}
