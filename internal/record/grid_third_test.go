package record

import (
	"strings"
	"testing"
)

// Many spreadsheets put 00:00 to a bare day; who types the words means them.
func TestBookMidnight(t *testing.T) {
	rows, in := bookLoads(t, "\nstarted|counter\nm:2026-06-04 00:00|1\n2026-06-04 00:00|2\nm:2026-06-04 00:01|3\n")
	wantLines(t, "rows", rows, "june.xlsx, sheet loads, row 2=2026-06-04/1//", "june.xlsx, sheet loads, row 3=2026-06-04 00:00/2//", "june.xlsx, sheet loads, row 4=2026-06-04 00:01/3//")
	wantLines(t, "told", sentences(in))
}

// A sheet known by another word for a kind, without one heading of it, may be no record.
func TestBookLooselyNamed(t *testing.T) {
	for name, text := range map[string]string{"to do": "buy|who\nsoap|Ada\ntowels|Bo\n", "Cycles": "Uhr|Wer\n9|Bo\n"} {
		_, in := fill(t, map[string]string{"june.xlsx": bookOf(t, []sheetText{{name, text}})})
		why := whyNot(in, "june.xlsx, sheet "+name)
		if len(in.Problems) != 0 || !strings.Contains(why, "or begin its name with _ if it is no record") || !strings.Contains(why, "headings such as ") {
			t.Errorf("%s: %q %q", name, why, sentences(in))
		}
	}
	_, in := fill(t, map[string]string{"june.xlsx": bookOf(t, []sheetText{{"Loads", "Uhr|Wer\n9|Bo\n"}})})
	if len(in.Problems) != 1 || in.Problems[0].Kind != "loads" || in.Problems[0].Effect != FileRefused || !strings.Contains(in.Problems[0].Sentence, "begin its name with _") {
		t.Errorf("%q", sentences(in))
	}
}
