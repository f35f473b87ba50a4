package workbook

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"
	"pgregory.net/rapid"
)

// asWritten is a cell that excelize writes, and what we are to read.
type asWritten struct {
	value any
	style int
	kind  Kind
	text  string
	unit  string
}

func drawCell(t *rapid.T, styles map[string]int) asWritten {
	switch rapid.IntRange(0, 7).Draw(t, "kind") {
	case 0:
		s := rapid.StringOf(rapid.RuneFrom([]rune(" ab_xé€°\n\t&<>\"'=0159A\U0001F600"))).Draw(t, "text")
		return asWritten{value: s, text: s}
	case 1:
		n := rapid.IntRange(-1e9, 1e9).Draw(t, "number")
		return asWritten{value: n, kind: Number, text: strconv.Itoa(n)}
	case 2:
		n := float64(rapid.IntRange(-1e7, 1e7).Draw(t, "thousandths")) / 1000
		return asWritten{value: n, kind: Number, text: strconv.FormatFloat(n, 'f', -1, 64)}
	case 3:
		b := rapid.Bool().Draw(t, "yes")
		return asWritten{value: b, kind: YesNo, text: map[bool]string{true: "yes", false: "no"}[b]}
	case 4:
		day := time.Date(1901, 1, 1, 0, 0, 0, 0, time.UTC).AddDate(0, 0, rapid.IntRange(0, 100_000).Draw(t, "day"))
		return asWritten{value: day, style: styles["day"], kind: Day, text: day.Format("2006-01-02")}
	case 5:
		at := time.Date(1901, 1, 1, 0, 0, 0, 0, time.UTC).Add(time.Duration(rapid.IntRange(0, 5_000_000_000).Draw(t, "second")) * time.Second)
		layout := "2006-01-02 15:04"
		if at.Second() != 0 {
			layout += ":05"
		}
		return asWritten{value: at, style: styles["moment"], kind: Moment, text: at.Format(layout)}
	case 6:
		n := rapid.IntRange(0, 1000).Draw(t, "tenths")
		return asWritten{value: float64(n) / 10, style: styles["unit"], kind: Number, text: strconv.FormatFloat(float64(n)/10, 'f', -1, 64), unit: "°C"}
	}
	n := rapid.IntRange(0, 100).Draw(t, "percent")
	return asWritten{value: float64(n) / 100, style: styles["percent"], kind: Number, text: strconv.Itoa(n), unit: "%"}
}

// What excelize writes comes back: values by their kind against what was written, and
// the cells that hold something against those that excelize itself reads.
func TestAgreesWithExcelize(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := excelize.NewFile()
		defer func() { require.NoError(t, f.Close()) }()
		styles := map[string]int{}
		for name, code := range map[string]string{"day": "yyyy\\-mm\\-dd", "moment": "dd/mm/yyyy\\ hh:mm", "unit": "0.0\" °C\"", "percent": "0.0%"} {
			id, err := f.NewStyle(&excelize.Style{CustomNumFmt: &code})
			require.NoError(t, err)
			styles[name] = id
		}
		want, wantStrings := map[string]string{}, map[string]bool{}
		for range rapid.IntRange(0, 20).Draw(t, "cells") {
			column, row := rapid.IntRange(1, 40).Draw(t, "column"), rapid.IntRange(1, 60).Draw(t, "row")
			name := Name(column-1, row)
			c := drawCell(t, styles)
			require.NoError(t, f.SetCellValue("Sheet1", name, c.value))
			require.NoError(t, f.SetCellStyle("Sheet1", name, name, c.style))
			delete(want, name)
			if c.text != "" {
				want[name] = fmt.Sprint(kindNames[c.kind], c.text, c.unit)
			}
		}
		var merged []string
		if rapid.Bool().Draw(t, "merge") {
			require.NoError(t, f.MergeCell("Sheet1", "AX1", "AZ3"))
			merged = []string{"{1 3 49 51}"}
		}
		require.NoError(t, f.SetRowVisible("Sheet1", 7, false))
		var b bytes.Buffer
		require.NoError(t, f.Write(&b))

		book, all := readAll(t, b.Bytes())
		got := map[string]string{}
		for _, r := range all[0] {
			require.Equal(t, r.Number == 7, r.Hidden)
			for _, c := range r.Cells {
				got[Name(c.Column, r.Number)] = fmt.Sprint(kindNames[c.Kind], c.Text, c.Unit)
			}
		}
		require.Equal(t, want, got)
		var ranges []string
		for _, m := range book.Sheets[0].Merged {
			ranges = append(ranges, fmt.Sprint(m))
		}
		require.Equal(t, merged, ranges)

		theirs, err := excelize.OpenReader(bytes.NewReader(b.Bytes()))
		require.NoError(t, err)
		defer func() { require.NoError(t, theirs.Close()) }()
		for name := range want {
			wantStrings[name] = true
			raw, err := theirs.GetCellValue("Sheet1", name, excelize.Options{RawCellValue: true})
			require.NoError(t, err)
			if text, ok := strings.CutPrefix(got[name], "Text"); ok {
				require.Equal(t, raw, text, name)
			}
		}
		require.Len(t, wantStrings, len(got))
	})
}

// Dates as excelize reads them, in both systems, from day 61 on.
func TestDaysAsExcelize(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		serial, from1904 := rapid.IntRange(61, lastSerial-shift1904).Draw(t, "serial"), rapid.Bool().Draw(t, "1904")
		at, err := excelize.ExcelDateToTime(float64(serial), from1904)
		require.NoError(t, err)
		require.Equal(t, "Day "+at.Format("2006-01-02"), shownAs(t, strconv.Itoa(serial), "yyyy-mm-dd", from1904))
	})
}

// Workbooks that excelize encrypts, as Excel does, are told from damaged ones.
func TestProtectedByExcelize(t *testing.T) {
	f := excelize.NewFile()
	defer func() { require.NoError(t, f.Close()) }()
	var b bytes.Buffer
	require.NoError(t, f.Write(&b, excelize.Options{Password: "secret"}))
	require.Equal(t, "protected", refusal(t, b.Bytes()).Cause)
}
