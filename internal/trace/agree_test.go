package trace

import (
	"bytes"
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"footing/internal/quantity"
)

// timeForms write a time, in seconds since some midnight, in one way each.
var timeForms = []struct {
	heading string
	write   func(s float64) string
}{
	{"Time", func(s float64) string { return clockText(s, "15:04:05") }},
	{"Time", func(s float64) string { return clockText(s, "15:04:05.00") }},
	{"Time", func(s float64) string { return clockText(s, "3:04:05 PM") }},
	{"Time hh:mm", func(s float64) string { return clockText(s, "15:04") }},
	{"Timestamp", func(s float64) string { return clockText(s, "2006-01-02 15:04:05") }},
	{"Timestamp", func(s float64) string { return clockText(s, "2006-01-02T15:04:05.000Z") }},
	{"Timestamp", func(s float64) string { return clockText(s, "02/01/2006 15:04:05") }},
	{"Timestamp", func(s float64) string { return clockText(s, "2006-01-02T15:04:05+02:00") }},
	{"Elapsed [s]", func(s float64) string { return fmt.Sprintf("%.2f", s) }},
	{"Time [mm:ss]", func(s float64) string { return fmt.Sprintf("%02.0f:%02.0f", math.Floor(s/60), math.Mod(s, 60)) }},
	{"Elapsed", func(s float64) string {
		return fmt.Sprintf("%.0f:%02.0f:%02.0f", math.Floor(s/3600), math.Floor(math.Mod(s, 3600)/60), math.Mod(s, 60))
	}},
	{"Date,Time", func(s float64) string { return clockText(s, "02/01/2006,15:04:05") }},
}

func clockText(s float64, layout string) string {
	return time.Date(2026, 3, 3, 0, 0, 0, 0, time.UTC).Add(time.Duration(math.Round(s*100)) * 10 * time.Millisecond).Format(layout)
}

var fields = []string{"", "nan", "1e3", "-", "-12.5", "+3.0", "500", "-41", "3000", "12,5", " 7.25", "7.25 ", "\"7.25\"", ".5", "5.", "0", "-0", "123456789012345678", "٣", "\x00", "7 25"}

// logFile draws a file of a logger: one form, most lines plain, a few not.
func logFile(t *rapid.T) string {
	form := rapid.SampledFrom(timeForms).Draw(t, "form")
	phase := rapid.Bool().Draw(t, "phase")
	end := rapid.SampledFrom([]string{"\n", "\r\n", ",\n"}).Draw(t, "end")
	places := rapid.IntRange(0, 3).Draw(t, "places")
	units := rapid.SampledFrom([]string{",T1 [°C],T2 [°C],P [kPa abs]", ",T1 [°F],T2 [°F],P [psi gauge]", ",T1 [°C],Door,P [bar]"}).Draw(t, "units")
	var b strings.Builder
	b.WriteString(form.heading + units)
	if phase {
		b.WriteString(",Phase")
	}
	b.WriteString("\n")
	at := rapid.Float64Range(0, 90000).Draw(t, "from")
	at = math.Floor(at)
	every := rapid.SampledFrom([]float64{0.5, 1, 1, 10, 60}).Draw(t, "every")
	odd := rapid.SliceOfN(rapid.IntRange(0, 19), 120, 120).Draw(t, "odd")
	for i, what := range odd {
		at += every
		now, celsius, warm, pressure := at, fmt.Sprintf("%.*f", places, 20+float64(i)), fmt.Sprintf("%.*f", places, 20.5+float64(i)), fmt.Sprintf("%.*f", places, float64(i%40)-2)
		switch what {
		case 0:
			celsius = rapid.SampledFrom(fields).Draw(t, "celsius")
		case 1:
			pressure = rapid.SampledFrom(fields).Draw(t, "pressure")
		case 2:
			at += rapid.SampledFrom([]float64{-every, -2 * every, 3 * every, 30, 3600, -3600, 86400, 0.25}).Draw(t, "shift")
			now = max(at, 0)
		case 3:
			now += rapid.SampledFrom([]float64{-every, -7, 100, 3600, 50000}).Draw(t, "stray")
			now = max(now, 0)
		case 4:
			b.WriteString(rapid.SampledFrom([]string{"\n", "door open\n", form.heading + units + "\n", "12:00:00,Cycle complete\n", "x,y,z\n", ",,,,\n", "1,2,3,4,5,6,7,8\n"}).Draw(t, "line"))
		}
		at = max(at, 0)
		fmt.Fprintf(&b, "%s,%s,%s,%s", form.write(now), celsius, warm, pressure)
		if phase {
			fmt.Fprintf(&b, ",%s", []string{"Heat", "Hold", " Dry", "", "\"Vent\""}[i/7%5])
		}
		b.WriteString(end)
	}
	s := b.String()
	return s[:len(s)-rapid.IntRange(0, 4).Draw(t, "torn")]
}

// TestBothWaysAgree: the short way changes nothing, and is taken.
func TestBothWaysAgree(t *testing.T) {
	quick := 0
	rapid.Check(t, func(t *rapid.T) {
		text := []byte(logFile(t))
		o := options()
		o.Order = quantity.DMY
		short := newReader(o)
		a, err := short.read(bytes.NewReader(text))
		require.NoError(t, err)
		require.NoError(t, counted(a, text))
		long := newReader(o)
		long.noQuick = true
		b, err := long.read(bytes.NewReader(text))
		require.NoError(t, err)
		require.Empty(t, cmp.Diff(b, a, sameTrace...))
		quick += short.taken
		require.Zero(t, long.taken)
	})
	require.NotZero(t, quick)
}

// TestPlainFilesGoTheShortWay: in each form nearly all lines do.
func TestPlainFilesGoTheShortWay(t *testing.T) {
	for _, f := range timeForms {
		var b strings.Builder
		b.WriteString(f.heading + ",T [°C],P [kPa abs],Phase\n")
		for i := range 1000 {
			fmt.Fprintf(&b, "%s,%.1f,%.1f,%s\n", f.write(36000+float64(i)), 20+float64(i)/10, 101.0, "Heat")
		}
		r := newReader(options())
		tr, err := r.read(strings.NewReader(b.String()))
		require.NoError(t, err)
		require.Equal(t, 1000, tr.Readings, f.heading)
		require.Greater(t, r.taken, 800, f.heading+" "+f.write(36000))
	}
}
