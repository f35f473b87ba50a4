package record

import (
	"context"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// What is said of a problem: the whole sentence, as the person who typed the records reads it.
func TestSentences(t *testing.T) {
	for _, c := range []struct {
		file, text string
		effect     Effect
		want       string
	}{
		{"loads.csv", "date,hold time\n2026-01-01,30\n", Dropped,
			`loads.csv row 1, column "hold time": "30" has no unit; write the unit that was meant, as in "30 min", or put it in the heading as "hold time [min]"; until then it counts as not written`},
		{"loads.csv", "date,pressure\n2026-01-01,15\n", Dropped,
			`loads.csv row 1, column "pressure": "15" has no unit; write the unit, and gauge or absolute as the dial shows, in the form "1.05 bar gauge"; or once in the heading, in the form "pressure [bar gauge]", or in the practice file at units, pressure; until then it counts as not written`},
		{"loads.csv", "date,hold time,temp\n2026-01-01,long,\n", Dropped,
			`loads.csv row 1, column "hold time": "long" does not begin with a number; look at what the paper says, and write one number with its unit, in the form 1 min; until then it counts as not written`},
		{"loads.csv", "date,temp\n2026-01-01,121-123 °C\n", Dropped,
			`loads.csv row 1, column "temp": "121-123 °C" gives more than one value; write the one value that this column asks for, and put the other under note; until then it counts as not written`},
		{"loads.csv", "date\n31/02/2026\n", SetAside,
			`loads.csv row 1, column "date": "31/02/2026" could be day or month first; write year, month and day in the form 2026-03-31, or state dmy or mdy once at dates in practice; until then the row is set aside`},
		{"loads.csv", "date\n2026-03-02 12.5\n", Dropped,
			`loads.csv row 1, column "date": "2026-03-02 12.5" has an hour without minutes; look at the paper, and write the clock after the date in the form 14:05; until then the day is read without its clock`},
		{"practice.yaml", "name: A\nregulator: B\nunits: bar\n", Dropped,
			`practice.yaml, field "units": "bar" is not a group of names with values; look at what the paper says, and write it in the form units: {temperature: °C, pressure: psi gauge}; until then it counts as not written`},
		{"practice.yaml", "name: A\nregulator: B\nunits: {pressure: stone}\n", Dropped,
			`practice.yaml, field "units", "pressure": "stone" has a unit not known for a pressure; write the unit that is meant where none is written, in the form "bar gauge"; until then it counts as not written`},
		{"loads.csv", "date,temp\n2026-01-01,121\n2026-01-02,134\n2026-01-03,121\n", Dropped,
			`loads.csv, column "temp", 3 rows (the first: row 1): "121", "134" have no unit; write the unit that was meant, as in "121 °C", or put it in the heading as "temp [°C]", or once in the practice file at units, temperature; until then the 3 values count as not written`},
		{"loads.csv", "date,inside_indicator\n2026-01-01,pss\n", Dropped,
			`loads.csv row 1, column "inside_indicator": "pss" is not one of the choices; write pass, fail or none (did you mean "pass"?); until then it counts as not written`},
		{"loads.json", `[{"started":"2026-01-01","decision":"later"}]`, Dropped,
			`loads.json row 1, field "decision": "later" is not one of the choices; write released, rejected or pending; until then it counts as not written`},
		{"loads.yaml", "- started: 2026-01-01\n  counter: -3\n", Dropped,
			`loads.yaml row 1, field "counter": "-3" is less than 0; look at the original and write the number meant; until then it counts as not written`},
		{"loads.csv", "date,id\n01/02/2026,L1\n", SetAside,
			`loads.csv row 1, column "date": "01/02/2026" could be day or month first; write year, month and day in the form 2026-03-31, or state dmy or mdy once at dates in practice; until then the row is set aside`},
		{"loads.csv", "id,counter\nL1,1\nL2,2\n", SetAside,
			`loads.csv, 2 rows (the first: row 1): there is no "started", and every row of loads needs it; add it (headings such as "date", "start", "cycle start" are read too); until then 2 rows are set aside`},
		{"loads.csv", "id,date\nL1,\n", SetAside,
			`loads.csv row 1, column "date": nothing is written, and every row of loads needs it; write it if it is known; until then the row is set aside`},
		{"loads.csv", "date,start,temp\n2026-01-01,,121 C\n", Noted,
			`loads.csv: "start" means the same field as "date", which is the one read; keep one of the two columns, or give the other another heading`},
		{"loads.csv", "a,b\n1,2\n", FileRefused,
			`loads.csv: none of its headings (a, b) is one of loads; let the first line hold the headings, such as started, id, sterilizer, counter, or begin its name with _ if it is no record`},
		{"loads.csv", "date,id\n2026-01-01,\"L1\n2026-01-02,L2\n", SetAside,
			`loads.csv row 1: a cell begins with a quotation mark that is never closed; close every quotation mark; one that belongs to the text is written twice; until then the row is set aside`},
		{"loads.csv", "date,id\n2026-01-01,L1,x\n", Noted,
			`loads.csv row 1: there are more cells in the row than headings, and those after the last heading are not read; give the column a heading, or look whether a cell with a comma in it lacks its quotation marks`},
		{"loads.json", `{"loads": 1}`, SetAside,
			`loads.json row 1: there is no "started", and every row of loads needs it; add it (headings such as "date", "start", "cycle start" are read too); until then the row is set aside`},
		{"loads.json", "[{\"started\":\"2026-01-01\"},\n{\"started\":\"2026-01-02\" \"id\":2},\n{\"started\":\"2026-01-03\"}]", FileRefused,
			`loads.json row 2: a comma, colon, bracket or quotation mark is missing or too many at line 2, character 25, so that the file is not read from this row on; put it right at this place; the rows before it are read; until then this row and the 1 found after it are set aside`},
		{"loads.yaml", "- started: 2026-01-01\n- started: 10:00: x\n", SetAside,
			`loads.yaml row 2: line 2 cannot be read; look at the indentation, and whether a colon or a quotation mark is missing or too many; put quotation marks around words that hold a colon; until then the row is set aside`},
		{"practice.yaml", "name: A\n", SetAside,
			`practice.yaml: there is no "regulator", and a practice file needs it; add it (headings such as "council", "college", "board" are read too); until then the file is set aside`},
		{"practice.yaml", "name: A\nregulator: B\ncoverage:\n- {kind: loads, share: most}\n", Dropped,
			`practice.yaml, field "coverage", item 1, "share": "most" is not one of the choices; write all or some; until then it counts as not written`},
		{"practice.yaml", "name: A\nregulator: B\ntime_zone: Mars/North\n", Dropped,
			`practice.yaml, field "time_zone": "Mars/North" is not the name of a time zone; write continent and city of the practice, in the form Pacific/Auckland; until then it counts as not written`},
	} {
		_, in := fill(t, map[string]string{c.file: c.text})
		if got := sentences(in); len(got) != 1 || got[0] != c.want || in.Problems[0].Effect != c.effect {
			t.Errorf("%q:\n got %s\nwant %s", c.text, strings.Join(got, "\n     "), c.want)
		}
	}
}

// Long values are shortened, and control characters shown.
func TestShorten(t *testing.T) {
	for _, c := range [][2]string{{"a\tb\x1b[31m", `a\tb\x1b[31m`}, {strings.Repeat("ä", 61), strings.Repeat("ä", 60) + "…"}, {"121\u00a0°C", "121\u00a0°C"}, {"\u202e", `\u202e`}} {
		if got := shorten(c[0]); got != c[1] {
			t.Errorf("%q is %q, want %q", c[0], got, c[1])
		}
	}
}

func TestNearest(t *testing.T) {
	for _, c := range [][2]string{{"relased", "released"}, {"Rejectd", "rejected"}, {"pednign", "pending"}, {"zz", ""}, {"something else", ""}} {
		if got := nearest([]string{"released", "rejected", "pending"}, c[0]); got != c[1] {
			t.Errorf("%q is near %q, want %q", c[0], got, c[1])
		}
	}
}

// One cause in one file is one problem, with each place and id; another cause is another.
func TestOneCauseOneProblem(t *testing.T) {
	var b strings.Builder
	b.WriteString("id,date,temp,decision\n")
	for i := range 500 {
		b.WriteString("L" + itoa(i) + ",2026-01-01,12" + itoa(i%10) + ",maybe\n")
	}
	rec, in := fill(t, map[string]string{"loads.csv": b.String()})
	if len(in.Problems) != 2 || len(rec.Loads) != 500 {
		t.Fatal(sentences(in))
	}
	for i, p := range in.Problems {
		if len(p.Places) != 500 || len(p.IDs) != 500 || p.Field != []string{"temperature", "decision"}[i] || p.Heading != []string{"temp", "decision"}[i] {
			t.Errorf("%d places, %d ids, %s, %s", len(p.Places), len(p.IDs), p.Field, p.Heading)
		}
		if !slices.IsSortedFunc(p.Places, func(a, b Place) int { return a.Line - b.Line }) || p.Places[499].Row != 500 || p.Places[499].Line != 501 {
			t.Errorf("the places are out of order: %+v", p.Places[499])
		}
	}
}

// What is advised for one value must not be advised for another: they are told apart by what is to be written.
func TestEachAdviceForItsOwnValues(t *testing.T) {
	into := reflect.New(allKinds())
	in, err := Fill(context.Background(), folderOf(t, map[string]string{"practice.yaml": "name: A\nregulator: B\n",
		"stock.csv": "item,on,reason,quantity,expires_on\nnitrile gloves,2026-01-01,count,1,03/2027\ngloves - nitrile,2026-01-02,count,1,2027-04\npaper mask,2026-01-01,count,1,\nblue gown,2026-01-01,count,1,\ngloves M,2026-01-01,count,1,\n"}), into.Interface(), Options{})
	require.NoError(t, err)
	accounted(t, in)
	require.Equal(t, 3, into.Elem().FieldByName(goName("stock")).Len())
	require.Equal(t, []string{
		`stock.csv, column "item", 2 rows (the first: row 1): "nitrile gloves", "gloves - nitrile" say more than which it is; write gloves alone, and nitrile under material; until then the 2 values are read as gloves, with nitrile as material where that is blank`,
		`stock.csv row 1, column "expires_on": "03/2027" is no whole date; write 2027-03-31, the last day of the month, if the box or the paper says 03/2027; until then it counts as not written`,
		`stock.csv row 2, column "expires_on": "2027-04" is no whole date; write 2027-04-30, the last day of the month, if the box or the paper says 04/2027; until then it counts as not written`,
		`stock.csv row 3, column "item": "paper mask" says more than which it is; write mask alone, and paper under material; until then it is read as mask, with paper as material where that is blank`,
		`stock.csv row 4, column "item": "blue gown" says more than which it is; write gown alone, and the other words in their own column or under note; until then the row is set aside`,
		`stock.csv row 5, column "item": "gloves M" says more than which it is; write gloves alone, and the other words in their own column or under note; until then the row is set aside`,
	}, sentences(in))
}

// Boxes of two materials are counted apart, so a material that the item names is not lost.
func TestMaterialNamedByTheItem(t *testing.T) {
	for name, text := range map[string]string{
		"stock.csv":   "item,material,on,reason,quantity\nnitrile gloves,,2026-01-01,count,10\nlatex gloves,,2026-01-02,count,0\nlatex gloves,vinyl,2026-01-02,count,1\ngloves,,2026-01-03,count,1\n",
		"stock.jsonl": `{"item":"nitrile gloves","on":"2026-01-01","reason":"count","quantity":10}` + "\n" + `{"item":"latex gloves","on":"2026-01-02","reason":"count","quantity":0}` + "\n" + `{"material":"vinyl","item":"latex gloves","on":"2026-01-02","reason":"count","quantity":1}` + "\n" + `{"item":"gloves","on":"2026-01-03","reason":"count","quantity":1}` + "\n",
	} {
		into := reflect.New(allKinds())
		in, err := Fill(context.Background(), folderOf(t, map[string]string{name: text}), into.Interface(), Options{})
		require.NoError(t, err)
		rows := into.Elem().FieldByName(goName("stock"))
		require.Equal(t, 4, rows.Len(), sentences(in))
		for i, want := range []string{"nitrile", "latex", "vinyl", ""} {
			require.Equal(t, want, rows.Index(i).FieldByName(goName("material")).String(), "%s row %d", name, i)
		}
	}
}
