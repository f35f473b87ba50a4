package report

import (
	"encoding/json"
	"net/url"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"footing/internal/result"

	"github.com/santhosh-tekuri/jsonschema/v5"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func sarifOf(t require.TestingT, r *result.Result) []byte {
	text, err := FindingsSARIF(r)
	require.NoError(t, err)
	return text
}

func sarifRunOf(t require.TestingT, r *result.Result) sarifRun {
	var log sarifLog
	require.NoError(t, json.Unmarshal(sarifOf(t, r), &log))
	require.Len(t, log.Runs, 1)
	return log.Runs[0]
}

// oasis is the schema of SARIF 2.1.0 with errata 01, as OASIS publishes it.
func oasis(t *testing.T) *jsonschema.Schema {
	t.Helper()
	file, err := os.Open(filepath.Join(outside, "sarif-schema-2.1.0.json"))
	require.NoError(t, err)
	defer file.Close()
	c := jsonschema.NewCompiler()
	c.Draft, c.AssertFormat = jsonschema.Draft4, true
	require.NoError(t, c.AddResource(sarifSchema, file))
	schema, err := c.Compile(sarifSchema)
	require.NoError(t, err)
	return schema
}

func judged(t require.TestingT, schema *jsonschema.Schema, text []byte) {
	var document any
	require.NoError(t, json.Unmarshal(text, &document))
	require.NoError(t, schema.Validate(document))
}

func sarifSamples() map[string]*result.Result {
	broken := full()
	for i := range broken.Checks {
		broken.Checks[i].Outcome = result.Broken
	}
	return map[string]*result.Result{"full": full(), "thin": thin(), "hostile": hostileResult(), "empty": {}, "broken": broken, "without checks": {Findings: fullFindings()}}
}

// Outside source: the OASIS schema, by two validators.
func TestOASISSchemaAcceptsTheFindings(t *testing.T) {
	schema := oasis(t)
	var names []string
	var documents []json.RawMessage
	for name, r := range sarifSamples() {
		text := sarifOf(t, r)
		judged(t, schema, text)
		names, documents = append(names, name), append(documents, text)
	}
	broken := strings.Replace(string(sarifOf(t, full())), `"level": "error"`, `"level": "critical"`, 1)
	var document any
	require.NoError(t, json.Unmarshal([]byte(broken), &document))
	require.Error(t, schema.Validate(document), "the schema refuses nothing")

	var faults [][]string
	node(t, "sarif.mjs", "ajv", append(documents, json.RawMessage(broken)), &faults)
	for i, name := range names {
		require.Empty(t, faults[i], name)
	}
	require.NotEmpty(t, faults[len(names)])
}

func TestEachFindingIsAResult(t *testing.T) {
	r := full()
	run := sarifRunOf(t, r)
	require.Equal(t, "unicodeCodePoints", run.ColumnKind)
	require.Len(t, run.Results, len(r.Findings))
	require.Len(t, run.Tool.Driver.Rules, len(r.Checks))
	ix := newIndex(r)
	levels := map[string]string{result.Critical: "error", result.Major: "error", result.Minor: "warning", result.Observation: "note"}
	for n, i := range ix.order {
		f, got := &r.Findings[i], run.Results[n]
		require.Equal(t, f.Check, got.Rule)
		require.Equal(t, f.Fingerprint, got.Fingerprints["footing/v1"])
		require.Equal(t, levels[f.Grade], got.Level)
		require.Equal(t, f.Accepted, strings.Contains(got.Message.Text, "Accepted until"))
		require.Equal(t, len(f.Evidence), len(got.Locations)+len(got.Related))
		if got.RuleIndex != nil {
			require.Equal(t, f.Check, run.Tool.Driver.Rules[*got.RuleIndex].ID)
		}
		for _, at := range append(slices.Clone(got.Locations), got.Related...) {
			require.Equal(t, at.Physical.File.URI, run.Artifacts[*at.Physical.File.Index].Location.URI)
		}
	}
	require.Equal(t, "Sterilizer S1: wrapped loads at 121 °C were held 3 min; 30 min is needed.", run.Results[0].Message.Text)
	require.Equal(t, &sarifRegion{Line: 13, Column: 31, EndColumn: 36}, run.Results[0].Locations[0].Physical.Region)
	require.Equal(t, r.Intake[0].SHA256, run.Artifacts[0].Hashes["sha-256"])
	require.True(t, sarifRunOf(t, thin()).Invocations[0].Successful)
	require.False(t, run.Invocations[0].Successful) // a check of the sample broke
	require.Contains(t, run.Invocations[0].Notices[0].Message.Text, "traces/copied")
}

// A place in a workbook has its sheet and cell, and no line; nothing that is private or
// reads like a name is in the file.
func TestPlacesInAWorkbookAndPrivateValues(t *testing.T) {
	run := sarifRunOf(t, full())
	at := slices.IndexFunc(run.Results, func(r sarifResult) bool { return r.Rule == "people/registered" })
	first := run.Results[at].Locations[0]
	require.Equal(t, "visits.xlsx", first.Physical.File.URI)
	require.Nil(t, first.Physical.Region)
	require.Equal(t, "visits!C9", first.Logical[0].Full)
	require.Equal(t, "histories/2026.yaml", run.Results[at].Related[0].Physical.File.URI)

	r := full()
	for i := range r.Findings {
		for j := range r.Findings[i].Evidence {
			e := &r.Findings[i].Evidence[j]
			e.Value, e.Private = "written there", true
		}
	}
	text := string(sarifOf(t, r))
	require.NotContains(t, text, "written there")
	require.NotContains(t, text, "Vale")
	require.Empty(t, never.FindAllString(text, -1))
}

// RFC 3986: what is no unreserved character is escaped, so that a name is neither a
// scheme nor a host, query or fragment.
func TestPathsAreURIReferences(t *testing.T) {
	for file, want := range map[string]string{
		"loads.csv": "loads.csv", "my loads.csv": "my%20loads.csv", "a:b.csv": "a%3Ab.csv", "//host/x": "host/x", "../x": "x", `a\b.csv`: "a/b.csv", "a?b#c%d.csv": "a%3Fb%23c%25d.csv",
		"läufe/ä.csv": "l%C3%A4ufe/%C3%A4.csv", "": "", "..": "", "\xff": "%FF",
	} {
		require.Equal(t, want, sarifPath(file), file)
	}
	rapid.Check(t, func(t *rapid.T) {
		u, err := url.Parse(sarifPath(rapid.OneOf(hostile(), rapid.String()).Draw(t, "file")))
		require.NoError(t, err)
		require.Empty(t, u.Scheme+u.Host+u.RawQuery+u.Fragment)
		require.False(t, strings.HasPrefix(u.Path, "/"))
	})
}

// The property that the file is a SARIF document whatever the result says.
func TestAnyTextGivesASARIFDocument(t *testing.T) {
	schema := oasis(t)
	rapid.Check(t, func(t *rapid.T) {
		r := full()
		pool := rapid.SliceOfN(hostile(), 7, 7).Draw(t, "texts")
		i := 0
		replaceTexts(reflect.ValueOf(r).Elem(), func(s string) string {
			if i++; i%3 > 0 {
				return s
			}
			return pool[i%len(pool)]
		})
		text := sarifOf(t, r)
		judged(t, schema, text)
		require.Equal(t, text, sarifOf(t, r))
		require.Len(t, sarifRunOf(t, r).Results, len(r.Findings))
	})
}

// The three files are made from the result alone: what was written to audit.json and
// read again gives the same bytes.
func TestWorkingFilesFromAuditJSON(t *testing.T) {
	for name, r := range map[string]*result.Result{"full": full(), "thin": thin()} {
		golden(t, name+".actions.csv", ActionsCSV(r))
		golden(t, name+".ics", DueICS(r))
		golden(t, name+".sarif", sarifOf(t, r))
		var b strings.Builder
		require.NoError(t, result.Write(&b, r))
		back, err := result.Read(strings.NewReader(b.String()))
		require.NoError(t, err)
		require.Equal(t, string(ActionsCSV(r)), string(ActionsCSV(back)), name)
		require.Equal(t, string(DueICS(r)), string(DueICS(back)), name)
		require.Equal(t, string(sarifOf(t, r)), string(sarifOf(t, back)), name)
	}
}
