package record

import (
	"encoding/json"
	"fmt"
	"reflect"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// The same words under the same heading say the same, in whichever format they stand.
func TestCellsAlikeInEveryFormat(t *testing.T) {
	cells := map[string][]string{
		"started":          {"31-Mar-26", "20260331 1405", "Tue 31/03/2026 14h05", "31 Mar 14 h", "3/4/26", "46112", "2026-03-31 ✅"},
		"temperature":      {"134 oC", "1210C", "134?", "n/a", "134 °C ✓"},
		"exposure":         {"3'", "'3'", "3:30", "0:03:30", "½ h", "3 m"},
		"wrapped":          {"wrapped", "unwrapped", "x", "✓", "y?", "--", "no - wrapped"},
		"inside_indicator": {"OK ✓", "n/a", "none", "pass?", "✗", "no - change", "did not change"},
		"counter":          {"No. 398", "1 398", "1,398", "1'398", "six"},
		"sets":             {"nail x 6, corn x 2", "nail, corn", "A & B"},
	}
	for field, list := range cells {
		for _, cell := range list {
			rows := map[string]string{"kept_at": "book", field: cell}
			if field != "started" {
				rows["started"] = "2026-03-02"
			}
			quoted, _ := json.Marshal([]any{rows})
			var heads, values, yaml []string
			for h, v := range rows {
				heads, values = append(heads, h), append(values, `"`+strings.ReplaceAll(v, `"`, `""`)+`"`)
				q, _ := json.Marshal(v)
				yaml = append(yaml, h+": "+string(q))
			}
			var want string
			for _, file := range []struct{ name, text string }{
				{"loads.csv", strings.Join(heads, ",") + "\n" + strings.Join(values, ",") + "\n"},
				{"loads.json", string(quoted)}, {"loads.jsonl", strings.Trim(string(quoted), "[]")}, {"loads.yaml", "- {" + strings.Join(yaml, ", ") + "}\n"},
			} {
				rec, in := fill(t, map[string]string{"practice.yaml": "name: A\nregulator: B\ndates: dmy\n", file.name: file.text})
				got := "aside"
				if len(rec.Loads) == 1 {
					l := rec.Loads[0]
					got = show(&l)
				}
				for _, p := range in.Problems {
					got += fmt.Sprint(" ", p.Cause, p.Values)
				}
				if want == "" {
					want = got
				}
				require.Equal(t, want, got, "%s, %s: %s", file.name, field, cell)
			}
			require.NotEmpty(t, want)
		}
	}
	require.Equal(t, 7, reflect.ValueOf(cells).Len())
}
