package trace

import (
	"bytes"
	"fmt"
	"io"
	"runtime"
	"strings"
	"testing"
	"testing/iotest"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"footing/internal/quantity"
	"footing/internal/steam"
)

// seeds are files in many forms, whole and damaged.
func seeds() []string {
	list := []string{"", "\n", "a", "time,temp\n", "\xef\xbb\xbf", "\xff\xfe", "%PDF-1.7\n", "sep=;\n"}
	for _, f := range formFiles(20) {
		list = append(list, f.text)
	}
	for _, c := range clockCases {
		list = append(list, c.text())
	}
	for _, c := range oddCases {
		if len(c.text) < 1000 {
			list = append(list, c.text)
		}
	}
	for _, c := range unusableCases {
		list = append(list, c.text)
	}
	return append(list, heated("Time,T1 [°C],T2 [°C]", func(i int, c float64) string { return fmt.Sprintf("%d,%.1f,0.0", i, c) })[:2000],
		"Time,T [°C]\n0,402\n1,450\n2,500\n3,600\n4,700\n5,390\n6,20\n", "Time;T1 [°C];T2 [°C]\n0;20,1;0,0\n1;120;21\n", "Temperature unit;°C\nTime;Temperature\n0;20,1\n1;1.013\n")
}

// counted holds what must be true of any file, whatever stands in it.
func counted(tr *Trace, text []byte) error {
	switch {
	case tr.Lines != tr.Heading+tr.Readings+tr.Aside:
		return fmt.Errorf("%d lines, but %d heading, %d readings, %d aside", tr.Lines, tr.Heading, tr.Readings, tr.Aside)
	case tr.Bytes != int64(len(text)):
		return fmt.Errorf("%d bytes of %d", tr.Bytes, len(text))
	case tr.Readings != tr.Cycle.Readings+tr.Cycle.Ignored:
		return fmt.Errorf("%d readings, the series has %d", tr.Readings, tr.Cycle.Readings)
	case tr.Cycle.Ignored != 0:
		return fmt.Errorf("the series was given %d that it could not take", tr.Cycle.Ignored)
	case tr.Unusable == "" && tr.Readings < 2:
		return fmt.Errorf("usable with %d readings", tr.Readings)
	case len(tr.Problems) > 30:
		return fmt.Errorf("%d problems", len(tr.Problems))
	}
	sum := 0
	for _, p := range tr.Problems {
		if p.Sentence == "" || p.Count < 1 || p.Line < 0 || p.Line > tr.Lines {
			return fmt.Errorf("problem %+v", p)
		}
		sum += p.Count
	}
	if tr.Aside > 0 && sum == 0 && tr.Unusable == "" {
		return fmt.Errorf("%d aside and nothing told", tr.Aside)
	}
	return numbered(tr)
}

func options() Options {
	return Options{Name: "2026/S1-00341.csv", Points: 50, Look: sixLevels, Order: quantity.DMY, Temperature: quantity.Celsius, Pressure: quantity.KPa}
}

// FuzzRead: any bytes are counted line by line, and the short way tells the same as the long way,
// whatever the buffer, and whatever the series summed up before.
func FuzzRead(f *testing.F) {
	for _, s := range seeds() {
		f.Add([]byte(s))
	}
	buffer, twice, series := make([]byte, leastBuffer), make([]byte, 2*leastBuffer), new(steam.Series)
	f.Fuzz(func(t *testing.T, text []byte) {
		o := options()
		o.Buffer, o.Series = buffer, series
		tr, err := Read(bytes.NewReader(text), o)
		o.Series = nil
		if err != nil {
			t.Fatal(err)
		}
		if err := counted(tr, text); err != nil {
			t.Fatal(err)
		}
		r := newReader(o)
		r.noQuick = true
		long, _ := r.read(bytes.NewReader(text))
		if a, b := fmt.Sprintf("%+v", *long), fmt.Sprintf("%+v", *tr); a != b {
			t.Fatal(cmp.Diff(a, b))
		}
		if len(text)%8 != 0 { // it costs much
			return
		}
		across := straddling(text)
		few, _ := Read(bytes.NewReader(across), o)
		o.Buffer = twice
		many, _ := Read(bytes.NewReader(across), o)
		if a, b := fmt.Sprintf("%+v", *few), fmt.Sprintf("%+v", *many); a != b {
			t.Fatal(cmp.Diff(a, b))
		}
	})
}

var sameTrace = cmp.Options{cmpopts.EquateNaNs(), cmp.Comparer(func(a, b quantity.Moment) bool { return a == b })}

// pieces make lines that are near to those of real files.
var pieces = []string{"14:05:07", "14:05:08", "00:00:00", "23:59:59", "0:00", "12:34", "2026-03-03 14:05:07", "03/03/2026", "134.20", "134,2", "-1.5", "nan", "1e3",
	"", "---", "121", "99999", "time", "Temp [°C]", "P [bar abs]", "phase", "\"134,2\"", "\"", ",", ";", "\t", "|", "\r", "\n", "\r\n", " ", "Heat", "date", "counter", ":", "=", "5", "10", "\x00", "\xb0"}

func anyText(t *rapid.T) string {
	start := rapid.SampledFrom(seeds()).Draw(t, "seed")
	more := rapid.SliceOfN(rapid.SampledFrom(pieces), 0, 40).Draw(t, "pieces")
	cut := rapid.IntRange(0, len(start)).Draw(t, "cut")
	return start[:cut] + strings.Join(more, "") + start[cut:]
}

// TestAnyTextIsCounted: no text breaks the count of lines, and both ways agree.
func TestAnyTextIsCounted(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		text := []byte(anyText(t))
		tr, err := Read(bytes.NewReader(text), options())
		require.NoError(t, err)
		require.NoError(t, counted(tr, text))
		r := newReader(options())
		r.noQuick = true
		long, err := r.read(bytes.NewReader(text))
		require.NoError(t, err)
		require.Empty(t, cmp.Diff(long, tr, sameTrace...))
	})
}

// TestPortionsChangeNothing: how a file arrives, and into what buffer, is all the same.
func TestPortionsChangeNothing(t *testing.T) {
	big := bigFile()
	texts := append(seeds(), string(big), strings.Repeat("x", 3*longest)+"\n"+string(big), strings.ReplaceAll(string(big), "\n", "\r"),
		string(big)+strings.Repeat("5", longest+1), string(big)+strings.Repeat("5", longest)+"\r\n"+strings.Repeat("\n", 70000))
	for i, s := range texts {
		want, err := Read(strings.NewReader(s), options())
		require.NoError(t, err)
		require.NoError(t, counted(want, []byte(s)))
		for _, size := range []int{leastBuffer + 1, leastBuffer + 777, 2*leastBuffer - 1, 300007} {
			o := options()
			o.Buffer = make([]byte, size)
			for _, r := range []io.Reader{strings.NewReader(s), iotest.DataErrReader(strings.NewReader(s)), iotest.HalfReader(strings.NewReader(s))} {
				got, err := Read(r, o)
				require.NoError(t, err)
				require.Empty(t, cmp.Diff(want, got, sameTrace...), "text %d", i)
			}
		}
		got, err := Read(iotest.OneByteReader(strings.NewReader(s)), options())
		require.NoError(t, err)
		require.Empty(t, cmp.Diff(want, got, sameTrace...), "text %d", i)
	}
}

// TestReaderErrors: the reader's own error is handed on, what came before is told.
func TestReaderErrors(t *testing.T) {
	text := bigFile()[:5000]
	tr, err := Read(io.MultiReader(bytes.NewReader(text), iotest.ErrReader(io.ErrUnexpectedEOF)), options())
	require.ErrorIs(t, err, io.ErrUnexpectedEOF)
	require.NoError(t, counted(tr, text))
	_, err = Read(stuck{}, options())
	require.ErrorIs(t, err, io.ErrNoProgress)
}

type stuck struct{}

func (stuck) Read([]byte) (int, error) { return 0, nil }

// TestMemoryDoesNotGrow: a file twenty times as long takes no more memory.
func TestMemoryDoesNotGrow(t *testing.T) {
	const head = "Time [s],temperature [°C],pressure [kPa absolute]\n"
	var b strings.Builder
	for i := range 20 * 2800 {
		fmt.Fprintf(&b, "%d,%d.25,%d.50\n", i, 20+i%110, 90+i%150)
	}
	used := func(text string) uint64 {
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		tr, err := Read(strings.NewReader(text), options())
		runtime.ReadMemStats(&after)
		require.NoError(t, err)
		require.Empty(t, tr.Unusable)
		return after.TotalAlloc - before.TotalAlloc
	}
	all := b.String()
	short := all[:strings.Index(all, "\n2800,")+1]
	require.Less(t, used(head+all), used(head+short)+leastBuffer)
}
