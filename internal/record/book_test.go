package record

import (
	"reflect"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"
)

// bookLoads reads a workbook of one sheet of loads and gives its rows as text.
func bookLoads(t *testing.T, text string, more ...func(f *excelize.File)) ([]string, *Intake) {
	t.Helper()
	rec, in := fill(t, map[string]string{"june.xlsx": bookOf(t, []sheetText{{"loads", text}}, more...)})
	var rows []string
	for _, l := range rec.Loads {
		rows = append(rows, l.Label()+"="+l.Started.String()+"/"+l.Text("counter")+"/"+l.Temperature.String()+"/"+l.InsideIndicator)
	}
	return rows, in
}

func wantLines(t *testing.T, what string, got []string, want ...string) {
	t.Helper()
	if strings.Join(got, "\n") != strings.Join(want, "\n") {
		t.Errorf("%s:\n%s\nwant\n%s", what, strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

func TestBookTypedCells(t *testing.T) {
	rows, in := bookLoads(t, `
Sterilizer log of the clinic
started|cycle no|temperature [°C]|inside strip|wrapped|note|id
m:2026-06-01 09:30|n:611|n:134.3|OK|b:yes|d:2026-04-03|L-1
d:2026-06-02|n:612|n:134|✓|b:no||L-2
n:46176.5|n:613|134||b:yes||L-3
`)
	wantLines(t, "rows", rows, "L-1=2026-06-01 09:30/611/134.3 °C/pass", "L-2=2026-06-02/612/134 °C/pass", "L-3=2026-06-03 12:00/613/134 °C/")
	wantLines(t, "told", sentences(in),
		`june.xlsx, sheet loads, row 3, column "note" (cell F3): "2026-04-03" is a date of the spreadsheet, and not plain words; spreadsheets turn an entry such as 3-4 into a date; look at the original; where something else was typed, format the cell as text and type it again`,
		`june.xlsx, sheet loads, row 5, column "started" (cell A5): "46176.5" is a plain number where a date is expected, and is read as the date that the spreadsheet counts by it; format the column as dates, and look whether they are right`,
		`june.xlsx, sheet loads, cell A1: "Sterilizer log of the clinic" is taken for a title or a note above the table, and not for a record`)
}

func TestBookPlaces(t *testing.T) {
	rec, in := fill(t, map[string]string{"june.xlsx": bookOf(t, []sheetText{{"loads", `
|started|counter|exposure
|d:2026-06-01|n:1|n:3
||
|d:2026-06-02|n:2|30 min
|31 Juni|n:3|30 min
`}})})
	wantLines(t, "told", sentences(in),
		`june.xlsx, sheet loads, row 2, column "exposure" (cell D2): "3" has no unit; write the unit that was meant, as in "3 min", or put it in the heading as "exposure [min]"; until then it counts as not written`,
		`june.xlsx, sheet loads, row 5, column "started" (cell B5): "31 Juni" is not a date that can be read; write year, month and day, in the form 2026-03-31; until then the row is set aside`)
	if p := in.Problems[0].Places; !reflect.DeepEqual(p, []Place{{File: "june.xlsx", Row: 2, Sheet: "loads", Cell: "D2", Heading: "exposure"}}) {
		t.Errorf("%+v", p)
	}
	second := &rec.Loads[1]
	if second.File() != "june.xlsx, sheet loads" || second.Number() != 4 || second.Label() != "june.xlsx, sheet loads, row 4" || second.Text("exposure") != "30 min" {
		t.Errorf("%q %d %q %q", second.File(), second.Number(), second.Label(), second.Text("exposure"))
	}
	for field, want := range map[string]Place{
		"exposure":    {File: "june.xlsx", Row: 4, Sheet: "loads", Cell: "D4", Heading: "exposure"},
		"temperature": {File: "june.xlsx", Row: 4, Sheet: "loads"},
		"":            {File: "june.xlsx", Row: 4, Sheet: "loads"},
	} {
		if got := second.Place(field); got != want {
			t.Errorf("%s: %+v, want %+v", field, got, want)
		}
	}
	if f := in.Files[0]; f.Encoding != "workbook" || f.Delimiter != "" || f.Name != "june.xlsx, sheet loads" || f.Rows != 3 || f.Accepted != 2 || f.SetAside != 1 {
		t.Errorf("%+v", f)
	}
}

// Every way in which a person lays out a sheet gives the same two rows.
func TestBookLayouts(t *testing.T) {
	merge := func(ranges ...string) func(f *excelize.File) {
		return func(f *excelize.File) {
			for _, r := range ranges {
				from, to, _ := strings.Cut(r, ":")
				if err := f.MergeCell("loads", from, to); err != nil {
					t.Fatal(err)
				}
			}
		}
	}
	want := []string{"2026-06-01/1/134 °C/pass", "2026-06-02/2/135 °C/fail"}
	for name, c := range map[string]struct {
		text string
		more func(f *excelize.File)
		told string // a part of what must be said
	}{
		"plain":       {"date|cycle|temp|inside strip\nd:2026-06-01|1|134 °C|ok\nd:2026-06-02|2|135 °C|fail", nil, ""},
		"blank first": {"\n\n||date||cycle|temp|inside strip\n\n||d:2026-06-01||1|134 °C|ok\n\n||d:2026-06-02||2|135 °C|fail", nil, ""},
		"two rows": {"date|cycle|temp|indicators||packs\n|||outside|inside|\nd:2026-06-01|1|134 °C||ok|\nd:2026-06-02|2|135 °C||fail|",
			merge("A1:A2", "B1:B2", "C1:C2", "D1:E1"), ""},
		"group above":  {"cycle|||strips|\ndate|cycle no|temp|outside|inside\nd:2026-06-01|1|134 °C||ok\nd:2026-06-02|2|135 °C||fail", merge("A1:C1", "D1:E1"), ""},
		"merged down":  {"date|cycle|temp|inside strip|site\nd:2026-06-01|1|134 °C|ok|clinic\nd:2026-06-02|2|135 °C|fail|", merge("E2:E3"), "the value of merged cells counts"},
		"section":      {"date|cycle|temp|inside strip\nJune\nd:2026-06-01|1|134 °C|ok\nsecond week\nd:2026-06-02|2|135 °C|fail", nil, `"June", "second week" are taken for a title`},
		"wide section": {"date|cycle|temp|inside strip\nfrom 1 June 2026 on\nd:2026-06-01|1|134 °C|ok\nd:2026-06-02|2|135 °C|fail", merge("A2:D2"), "one cell over several columns"},
		"pages":        {"date|cycle|temp|inside strip\nd:2026-06-01|1|134 °C|ok\ndate|cycle|temp|inside strip\nd:2026-06-02|2|135 °C|fail", nil, "the headings stand there again"},
		"totals":       {"date|cycle|temp|inside strip\nd:2026-06-01|1|134 °C|ok\nd:2026-06-02|2|135 °C|fail\nTotal|n:2|n:134.5\n\nchecked|RH", nil, "taken for a total"},
		"total first":  {"cycle|date|temp|inside strip\n1|d:2026-06-01|134 °C|ok\n2|d:2026-06-02|135 °C|fail\nAverage||n:134.5|", nil, "taken for a total"},
		"unticked":     {"date|cycle|temp|inside strip|wrapped\nd:2026-06-01|1|134 °C|ok|b:yes\nd:2026-06-02|2|135 °C|fail|b:no\n||||b:no\n||||b:no", nil, "boxes that are not ticked"},
		"stacked":      {"date|cycle|temp|inside strip\nd:2026-06-01|1|134 °C|ok\n\ncycle|date|temp|inside strip|loaded by\n2|d:2026-06-02|135 °C|fail|P-1", nil, ""},
		"side by side": {"date|cycle|temp|inside strip||date|cycle|temp|inside strip\nd:2026-06-01|1|134 °C|ok||d:2026-06-02|2|135 °C|fail", nil, ""},
		"notes beside": {"date|cycle|temp|inside strip\nd:2026-06-01|1|134 °C|ok||look here\nd:2026-06-02|2|135 °C|fail|n:3", nil, "column E: 1 cell without a heading"},
		"hidden row": {"date|cycle|temp|inside strip\nd:2026-06-01|1|134 °C|ok\nd:2026-06-02|2|135 °C|fail", func(f *excelize.File) {
			_ = f.SetRowVisible("loads", 2, false)
			_ = f.SetColVisible("loads", "C", false)
		}, "1 hidden row (row 2) and 1 hidden column"},
	} {
		more := c.more
		if more == nil {
			more = func(*excelize.File) {}
		}
		rows, in := bookLoads(t, "\n"+c.text, more)
		for i := range rows {
			_, rows[i], _ = strings.Cut(rows[i], "=")
		}
		wantLines(t, name, rows, want...)
		for _, p := range in.Problems {
			if p.Effect != Noted {
				t.Errorf("%s: %s", name, p.Sentence)
			}
		}
		if all := strings.Join(sentences(in), "\n"); !strings.Contains(all, c.told) {
			t.Errorf("%s: %q does not say %q", name, all, c.told)
		}
	}
}
