package quantity

import (
	"errors"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// The spellings are those that people write in logs and spreadsheets: common practice,
// no source. Beside each stands one that is nearly so and has two meanings or none.
func TestReadTakesWhatHasOneMeaning(t *testing.T) {
	for _, c := range []struct {
		d              Dimension
		in, want, told string
	}{
		{Temperature, "134 oC", "134 °C", ""}, {Temperature, "134'C", "134 °C", ""}, {Temperature, "273 oF", "273 °F", ""}, {Temperature, "134 xC", "", "unit not known"},
		{Temperature, "‘134 °C’", "134 °C", ""}, {Temperature, "１３４．５　℃", "134.5 °C", ""}, {Temperature, "134 °C ✔\ufe0f", "134 °C", ""}, {Temperature, "134 °C ✗", "", "unit not known"},
		{Temperature, "~134 °C", "", "one exact value"}, {Temperature, ">= 134 °C", "", "one exact value"}, {Temperature, "about 134 °C", "", "one exact value"}, {Temperature, "cold", "", "does not begin"},
		{Temperature, "121-124 °C", "", "more than one value"}, {Temperature, "121 °C to 124 °C", "", "more than one value"}, {Temperature, "134 °C (273 °F)", "", "more than one value"},
		{Span, "½ h", "0.5 h", ""}, {Span, "1½ h", "1.5 h", ""}, {Span, "1/2 h", "0.5 h", ""}, {Span, "3 1/2 min", "3.5 min", ""}, {Span, "¼ h", "0.25 h", ""}, {Span, "3/4 h", "0.75 h", ""},
		{Span, "2/3 h", "", "unit not known"}, {Span, "1/2/3 h", "", "unit not known"}, {Span, "11/2 h", "", "unit not known"}, {Span, "½", "", "has no unit"}, {Span, "½ x", "", ""},
		{Span, "1h30", "1 h 30 min", ""}, {Span, "'3'", "3 min", ""}, {Span, "'3", "", "does not begin"}, {Span, "3 min?", "", "unit not known"}, {Span, "1 hr 05", "1 h 5 min", ""}, {Span, "1h60", "", "unit of its last number"}, {Span, "1h5", "", "unit of its last number"},
		{Span, "3'30", "3 min 30 s", ""}, {Span, "3 min 30", "3 min 30 s", ""}, {Span, "3 min 3", "", "unit of its last number"}, {Span, "3 d 30", "", "unit of its last number"},
		{Span, "1h30m", "1 h 30 min", ""}, {Span, "3m 30s", "3 min 30 s", ""}, {Span, "3m", "", "minutes or months"}, {Span, "1 d 3 m", "", "minutes or months"},
		{Span, "0:03:30", "3 min 30 s", ""}, {Span, "1:02:03", "1 h 2 min 3 s", ""}, {Span, "10:00:01", "10 h 1 s", ""}, {Span, "0:00:45", "45 s", ""},
		{Span, "0:03:00", "", "could be hours"}, {Span, "3:30", "", "could be hours"}, {Span, "0:60:30", "", "could be hours"},
		{Pressure, "15 lb/in²", "15 psi", ""}, {Pressure, "15 lbs/in2 gauge", "15 psi gauge", ""}, {Pressure, "15 lbs per sq. in.", "15 psi", ""}, {Pressure, "15 lbs", "", "unit not known"},
		{Percent, "¾ full", "75 %", ""}, {Percent, "half full", "50 %", ""}, {Percent, "70% full", "70 %", ""}, {Percent, "full", "", "does not begin"}, {Percent, "¾", "", "write 75 %"}, {Percent, "70 full", "", "unit not known"},
		{Percent, "½ %", "0.5 %", ""},
	} {
		q, err := Read(c.in, c.d, Fallback{})
		if c.want == "" {
			var e *Error
			if assert.ErrorAs(t, err, &e, c.in) {
				assert.Equal(t, c.in, e.Found)
				assert.Contains(t, err.Error(), c.told, c.in)
			}
			continue
		}
		if assert.NoError(t, err, c.in) {
			assert.Equal(t, c.want, q.String(), c.in)
		}
		same(t, q, c.d)
	}
}

// same checks that what Read read is what Parse reads in it as printed.
func same(t *testing.T, q Quantity, d Dimension) {
	again, err := Parse(q.String(), d, Fallback{})
	if err != nil || again != q {
		t.Fatalf("%+v prints as %q, which is read as %+v, %v", q, q, again, err)
	}
}

func TestReadDates(t *testing.T) {
	for _, c := range []struct {
		o              DateOrder
		in, want, told string
	}{
		{ISO, "31-Mar-26", "2026-03-31", ""}, {ISO, "31 MAR 26", "2026-03-31", ""}, {ISO, "31 Mar ’26", "2026-03-31", ""}, {ISO, "Mar 31, 26", "2026-03-31", ""}, {ISO, "31Mar2026", "2026-03-31", ""},
		{ISO, "31-Mar-49", "2049-03-31", ""}, {ISO, "31-Mar-50", "", "two figures for the year"}, {ISO, "March 2026", "", "not a whole date"}, {ISO, "Mar 31", "", "not a whole date"},
		{DMY, "31/3/26", "2026-03-31", ""}, {DMY, "31.3.26", "2026-03-31", ""}, {MDY, "3/31/26", "2026-03-31", ""}, {MDY, "31/3/26", "", "two figures for the year"},
		{ISO, "31/3/26", "", "two figures for the year"}, {DMY, "26-03-31", "", "two figures for the year"}, {DMY, "31/3.26", "", "not a date that can be read"},
		{ISO, "20260331", "2026-03-31", ""}, {ISO, "20261331", "", ""}, {ISO, "31032026", "", "not a whole date"}, {ISO, "2026033", "", ""},
		{DMY, "31. 3. 2026", "2026-03-31", ""}, {DMY, "31 / 03 / 2026", "2026-03-31", ""}, {DMY, "31 03 2026", "2026-03-31", ""}, {ISO, "2026 03 31", "2026-03-31", ""}, {ISO, "31 03 2026", "", ""}, {DMY, "31 03 26", "", ""},
		{ISO, "31st March 2026", "2026-03-31", ""}, {ISO, "March 31st, 2026", "2026-03-31", ""}, {ISO, "the 31st", "", ""}, {ISO, "31st of March 2026", "2026-03-31", ""}, {DMY, "4/3rd/2026", "", "not a whole date"}, {MDY, "3rd/4/2026", "", "not a whole date"},
		{ISO, "31 Mar 14 h", "", "two figures"}, {ISO, "Mar 31 14 h", "", "two figures"}, {ISO, "31 Mar 14:05", "", "two figures"}, {ISO, "31 Mar 14 05", "", "two figures"},
		{DMY, "Tue 31/03/2026", "2026-03-31", ""}, {ISO, "Tuesday, 31 March 2026", "2026-03-31", ""}, {ISO, "2026-03-31 (Tue.)", "2026-03-31", ""}, {DMY, "Tues. 31/3/26", "2026-03-31", ""},
		{DMY, "Mon 31/03/2026", "", "2026-03-31 was a Tuesday"}, {DMY, "Tue 32/03/2026", "", ""}, {ISO, "Tuesday", "", ""},
		{DMY, "'31/03/2026", "2026-03-31", ""}, {ISO, "2026-03-31.", "2026-03-31", ""}, {ISO, "31\u00a0Mar\u00a02026", "2026-03-31", ""}, {ISO, "２０２６-０３-３１", "2026-03-31", ""},
		{ISO, "46112", "", "spreadsheet shows"}, {ISO, "46112.58", "", "spreadsheet shows"}, {ISO, "36525", "", "not a whole date"}, {ISO, "73051", "", "not a whole date"},
	} {
		d, err := ReadDay(c.in, c.o)
		if c.want == "" {
			assert.ErrorContains(t, err, c.told, c.in)
			continue
		}
		if assert.NoError(t, err, c.in) {
			assert.Equal(t, c.want, d.String(), c.in)
		}
		m, err := ReadMoment(c.in, c.o, time.UTC)
		if assert.NoError(t, err, c.in) {
			assert.Equal(t, c.want, m.String(), c.in)
		}
	}
	_, err := ReadDay("31 Mar 26 14:05", ISO)
	assert.ErrorContains(t, err, "two figures", "a clock is no part of a day")
}

func TestReadMoments(t *testing.T) {
	oslo := zone(t, "Europe/Oslo")
	for in, want := range map[string]string{
		"2026-03-31 14h05": "2026-03-31 14:05", "2026-03-31 1405": "2026-03-31 14:05", "2026-03-31 0905 hrs": "2026-03-31 09:05", "2026-03-31 14:05 h": "2026-03-31 14:05",
		"2026-03-31 at 14:05": "2026-03-31 14:05", "2026-03-31 @ 2:05 pm": "2026-03-31 14:05", "2026-03-31 - 14:05": "2026-03-31 14:05", "14:05 on 31 Mar 2026": "2026-03-31 14:05",
		"2:05 pm, 31 March 2026": "2026-03-31 14:05", "31/3/26 14:05": "2026-03-31 14:05", "Tue 31-Mar-26 14.05": "2026-03-31 14:05", "2026-03-31 14:05 (local)": "2026-03-31 14:05",
		"2026-03-31 12:05 UTC": "2026-03-31 14:05", "20260331 1405": "2026-03-31 14:05", "2026-03-31 14:05:30.5 ✓": "2026-03-31 14:05:30", "31st March 2026, 2:05 PM": "2026-03-31 14:05",
	} {
		m, err := ReadMoment(in, DMY, oslo)
		if assert.NoError(t, err, in) {
			assert.Equal(t, want, m.String(), in)
		}
	}
	// Where the clock has two meanings, or less than minutes, the day alone is told.
	for _, in := range []string{"2026-03-31 2pm", "2026-03-31 noon", "2026-03-31 2405", "2026-03-31 1460", "2026-03-31 405", "2026-03-31 14h5", "2026-03-31 2:05 o'clock", "31-Mar-26 2pm", "2026-03-31 14:05 GMT", "2026-03-31 14:05 CET",
		"31/3/26 noon", "Tue 31/03/2026 2pm"} {
		_, err := ReadMoment(in, DMY, oslo)
		var e *Error
		require.ErrorAs(t, err, &e, in)
		assert.Equal(t, "2026-03-31", e.Day.String(), in)
		assert.Equal(t, in, e.Found)
	}
	for _, in := range []string{"2026-03-31 to 1 Apr 2026", "Mon 31/03/2026 14:05", "14:05", "2026-03-31 1405 2026-04-01"} {
		_, err := ReadMoment(in, DMY, oslo)
		var e *Error
		require.ErrorAs(t, err, &e, in)
		assert.Zero(t, e.Day, in)
	}
}

func TestNotSaid(t *testing.T) {
	for _, s := range []string{"n/a", "N/A", "#N/A", "n.a.", "?", "TBC", "unknown", "not recorded", "...", "…", "/", "Blank"} {
		assert.True(t, NotSaid(s), s)
	}
	for _, s := range []string{"", "no", "none", "nil", "0", "see book", "na", "no answer", "not done", "never", "n", "unsure", "//"} {
		assert.False(t, NotSaid(s), s)
	}
	assert.True(t, NoAnswer("n/a") && !NoAnswer("unknown"))
}

// Whatever is written: no panic, the same answer twice, what is read prints to what is
// read again, and what the strict readers take is taken as they take it.
func FuzzRead(f *testing.F) {
	for _, s := range []string{"½ h", "1h30", "3m30s", "0:03:30", "134 oC", "15 lb/in²", "¾ full", "ca. 3 min", "31-Mar-26", "Tue 31/03/2026 14h05", "14:05 on 31 Mar 2026", "“2026-03-31” ✓", "46112", "１ min", "20260331 1405", "2026-03-31 @ 2:05 pm"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		for d := Plain; d <= Percent; d++ {
			q, err := Read(s, d, Fallback{})
			strict, wrong := Parse(s, d, Fallback{})
			if wrong == nil && (err != nil || q != strict) {
				t.Fatalf("%q: %+v, strictly %+v", s, q, strict)
			}
			if err == nil {
				same(t, q, d)
			}
			noted(t, err)
		}
		for o := ISO; o <= MDY; o++ {
			d, err := ReadDay(s, o)
			strict, wrong := ParseDay(s, o)
			if wrong == nil && (err != nil || d != strict) {
				t.Fatalf("%q: %v, strictly %v", s, d, strict)
			}
			noted(t, err)
			m, err := ReadMoment(s, o, time.UTC)
			if same, wrong := ParseMoment(s, o, time.UTC); wrong == nil && (err != nil || m != same) {
				t.Fatalf("%q: %v, strictly %v", s, m, same)
			}
			noted(t, err)
			if err == nil {
				if again, err := ParseMoment(m.String(), ISO, time.UTC); err != nil || again != m {
					t.Fatalf("%q prints as %q, which is read as %v, %v", s, m, again, err)
				}
			}
		}
	})
}

func noted(t *testing.T, err error) {
	var e *Error
	if err != nil && (!errors.As(err, &e) || e.Why == "") {
		t.Fatalf("an error without words: %v", err)
	}
}
