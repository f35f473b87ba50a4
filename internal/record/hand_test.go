package record

import (
	"context"
	"fmt"
	"os"
	"reflect"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"footing/schemas"
)

// handRows are rows that have the required fields of a kind and nothing else.
var handRows = map[string]string{"loads": "started=2026-03-02", "trips": "on=2026-03-02", "tests": "kind=spore;run_at=2026-03-02", "visits": "client=C1;started=2026-03-02",
	"stock": "item=gloves;on=2026-03-02;reason=count;quantity=1", "waste": "kind=sharps", "histories": "client=C1;taken_on=2026-03-02", "screens": "client=C1;asked_on=2026-03-02",
	"packs": "", "consents": "client=C1;given_on=2026-03-02", "credentials": "person=P1;kind=first-aid;valid_from=2026-03-02", "people": "role=student", "instruments": "kind=file"}

// readCell reads one cell of a kind, and returns what its field holds and what is told of it.
func readCell(t *testing.T, kind, field, dates, cell string) (got, told string) {
	t.Helper()
	quote := func(s string) string { return `"` + strings.ReplaceAll(s, `"`, `""`) + `"` }
	heads, cells := []string{field, "kept_at"}, []string{quote(cell), "book"}
	for pair := range strings.SplitSeq(handRows[kind], ";") {
		if name, value, ok := strings.Cut(pair, "="); ok && name != field {
			heads, cells = append(heads, name), append(cells, value)
		}
	}
	into := reflect.New(allKinds())
	profile := "name: A\nregulator: B\n"
	if dates != "" {
		profile += "dates: " + dates + "\n"
	}
	in, err := Fill(context.Background(), folderOf(t, map[string]string{"practice.yaml": profile,
		kind + ".csv": strings.Join(heads, ",") + "\n" + strings.Join(cells, ",") + "\n"}), into.Interface(), Options{})
	require.NoError(t, err)
	accounted(t, in)
	rows := into.Elem().FieldByName(goName(kind))
	if rows.Len() == 0 {
		return "aside", strings.Join(sentences(in), " ")
	}
	value := rows.Index(0).FieldByName(goName(field))
	if value.Kind() == reflect.Struct {
		if f := value.FieldByName("Items"); f.IsValid() && f.Len() > 0 {
			return fmt.Sprintf("%q", f.Interface()), strings.Join(sentences(in), " ")
		}
		if count := value.FieldByName("Count"); count.IsValid() {
			value = count
		}
		if w := value.FieldByName("Written"); w.IsValid() && !w.Bool() {
			return "", strings.Join(sentences(in), " ")
		}
		if v := value.FieldByName("Value"); v.IsValid() && value.NumField() == 2 {
			return fmt.Sprint(v.Float()), strings.Join(sentences(in), " ")
		}
		if value.FieldByName("Items").IsValid() {
			return "[]", strings.Join(sentences(in), " ")
		}
	}
	return fmt.Sprint(value.Interface()), strings.Join(sentences(in), " ")
}

// What people type in good faith and nobody could misread: common practice, no source.
// Beside each kind of value stand those that have two meanings or none: they are told.
func TestCellsAsPeopleTypeThem(t *testing.T) {
	for _, c := range []struct{ at, cell, want, told string }{
		{"loads.temperature", "134 oC", "134 °C", ""},
		{"loads.temperature", "'134 °C", "134 °C", ""},
		{"loads.temperature", "１３４ °C ✓", "134 °C", ""},
		{"loads.temperature", "134 o", "", "unit not known"},
		{"loads.temperature", "ca. 134 °C", "", "does not give one exact value"},
		{"loads.temperature", "121 – 124 °C", "", "gives more than one value"},
		{"loads.temperature", "134 °C OK", "", "unit not known"},
		{"loads.exposure", "3'", "3 min", ""},
		{"loads.exposure", "1h30", "1 h 30 min", ""},
		{"loads.exposure", "0:03:30", "3 min 30 s", ""},
		{"loads.exposure", "0:03:00", "", "could be hours and minutes"},
		{"loads.exposure", "3:30", "", "could be hours and minutes"},
		{"loads.pressure", "15 lb/in² gauge", "15 psi gauge", ""},
		{"waste.fill", "¾ full", "75 %", ""},
		{"waste.fill", "3/4", "", "does not say of what it is a part; write 75 % if it was so full"},
		{"waste.fill", "0.75", "", "has no unit"},

		{"loads.started dmy", "31/3/26", "2026-03-31", ""},
		{"loads.started dmy", "31/3/49", "2049-03-31", ""},
		{"loads.started dmy", "31/3/50", "aside", "two figures for the year"},
		{"loads.started", "31/3/26", "aside", "two figures for the year"},
		{"loads.started", "31-Mar-26", "2026-03-31", ""},
		{"loads.started dmy", "Tue 31/03/2026 14h05", "2026-03-31 14:05", ""},
		{"loads.started dmy", "Mon 31/03/2026", "aside", "2026-03-31 was a Tuesday"},
		{"loads.started", "2026-03-31 1405", "2026-03-31 14:05", ""},
		{"loads.started", "2026-03-31 405", "2026-03-31", "no clock that can be read"},
		{"loads.started", "46112", "aside", "a number that a spreadsheet shows"},
		{"trips.on", "31 Mar 2026 2:05 PM", "2026-03-31", ""},

		{"loads.outside_indicator", "✓ OK", "pass", ""},
		{"loads.outside_indicator", "Pass ✔.", "pass", ""},
		{"loads.outside_indicator", "X", "", "could be a tick or a cross; write pass, fail or none"},
		{"loads.outside_indicator", "black", "", "is not one of the choices"},
		{"loads.decision", "“Released”", "released", ""},
		{"loads.decision", "not released", "", "is not one of the choices"},
		{"visits.gloves", "Nitrile gloves", "nitrile", ""},
		{"visits.gloves", "gloves", "", "is not one of the choices"},
		{"tests.result", "+ve", "fail", ""},
		{"tests.result", "-ve", "pass", ""}, {"tests.result", "–ve", "pass", ""}, {"tests.result", "“-ve”", "pass", ""}, {"tests.result", "“ve”", "", "is not one"}, {"tests.result", "“growth -”", "", "is not one"}, {"tests.result", "ve", "", "is not one"}, {"tests.result", "growth -", "", "is not one"}, {"tests.result", "-growth", "", "is not one"},
		{"tests.result", "no - growth", "", "is not one"}, {"tests.result", "no\ngrowth", "", "is not one"}, {"tests.result", "no growth?", "", "is not one"}, {"tests.result", "clean", "", "is not one"}, {"tests.result", "✅", "pass", ""}, {"tests.result", "✗", "", "tick or a cross"}, {"tests.result", "N/A", "", ""},
		{"tests.control", "✓", "", "is not one"}, {"tests.control", "none", "", "is not one"}, {"tests.control", "positive control", "", "is not one"}, {"tests.control", "n/a", "", ""}, {"tests.control", "growth", "growth", ""},
		{"loads.inside_indicator", "n/a", "", ""}, {"loads.inside_indicator", "none", "none", ""}, {"loads.inside_indicator", "yes", "", "is not one"}, {"loads.inside_indicator", "pass?", "", "is not one"}, {"packs.inside_indicator", "N/A", "", ""},
		{"screens.latex", "NO LATEX", "", "is not one"}, {"histories.diabetes", "no diabetes", "no", ""}, {"histories.poor_circulation", "absent", "", "is not one"}, {"people.glove_size", "SS", "", "is not one"},
		{"loads.wrapped", "wrapped -", "", "neither yes nor no"}, {"loads.wrapped", "not\nwrapped", "", "neither yes nor no"}, {"loads.temperature", "1210C", "", "hotter than"}, {"loads.temperature", "121 0C", "", "two numbers"},
		{"tests.result", "growth", "fail", ""},
		{"tests.result", "no growth", "pass", ""},
		{"tests.result", "NG", "", "is not one of the choices"}, // no growth, or no good
		{"tests.control", "neg", "no-growth", ""},
		{"loads.packs_dry", "wet", "no", ""},
		{"loads.packs_dry", "not dry", "no", ""},
		{"loads.packs_dry", "damp", "", "neither yes nor no"},
		{"loads.wrapped", "unwrapped", "no", ""},
		{"loads.wrapped", "✓ yes", "yes", ""},
		{"loads.wrapped", "x", "", "could be a tick or a cross"},

		{"loads.packs_made", "6 pouches", "6", ""},
		{"loads.packs_made", "six", "6", ""},
		{"loads.packs_made", "6 or so", "", "if it is 6, write that alone"},
		{"loads.counter", "No. 398", "398", ""},
		{"loads.counter", "1 398", "", "could be read two ways"}, {"loads.counter", "1\u00a0398", "1398", ""}, {"loads.counter", "1'398", "1398", ""}, {"loads.counter", "1.398", "", "not a whole number"}, {"loads.counter", "1.000", "", "could be read two ways"},
		{"credentials.hours", "7.125", "7.125", ""}, {"loads.counter", "398?", "", "if it is 398"},
		{"loads.counter", "1 39", "", "not a whole number"},
		{"loads.counter", "1,398", "", "could be read two ways"},
		{"stock.each", "box of 100", "100", ""},
		{"stock.quantity", "2 boxes", "aside", "how many pieces are in one box goes under each"},
		{"stock.quantity", "1 000", "aside", "could be read two ways"}, {"stock.quantity", "1\u202f000", "1000", ""},
		{"trips.packs_out", "6?", "", "neither a number alone"}, {"trips.packs_out", "about 6", "", "neither a number alone"}, {"trips.packs_out", "398 399", "", "neither a number alone"}, {"trips.packs_out", "2-3", "", "neither a number alone"},
		{"trips.packs_out", "some", "", "neither a number alone"}, {"trips.packs_out", "K-1/K-2", "", "neither a number alone"}, {"trips.packs_out", "2026-398", `["2026-398"]`, ""}, {"trips.packs_out", "398, 399", `["398" "399"]`, ""}, {"trips.packs_out", "6pcs", "", "neither a number alone"},
		{"stock.item", "Gloves", "gloves", ""},
		{"stock.item", "nitrile gloves", "gloves", "write gloves alone, and nitrile under material; until then it is read as gloves"}, {"stock.item", "Gloves - nitrile", "gloves", "and nitrile under material"}, {"stock.item", "gloves (Latex)", "gloves", "and Latex under material"},
		{"stock.item", "gloves nitrile M", "aside", "write gloves alone, and the other words in their own column or under note"}, {"stock.item", "no gloves", "aside", "is not one"}, {"stock.item", "latex-free gloves", "aside", "write gloves alone"}, {"stock.item", "nitrile gloves?", "aside", "is not one"}, {"stock.item", "paper mask gloves", "aside", "is not one"},
		{"stock.quantity", "½", "0.5", ""}, {"stock.quantity", "2½", "2.5", ""}, {"stock.quantity", "2 ½", "2.5", ""}, {"loads.packs_made", "½", "", "whole number"}, {"stock.quantity", "3 boxes", "aside", "write the number alone, 3; how many"},
		{"loads.packs_dry", "ok ✓", "yes", ""}, {"loads.packs_dry", "not ok", "", "neither yes nor no"}, {"loads.wrapped", "ok", "", "neither yes nor no"},
		{"instruments.kind", "double action nail nippers", "aside", "is not one"}, {"instruments.kind", "large curette", "aside", "write curette alone"},
		{"stock.item", "Gloves (nitrile), blue", "aside", "write gloves alone"},
		{"stock.item", "nitrile things", "aside", "is not one of the choices"},
		{"stock.expires_on", "03/2027", "", "write 2027-03-31, the last day of the month, if the box or the paper says 03/2027"}, {"stock.expires_on dmy", "2/28", "", "write 2028-02-29"}, {"stock.expires_on", "2027-03", "", "write 2027-03-31"},
		{"tests.lot_expires_on", "Mar 2027", "", "write 2027-03-31"}, {"tests.lot_expires_on", "Mar-27", "", "write 2027-03-31"}, {"tests.lot_expires_on", "13/2027", "", "not a whole date"}, {"tests.lot_expires_on", "27/3", "", "not a whole date"},
		{"credentials.valid_from", "03/2027", "aside", "not a whole date"}, {"stock.on", "03/2027", "aside", "not a whole date"},
		{"credentials.kind", "First Aid at Work", "first-aid", ""}, {"credentials.kind", "Public liability", "liability-cover", ""}, {"credentials.kind", "Professional Indemnity", "liability-cover", ""}, {"credentials.kind", "CPR", "first-aid", ""},
		{"instruments.material", "St. Steel", `["stainless-steel"]`, ""}, {"instruments.material", "s/steel", `["stainless-steel"]`, ""},
		{"instruments.kind", "scalpel handle no 3", "scalpel-handle", ""}, {"instruments.kind", "Scalpel handle no. 4", "scalpel-handle", ""}, {"instruments.kind", "file (metal)", "file", ""}, {"instruments.kind", "Nipper, double action", "double-action-nipper", ""}, {"instruments.kind", "nippers double action", "double-action-nipper", ""},
		{"credentials.hours", "7.5 hrs", "7.5", ""},
		{"credentials.hours", "7.5 days", "", "not a number"},
		{"trips.packs_out", "six", "6", ""},
		{"trips.packs_out", "nil", "0", ""},

		{"visits.packs", "K-1, K-2 & K-3", `["K-1" "K-2" "K-3"]`, ""},
		{"visits.packs", "K-1,K-2", `["K-1" "K-2"]`, ""},
		{"visits.packs", "K-1\nK-2\n", `["K-1" "K-2"]`, ""},
		{"visits.packs", "398, 399", `["398" "399"]`, ""},
		{"visits.packs", "398,399", "", "could be one number or several"}, {"visits.packs", "398 / 2", `["398 / 2"]`, ""}, {"visits.gear", "mask/respirator", "", "separate the items"}, {"visits.procedures", "other: gel - toes", `["other:gel - toes"]`, ""}, {"visits.gear", "mask & gown", `["mask" "gown"]`, ""},
		{"visits.packs", "2026/398", `["2026/398"]`, ""},
		{"visits.packs", "K-1 to K-9", "", "gives the first and the last only"},
		{"visits.packs", "top shelf, left", `["top shelf, left"]`, ""},
		{"visits.procedures", "nails + callus", `["nail-trim" "callus-reduction"]`, ""},
		{"visits.procedures", "nails, verruca", "", "is not one of the choices"},
		{"visits.found", "NAD", "[]", ""},
		{"loads.sets", "nail x 6, corn x 2", `["nail x 6" "corn x 2"]`, ""},
		{"loads.sets", "nail, corn", `["nail, corn"]`, ""}, {"loads.sets", "nail×6, corn*2", `["nail×6" "corn*2"]`, ""}, {"loads.sets", "box 6, box 7", `["box 6, box 7"]`, ""},

		{"loads.temperature", "n/a", "", ""}, {"loads.temperature", "?", "", ""}, {"loads.temperature", "TBC", "", ""}, {"loads.temperature", "see book", "", "does not begin with a number"},
		{"loads.wrapped", "N/A", "", ""}, {"loads.released_by", "unknown", "", ""}, {"loads.ended", "not recorded", "", ""}, {"visits.packs", "?", "", ""}, {"loads.fault", "n/a", "", ""},
		{"loads.fault", "unknown", "unknown", ""}, {"loads.released_by", "unknown yet", "unknown yet", ""}, {"screens.latex", "?", "unsure", ""}, {"screens.latex", "n/a", "", ""}, {"screens.latex", "none known", "no", ""},
		{"loads.started", "n/a", "aside", "is not a date"}, {"loads.packs_made", "none", "", "write 0 if there were none"},
	} {
		at, dates, _ := strings.Cut(c.at, " ")
		kind, field, _ := strings.Cut(at, ".")
		got, told := readCell(t, kind, field, dates, c.cell)
		if got != c.want || (c.told == "") != (told == "") || !strings.Contains(told, c.told) {
			t.Errorf("%s %q: got %q, told %q; want %q, %q", c.at, c.cell, got, told, c.want, c.told)
		}
	}
}

// A list is taken apart alike, whichever way it is written.
func TestListsAlikeInEveryFormat(t *testing.T) {
	for cell, want := range map[string]string{"K-1, K-2": "K-1|K-2", "n/a": "", "none": "", "2026/398": "2026/398", "?; K-1": "?|K-1"} {
		item := `"` + strings.ReplaceAll(cell, "; ", `","`) + `"`
		for file, text := range map[string]string{"trips.csv": "on,packs_out\n2026-01-01,\"" + cell + "\"\n",
			"trips.json": `[{"on":"2026-01-01","packs_out":[` + item + `]}]`, "trips.yaml": "- {on: 2026-01-01, packs_out: [" + item + "]}"} {
			rec, in := fill(t, map[string]string{"practice.yaml": "name: A\nregulator: B\n", file: text})
			require.Empty(t, sentences(in), file)
			require.Len(t, rec.Trips, 1)
			got := rec.Trips[0].PacksOut
			if strings.Join(got.Items, "|") != want || got.List.Written != (cell != "n/a") {
				t.Errorf("%s, %q: %+v", file, cell, got)
			}
		}
	}
}

// Every word that a schema gives for a choice is read as that choice, also as people
// decorate it; none by another way as another.
func TestChoicesAsPeopleTypeThem(t *testing.T) {
	for _, name := range schemas.Kinds() {
		kind, _ := schemas.Lookup(name)
		for _, f := range kind.Fields {
			l := &lane{col: &column{field: f}}
			words := map[string]string{}
			for _, c := range f.Choices {
				words[c] = c
			}
			for w, c := range f.ChoiceSynonyms {
				words[w] = c
			}
			for w, c := range words {
				for _, s := range []string{w, strings.ToUpper(w), w + " ✓", " " + w + ".", "“" + w + "”"} {
					if got := l.chosen(s); got != c && f.Choices != nil {
						t.Errorf("%s.%s: %q is read as %q, not %q", name, f.Name, s, got, c)
					}
				}
			}
		}
	}
}

// What the guide says of values is so: what it lists as read is read, and nothing is told
// of it; what it lists as asked about is told.
func TestTheGuidesValues(t *testing.T) {
	raw, err := os.ReadFile("../../docs/guide.md")
	require.NoError(t, err)
	_, table, found := strings.Cut(string(raw), "| what | how | also read | asked about |\n|---|---|---|---|\n")
	require.True(t, found)
	table, _, _ = strings.Cut(table, "\n\n")
	columns := map[string]string{"date": "loads.entered_on", "time": "loads.ended", "yes or no": "loads.wrapped", "a choice": "loads.outside_indicator", "list": "visits.packs", "number": "loads.counter",
		"temperature": "loads.temperature", "pressure": "loads.pressure", "time span": "loads.exposure", "length, percent": "waste.fill", "nothing": "loads.temperature"}
	at := map[string]string{"nitrile gloves": "stock.item", "gloves nitrile M": "stock.item", "03/2027": "stock.expires_on", "2½": "stock.quantity", "OK": "loads.packs_dry", "wet": "loads.packs_dry", "Nitrile gloves": "visits.gloves", "nails + callus": "visits.procedures", "nail x 6, corn x 2": "loads.sets", "all": "consents.procedures",
		"6 pouches": "loads.packs_made", "box of 100": "stock.each", "2 boxes": "stock.quantity", "7.5": "stock.quantity", "7,5": "stock.quantity"}
	skip := map[string]bool{"nitrile": true, "dates: dmy": true, "mdy": true, "dates": true, "started date": true, "started time": true, ";": true, "\\|": true, "kept_at": true, "350 m": true, "1150 ft": true}
	code := regexp.MustCompile("`([^`]+)`")
	rows, values := 0, 0
	for line := range strings.Lines(table) {
		cells := strings.Split(strings.ReplaceAll(line, "\\|", "\x00"), "|")
		require.Len(t, cells, 6, line)
		what := strings.TrimSpace(cells[1])
		require.Contains(t, columns, what)
		rows++
		for i, cell := range cells[2:5] {
			for _, p := range code.FindAllStringSubmatch(cell, -1) {
				value := strings.ReplaceAll(p[1], "\x00", "\\|")
				if skip[value] {
					continue
				}
				values++
				place := columns[what]
				if other := at[value]; other != "" {
					place = other
				}
				dates := ""
				if i == 0 || i == 1 && strings.Contains(value, "3") {
					dates = "dmy"
				}
				if what == "time" && i > 0 && !strings.Contains(value, "on 31") {
					value = "2026-03-31 " + value
				}
				kind, field, _ := strings.Cut(place, ".")
				got, told := readCell(t, kind, field, dates, value)
				switch {
				case i == 2 && told == "":
					t.Errorf("%s: %q is read as %q, and the guide says that it is asked about", what, value, got)
				case i < 2 && told != "":
					t.Errorf("%s: %q is not read: %s", what, value, told)
				case i < 2 && what != "nothing" && got == "":
					t.Errorf("%s: %q says nothing", what, value)
				}
			}
		}
	}
	require.Equal(t, len(columns), rows)
	require.Greater(t, values, 60)
}
