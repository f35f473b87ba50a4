package cli

import (
	"strings"

	"footing/internal/workbook"
)

// startSheet says in a few lines how to begin. Its name begins with a line, so that it
// is no record.
func startSheet(kinds []string) workbook.Table {
	return workbook.Table{Name: "_start", Title: "How to begin", About: []string{
		"1.  Write the names of the practice and its regulator into practice.yaml, beside this workbook.",
		"2.  Then fill in the sheets, from left to right as the tabs stand: " + strings.Join(kinds, ", ") + ". Short ones first; of the long ones the newest months. What you have no time for stays empty.",
		"3.  Above each heading stands what to write there. Columns marked NEEDED are needed in every row that you write. All others may stay empty: empty means \"not written\", never \"no\" and never \"not done\".",
		"4.  Copy what your books say, as they say it. Never write backwards: what is missing stays missing, or is written as a late entry with today's date.",
		"5.  Dates: as your spreadsheet takes them. It shows them with the year first (2026-03-31 is 31 March), so look once whether day and month came out right. If some stay words, write dates: dmy (or mdy) into practice.yaml.",
		"6.  Units stand in the headings: type the number alone. Where the heading has none, write it in the cell: 15 psi gauge. Gauge is nought at the open door, absolute in a perfect vacuum; your dial or its book says which.",
		"7.  Lists offer words to choose from, and the names that you gave in other sheets of this workbook. You may type other words: many are understood. Several in one cell stand apart by semicolons: a; b.",
		"8.  People and clients are initials or numbers of your own, never names.",
		"9.  You may move, hide, leave out and add columns and sheets. Keep the headings above their columns, and each sheet's name. A column that is not known does no harm. Begin the name of a sheet that is no record, such as _shopping, with _.",
		"10. On paper: print a sheet and write by hand; headings and notes stand on each page.",
		"11. Coverage, in practice.yaml, says for which time all rows of a kind are here. Only then is anything concluded from a row that is not there.",
		"12. Save. Then \"footing proofread FOLDER\" says in a second what was understood, and what to mend; \"footing audit FOLDER\" writes the report; \"footing explain WORD\" explains a word, such as exposure, gravity or class.",
	}}
}
