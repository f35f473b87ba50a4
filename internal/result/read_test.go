package result

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// Each refusal says what the file is and where; none shows a word of programming.
func TestReadSaysWhatIsWrong(t *testing.T) {
	good := string(written(t, whole()))
	swap := func(from, to string) string {
		t.Helper()
		require.Contains(t, good, from)
		return strings.Replace(good, from, to, 1)
	}
	for name, c := range map[string]struct{ text, want string }{
		"empty":        {" \n", "the file is empty"},
		"a CSV":        {"started,exposure\n2026-03-01,3 min\n", "line 1, character 1 is not JSON"},
		"cut short":    {good[:len(good)/2], "cut short: line"},
		"other JSON":   {`{"started": "2026-03-01"}`, "not an audit.json: its part “format”"},
		"a list":       {`[1, 2]`, "a list or a single value"},
		"version":      {swap("footing audit 2", "footing audit 3"), `"footing audit 3", and this program reads "footing audit 2"`},
		"which tool":   {swap("footing audit 2", "footing audit 3"), "(footing 0.1)"},
		"grade":        {swap(`"grade": "critical"`, `"grade": "worst"`), "findings, number 1, grade, line "},
		"grade values": {swap(`"grade": "critical"`, `"grade": "worst"`), `"critical", "major", "minor", "observation"`},
		"a lost part":  {swap(`"seed":`, `"sead":`), `missing properties: "seed"`},
		"a new part":   {swap(`"seed":`, `"zeal": 1, "seed":`), "zeal"},
		"twice":        {swap(`"seed":`, `"tool": "x", "seed":`), "the same name twice"},
		"null":         {swap(`"headline": [`, `"headline": null, "x": [`), "this audit.json was changed"},
		"fingerprint":  {swap(`"fingerprint": "`, `"fingerprint": "Z`), "findings, number 1, fingerprint, line "},
		"huge row":     {swap(`"row": 12`, `"row": 1e300`), "row"},
		"half a row":   {swap(`"row": 12`, `"row": 1.5`), "findings, number 1, evidence, number 1, row, line "},
	} {
		_, err := Read(strings.NewReader(c.text))
		require.ErrorContains(t, err, c.want, name)
		require.NotContains(t, err.Error(), "jsonschema", name)
		require.NotContains(t, err.Error(), "jsontext", name)
		require.NotContains(t, err.Error(), "Go ", name)
	}
}

func TestReadNamesTheVeryCharacter(t *testing.T) {
	text := string(written(t, whole()))
	bad := strings.Replace(text, `"looser": true`, `"looser": "é"`, 1)
	before := bad[:strings.Index(bad, `"é"`)]
	line := strings.Count(before, "\n") + 1
	char := len([]rune(before[strings.LastIndex(before, "\n")+1:])) + 1
	_, err := Read(strings.NewReader(bad))
	require.ErrorContains(t, err, "rules, number 1, looser")
	require.ErrorContains(t, err, "line "+itoa(line)+", character "+itoa(char))
}

func TestReadTakesAByteOrderMark(t *testing.T) {
	_, err := Read(strings.NewReader("\ufeff" + string(written(t, whole()))))
	require.NoError(t, err)
}
