package dev

import (
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"
)

// messyBook writes a workbook as a person who never read a manual might keep it. What is in it
// is common practice, no source: titles, merged headings, dates as words, ticks, a page's
// headings again, totals, two tables on one sheet, hidden columns, a filter.
func messyBook(t *testing.T, path string) {
	t.Helper()
	f := excelize.NewFile()
	defer f.Close()
	m := &messy{t: t, f: f}
	m.log()
	m.sheet("Staff", [][]any{{"initials", "job title", "joined", "gloves"}, {"RH", "foot care nurse", onDay(2018, 9, 4), "medium"}, {"TM", "student", onDay(2026, 5, 1), "S"}})
	m.sheet("visits", [][]any{
		{"Clinic", nil, nil, nil, nil, "Home visits"},
		{"client", "date", "seen by", "treatment", nil, "client", "date", "seen by", "treatment"},
		{5, atHour(2026, 6, 1, 10, 0), "RH", "nail trim", nil, 8, atHour(2026, 6, 2, 9, 30), "RH", "nail trim; callus reduction"},
		{14, atHour(2026, 6, 3, 11, 0), "TM", "nail trim", nil, nil, nil, nil, nil},
		{"Total", 2, nil, nil, nil, "Total", 1},
	})
	m.sheet("practice", [][]any{{"About us"}, {nil, nil}, {"name", "Heron Lane Foot Care"}, {"council", "Council for Foot Care of Marrow Bay"}, {"dates", "dmy"}, {"altitude", 45, "asked at the town hall"}, {"renewal_on", onDay(2027, 1, 6)}})
	m.sheet("Steriliser", [][]any{{"unit", "type", "class"}, {"S1", "autoclave", "B"}})
	m.sheet("Clinics", [][]any{{"id", "type"}, {"shop", "clinic"}})
	m.sheet("Sheet2", [][]any{{"date", "cycle no", "temp", "released by"}, {onDay(2025, 6, 1), 301, 134, "RH"}})
	m.sheet("pouches to order", [][]any{{"small", 200}, {"large", 100}})
	m.sheet("_last year", [][]any{{"date", "cycle no", "temp"}, {onDay(2025, 6, 1), 301, 134}})
	_, err := f.NewSheet("Sheet9")
	require.NoError(t, err)
	require.NoError(t, f.SetSheetVisible("Clinics", false))
	altitude := `0 "m"`
	m.style("practice", "B6", "B6", altitude)
	require.NoError(t, f.SetDocProps(&excelize.DocProperties{Creator: "test", Created: "2026-11-25T00:00:00Z", Modified: "2026-11-25T00:00:00Z"}))
	require.NoError(t, f.SaveAs(path))
	failFormulas(t, path, map[string]string{"xl/worksheets/sheet1.xml!C13": "#REF!"})
}

type messy struct {
	t *testing.T
	f *excelize.File
}

func onDay(y, m, d int) time.Time { return time.Date(y, time.Month(m), d, 0, 0, 0, 0, time.UTC) }
func atHour(y, m, d, hour, minute int) time.Time {
	return time.Date(y, time.Month(m), d, hour, minute, 0, 0, time.UTC)
}

func (m *messy) sheet(name string, rows [][]any) {
	m.t.Helper()
	_, err := m.f.NewSheet(name)
	require.NoError(m.t, err)
	m.rows(name, 1, rows)
}

func (m *messy) rows(sheet string, from int, rows [][]any) {
	m.t.Helper()
	for i, row := range rows {
		for k, v := range row {
			if v == nil {
				continue
			}
			at, err := excelize.CoordinatesToCellName(k+1, from+i)
			require.NoError(m.t, err)
			require.NoError(m.t, m.f.SetCellValue(sheet, at, v))
			if when, ok := v.(time.Time); ok {
				format := "dd/mm/yyyy"
				if when.Hour() > 0 {
					format = "dd/mm/yyyy hh:mm"
				}
				m.style(sheet, at, at, format)
			}
		}
	}
}

func (m *messy) style(sheet, from, to, format string) {
	n, err := m.f.NewStyle(&excelize.Style{CustomNumFmt: &format})
	require.NoError(m.t, err)
	require.NoError(m.t, m.f.SetCellStyle(sheet, from, to, n))
}

// log is the sheet with most in it.
func (m *messy) log() {
	const s = "Autoclave log"
	require.NoError(m.t, m.f.SetSheetName("Sheet1", s))
	m.rows(s, 1, [][]any{
		{"Heron Lane Foot Care: steriliser log"},
		{"write every cycle, also the aborted ones"},
		{},
		{"Date", "Cycle no", "Temp [°C]", "Hold time", nil, "Indicators", nil, "Released?", "Batch"},
		{nil, nil, nil, nil, nil, "outside", "inside", nil, nil},
		{"June 2026"},
		{onDay(2026, 6, 1), 611, 134, "3'", nil, "OK ✓", "✓", "yes", "a"},
		{"2 June 2026", 612, 134.5, "3.5 min", nil, "OK", "OK", "OK ✓", "b"},
		{"3/6/2026", 613, "134", 4, nil, "pass", "pass", true, "c"},
		{onDay(2026, 6, 4), 614, 134, "4 min", nil, "ok", "ok", "yes", "3-4"},
		{nil, 615, 134, "4 min", nil, "ok", "ok", "yes", "e"},
		{"Date", "Cycle no", "Temp [°C]", "Hold time", nil, "outside", "inside", "Released?", "Batch"},
		{onDay(2026, 6, 8), 616, "#REF!", "4 min", nil, "ok", "unsure", "yes", onDay(2026, 4, 3)},
		{46182, 617, 134, "4 min", nil, "ok", "ok", "no idea", "g", nil, "door was stiff"},
		{"last wek", 618, 134, "4 min", nil, "ok", "ok", "yes", "h"},
		{"clinic closed on the 10th"},
		{"Total", 8, nil, nil, nil, nil, nil, nil, nil},
		{},
		{"Spore tests"},
		{"date", "kind", "result", "lot no"},
		{onDay(2026, 6, 1), "spore", "no growth", "SP22"},
		{onDay(2026, 6, 8), "spore", "negative", "SP22"},
		{},
		{"Fridge"},
		{"Date", "Reading", "By", "Batch"},
	})
	for _, r := range [][2]string{{"A1", "I1"}, {"A4", "A5"}, {"B4", "B5"}, {"C4", "C5"}, {"D4", "D5"}, {"F4", "G4"}, {"H4", "H5"}, {"I4", "I5"}, {"A6", "I6"}, {"A10", "A11"}} {
		require.NoError(m.t, m.f.MergeCell(s, r[0], r[1]))
	}
	m.style(s, "D9", "D9", `0 "min"`)
	m.style(s, "A14", "A14", "General")
	require.NoError(m.t, m.f.SetColVisible(s, "I", false))
	require.NoError(m.t, m.f.SetRowVisible(s, 8, false))
	require.NoError(m.t, m.f.SetCellFormula(s, "B17", "COUNT(B7:B15)"))
	require.NoError(m.t, m.f.AutoFilter(s, "A5:I15", nil))
}
