package record

import (
	"bytes"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/xuri/excelize/v2"

	"footing/internal/workbook"
)

// A sheetText is a sheet as its rows of cells parted by bars. A cell is words, or begins
// with what it is: "d:" a day, "m:" a moment, "n:" a number, "b:" yes or no.
type sheetText struct{ name, text string }

// bookOf makes a workbook of sheets; more may change it before it is written.
func bookOf(t testing.TB, sheets []sheetText, more ...func(f *excelize.File)) string {
	t.Helper()
	f := excelize.NewFile()
	defer f.Close()
	must := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	style := func(format string) int {
		n, err := f.NewStyle(&excelize.Style{CustomNumFmt: &format})
		must(err)
		return n
	}
	day, moment := style("yyyy-mm-dd"), style("yyyy-mm-dd hh:mm")
	for i, s := range sheets {
		if i == 0 {
			must(f.SetSheetName("Sheet1", s.name))
		} else {
			_, err := f.NewSheet(s.name)
			must(err)
		}
		for r, line := range strings.Split(strings.Trim(s.text, "\n"), "\n") {
			for c, text := range strings.Split(line, "|") {
				text = strings.TrimSpace(text)
				if text == "" {
					continue
				}
				at := workbook.Name(c, r+1)
				kind, value, _ := strings.Cut(text, ":")
				switch kind {
				case "d":
					v, err := time.Parse("2006-01-02", value)
					must(err)
					must(f.SetCellValue(s.name, at, v))
					must(f.SetCellStyle(s.name, at, at, day))
				case "m":
					v, err := time.Parse("2006-01-02 15:04", value)
					must(err)
					must(f.SetCellValue(s.name, at, v))
					must(f.SetCellStyle(s.name, at, at, moment))
				case "n":
					v, err := strconv.ParseFloat(value, 64)
					must(err)
					must(f.SetCellValue(s.name, at, v))
				case "b":
					must(f.SetCellBool(s.name, at, value == "yes"))
				default:
					must(f.SetCellStr(s.name, at, text))
				}
			}
		}
	}
	for _, do := range more {
		do(f)
	}
	var b bytes.Buffer
	must(f.Write(&b))
	return b.String()
}

// told lists what was told, without what stands in brackets after a file name.
func told(in *Intake, effect Effect) (list []string) {
	for _, p := range in.Problems {
		if p.Effect == effect {
			list = append(list, p.Sentence)
		}
	}
	return list
}
