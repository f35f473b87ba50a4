package workbook

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"
	"time"

	"footing/internal/quantity"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// shownAs gives what a number with a format becomes: "Moment 2026-03-31 14:05".
func shownAs(t require.TestingT, value, code string, from1904 bool) string {
	r := &rowReader{sheet: &Sheet{common: &common{from1904: from1904}}}
	var c Cell
	require.NoError(t, r.number(&c, patternOf(code), []byte(value)))
	s := kindNames[c.Kind] + " " + string(r.text)
	if c.Unit != "" {
		s += " | " + c.Unit
	}
	return s
}

var kindNames = [...]string{"Text", "Number", "Day", "Moment", "Clock", "Elapsed", "YesNo", "Fault"}

// Formats: the grammar of ECMA-376 Part 1, 18.8.31, from memory; the built-in ones
// (18.8.30, from memory) by their numbers in TestBuiltinFormats. 46112 is 2026-03-31.
func TestFormats(t *testing.T) {
	for _, c := range []struct{ value, code, want string }{
		{"46112", "yyyy-mm-dd", "Day 2026-03-31"},
		{"46112", "YYYY\\-MM\\-DD", "Day 2026-03-31"},
		{"46112", "dd/mm/yyyy;@", "Day 2026-03-31"},
		{"46112", "[$-409]d\\-mmm\\-yy;@", "Day 2026-03-31"},
		{"46112", "[$-F800]dddd\\,\\ mmmm\\ dd\\,\\ yyyy", "Day 2026-03-31"},
		{"46112", "[Red]d.m.yyyy", "Day 2026-03-31"},
		{"46112", "mmmm", "Day 2026-03-31"},
		{"46112", "dddd", "Day 2026-03-31"},
		{"46112", "yyyy\"年\"m\"月\"d\"日\"", "Day 2026-03-31"},
		{"46112.58680555556", "yyyy-mm-dd", "Moment 2026-03-31 14:05"}, // by the value, not the look
		{"46112.58680555556", "yyyy-mm-dd hh:mm", "Moment 2026-03-31 14:05"},
		{"46112.58715277778", "m/d/yy h:mm AM/PM", "Moment 2026-03-31 14:05:30"},
		{"46112.58680555556", "h:mm", "Moment 2026-03-31 14:05"},
		{"46112", "yyyy-mm-dd hh:mm", "Moment 2026-03-31 00:00"},
		{"46112", "yyyy-mm-dd", "Day 2026-03-31"},
		{"46112.9999999999", "yyyy-mm-dd", "Day 2026-04-01"}, // noise below a second
		{"46112.0000000001", "yyyy-mm-dd", "Day 2026-03-31"},
		{"0.58680555556", "h:mm", "Clock 14:05"},
		{"0.58715277778", "hh:mm:ss", "Clock 14:05:30"},
		{"0.58680555556", "[$-F400]h:mm:ss\\ AM/PM", "Clock 14:05"},
		{"0", "h:mm", "Clock 00:00"},
		{"0.5", "dd.mm.yyyy", "Clock 12:00"},
		{"0.5", "A/P", "Clock 12:00"},
		{"0", "dd.mm.yyyy", "Number 0"},
		{"1.5", "h:mm", "Elapsed 36 h"},
		{"0.9999999999", "h:mm", "Elapsed 24 h"},
		{"366.5", "h:mm", "Elapsed 8796 h"},
		{"367", "h:mm", "Moment 1901-01-01 00:00"},
		{"0.104166666666667", "[h]:mm", "Elapsed 2 h 30 min"},
		{"0.104166666666667", "[HH]:MM:SS", "Elapsed 2 h 30 min"},
		{"1.25", "[h]:mm", "Elapsed 30 h"},
		{"0.002430555555556", "mm:ss", "Elapsed 3 min 30 s"},
		{"0.002430555555556", "[mm]:ss", "Elapsed 3 min 30 s"},
		{"0.002430555555556", "[s]", "Elapsed 3 min 30 s"},
		{"0.002436342592593", "mm:ss.0", "Elapsed 3 min 30.5 s"},
		{"0.002436342592593", "mm:ss", "Elapsed 3 min 31 s"},
		{"0", "[h]:mm", "Elapsed 0 min"},
		{"0", "mm:ss", "Elapsed 0 s"},
		{"-0.5", "[h]:mm", "Number -0.5"},
		{"134.29999999999998", "General", "Number 134.3"},
		{"134.3", "0.0\" °C\"", "Number 134.3 | °C"},
		{"134.3", "0.0\\ \\°\\C", "Number 134.3 | °C"},
		{"134.3", "0.0 °C", "Number 134.3 | °C"},
		{"134.3", "General\" °C\"", "Number 134.3 | °C"},
		{"134.3", "[Blue][<130]0.0\" low\";[>=130]0.0\" °C\"", "Number 134.3 | °C"},
		{"-4", "0\" °C\";[Red]-0\" °C\"", "Number -4 | °C"},
		{"4", "0\" days\"", "Number 4 | days"}, // the letters in quotes make no date
		{"4", "#,##0.00 [$€-407]", "Number 4 | €"},
		{"4", "[$$-409]#,##0.00", "Number 4"},
		{"4", "_(* #,##0_);_(* \\(#,##0\\);_(* \"-\"??_);_(@_)", "Number 4"},
		{"-4", "_(* #,##0_);_(* \\(#,##0\\);_(* \"-\"??_);_(@_)", "Number -4"},
		{"0", "_(* #,##0_);_(* \\(#,##0\\);_(* \"-\"??_);_(@_)", "Number 0"},
		{"0.75", "0%", "Number 75 | %"},
		{"0.755", "0%", "Number 75.5 | %"},
		{"0.07", "0.00%", "Number 7 | %"},
		{"75", "0\"%\"", "Number 75 | %"}, // the sign in quotes does not multiply
		{"75", "0\\%", "Number 75 | %"},
		{"12000", "0.00E+00", "Number 12000"},
		{"0.5", "# ?/?", "Number 0.5"},
		{"1", "\"yes\";;\"no\"", "Number 1"}, // by the value, not the look
		{"0", "0;-0;;@", "Number 0"},
		{"5", "@", "Number 5"},
		{"46112", "", "Number 46112"},
		{"46112", "\"unclosed", "Number 46112"},
		{"46112", "[unclosed", "Number 46112"},
		{"46112", "0\\", "Number 46112"},
		{"46112.5", "d.m.yyyy \"um\" h\"h\"mm", "Moment 2026-03-31 12:00"},
		{"0.5", "[<1]h:mm;dd.mm.yyyy", "Clock 12:00"},
		{"46112", "[<1]h:mm;dd.mm.yyyy", "Day 2026-03-31"},
	} {
		assert.Equal(t, c.want, shownAs(t, c.value, c.code, false), "%s in %s", c.value, c.code)
	}
}

func TestBuiltinFormats(t *testing.T) {
	for id, want := range map[int]string{
		0: "Number 46112.5", 1: "Number 46112.5", 2: "Number 46112.5", 4: "Number 46112.5", 9: "Number 4611250 | %", 10: "Number 4611250 | %", 11: "Number 46112.5",
		12: "Number 46112.5", 14: "Moment 2026-03-31 12:00", 15: "Moment 2026-03-31 12:00", 16: "Moment 2026-03-31 12:00",
		17: "Moment 2026-03-31 12:00", 18: "Moment 2026-03-31 12:00", 19: "Moment 2026-03-31 12:00", 20: "Moment 2026-03-31 12:00",
		21: "Moment 2026-03-31 12:00", 22: "Moment 2026-03-31 12:00", 37: "Number 46112.5", 40: "Number 46112.5", 45: "Elapsed 1106700 h",
		46: "Elapsed 1106700 h", 47: "Elapsed 1106700 h", 48: "Number 46112.5", 49: "Number 46112.5", 58: "Moment 2026-03-31 12:00",
	} {
		assert.Equal(t, want, shownAs(t, "46112.5", builtin[id], false), "format %d", id)
	}
}

// Serials: ECMA-376 Part 1, 18.17.4.1 to 18.17.4.3 (1 is 1 January 1900, 60 the day that
// was not, 2,958,465 the last of 9999; in the 1904 system 0 is 1 January 1904 and
// 2,957,003 the last), from memory.
func TestSerials(t *testing.T) {
	for _, c := range []struct {
		value    string
		from1904 bool
		want     string
	}{
		{"0", false, "Number 0"}, {"1", false, "Day 1900-01-01"}, {"2", false, "Day 1900-01-02"},
		{"59", false, "Day 1900-02-28"}, {"60", false, "Number 60"}, {"61", false, "Day 1900-03-01"},
		{"60.5", false, "Number 60.5"}, {"36526", false, "Day 2000-01-01"}, {"46112", false, "Day 2026-03-31"},
		{"2958465", false, "Day 9999-12-31"}, {"2958466", false, "Number 2958466"}, {"-1", false, "Number -1"}, {"-0.5", false, "Number -0.5"},
		{"2958465.99999999", false, "Number 2958465.99999999"},
		{"0", true, "Day 1904-01-01"}, {"1", true, "Day 1904-01-02"}, {"60", true, "Day 1904-03-01"}, {"44650", true, "Day 2026-03-31"},
		{"2957003", true, "Day 9999-12-31"}, {"2957004", true, "Number 2957004"}, {"-1", true, "Number -1"}, {"1e300", false, "Number 1" + strings.Repeat("0", 300)},
	} {
		assert.Equal(t, c.want, shownAs(t, c.value, "yyyy-mm-dd", c.from1904), "%s, 1904 %v", c.value, c.from1904)
	}
}

// Every second of the years that records are of comes back from its serial as a program
// keeps it, a float64.
func TestSerialsThereAndBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		at := time.Unix(rapid.Int64Range(-2_000_000_000, 7_000_000_000).Draw(t, "second"), 0).UTC() // 1906 to 2191
		serial := float64(at.Unix())/daySeconds + 25569
		layout := "2006-01-02 15:04"
		if at.Second() != 0 {
			layout = "2006-01-02 15:04:05"
		}
		require.Equal(t, "Moment "+at.Format(layout), shownAs(t, strconv.FormatFloat(serial, 'g', -1, 64), "yyyy-mm-dd hh:mm", false))
		require.Equal(t, "Moment "+at.Format(layout), shownAs(t, strconv.FormatFloat(serial-shift1904, 'g', 15, 64), "yyyy-mm-dd hh:mm", true))
	})
}

// What lengths of time are written as is read by the parser of the records.
func TestElapsedIsReadAsASpan(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		tenths := rapid.Int64Range(0, 10_000_000).Draw(t, "tenths of a second")
		code := rapid.SampledFrom([]string{"[h]:mm:ss.0", "mm:ss.0", "[s].0"}).Draw(t, "format")
		got := shownAs(t, strconv.FormatFloat(float64(tenths)/10/daySeconds, 'g', -1, 64), code, false)
		text, ok := strings.CutPrefix(got, "Elapsed ")
		require.True(t, ok, got)
		q, err := quantity.Parse(text, quantity.Span, quantity.Fallback{})
		require.NoError(t, err)
		require.InDelta(t, float64(tenths)/10, q.In(quantity.Second), 1e-6, text)
	})
}

func TestNumbers(t *testing.T) {
	for _, c := range []struct{ raw, want string }{
		{"0", "0"}, {"-0", "0"}, {"0.0", "0"}, {"007", "7"}, {"1.50", "1.5"}, {"-12.5", "-12.5"}, {"+3", "3"}, {".5", "0.5"}, {"5.", "5"},
		{"134.29999999999998", "134.3"}, {"0.1", "0.1"}, {"0.30000000000000004", "0.3"}, {"1E-3", "0.001"}, {"1.2E+3", "1200"}, {"1e3", "1000"},
		{"999999999999999", "999999999999999"}, {"9999999999999999", "10000000000000000"}, {"99999999999999.95", "100000000000000"},
		{"123456789012345678", "123456789012346000"}, {"1234567890123444", "1234567890123440"}, {"0.000012345", "0.000012345"},
		{"1e15", "1000000000000000"}, {"1.7976931348623157E308", "179769313486232" + strings.Repeat("0", 294)},
	} {
		d, ok := readDecimal([]byte(c.raw), nil)
		require.True(t, ok, c.raw)
		assert.Equal(t, c.want, string(d.append(nil, 0)), c.raw)
	}
	for _, raw := range []string{"", "-", ".", "e5", "1e", "1e1.5", "abc", "1,5", "1 2", "NaN", "INF", "0x10", "1e999", "1e-999", "--1", "1..2", "1e99999999999999999999"} {
		_, ok := readDecimal([]byte(raw), nil)
		assert.False(t, ok, raw)
	}
}

// Against strconv: 15 digits, the shortest writing, in plain form.
func TestNumbersAsStrconv(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		f := rapid.OneOf(rapid.Float64Range(-1e6, 1e6), rapid.Float64()).Draw(t, "number")
		if math.Abs(f) < 1e-300 || math.Abs(f) > 1e300 { // beyond what spreadsheets hold
			f = 0
		}
		raw := strconv.FormatFloat(f, byte(rapid.SampledFrom([]rune{'g', 'e', 'f'}).Draw(t, "form")), -1, 64)
		d, ok := readDecimal([]byte(raw), nil)
		require.True(t, ok, raw)
		got := string(d.append(nil, 0))
		require.NotContains(t, got, "e")
		back, err := strconv.ParseFloat(got, 64)
		require.NoError(t, err)
		require.InDelta(t, f, back, math.Abs(f)*1e-14, raw)
		if f != 0 {
			digits := strings.Trim(strings.ReplaceAll(strings.TrimPrefix(got, "-"), ".", ""), "0")
			require.LessOrEqual(t, len(digits), mostDigits, got)
		}
		if strings.Contains(got, ".") {
			require.False(t, strings.HasSuffix(got, "0"), got)
		}
		hundred := string(d.append(nil, 2))
		back, err = strconv.ParseFloat(hundred, 64)
		require.NoError(t, err)
		if math.Abs(f) < 1e300 {
			require.InDelta(t, f*100, back, math.Abs(f)*1e-12, hundred)
		}
	})
}

func FuzzFormat(f *testing.F) {
	for _, c := range []string{"yyyy-mm-dd", "[h]:mm", "0.0\" °C\"", "[<1]0;;@", "mm:ss.000"} {
		f.Add(c, 46112.5)
	}
	f.Fuzz(func(t *testing.T, code string, value float64) {
		if math.IsNaN(value) || math.IsInf(value, 0) {
			return
		}
		_ = shownAs(t, fmt.Sprint(value), code, math.Signbit(value))
	})
}
