package dev

import (
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

// shownBy is a made trace as its lines show it, taken apart without our own reader.
type shownBy struct {
	header         []string
	seconds        []int
	celsius, kPa   []float64
	blanks, broken int
}

func shown(t *testing.T, path string) (s shownBy) {
	t.Helper()
	text, err := os.ReadFile(path)
	require.NoError(t, err)
	lines := strings.Split(strings.TrimSuffix(string(text), "\n"), "\n")
	s.header = lines[:4]
	for _, line := range lines[4:] {
		part := strings.Split(line, ",")
		if len(part) != 3 || part[2] == "" {
			s.broken++
			continue
		}
		second, err := plainClock(part[0])
		require.NoError(t, err)
		celsius, err := strconv.ParseFloat(part[1], 64)
		if err != nil {
			s.blanks++
			continue
		}
		kPa, err := strconv.ParseFloat(part[2], 64)
		require.NoError(t, err)
		s.seconds, s.celsius, s.kPa = append(s.seconds, second), append(s.celsius, celsius), append(s.kPa, kPa)
	}
	return s
}

// held is the readings at 134 °C and above.
func (s shownBy) held() (list []int) {
	for i, c := range s.celsius {
		if c >= 134 {
			list = append(list, i)
		}
	}
	return list
}

func (s shownBy) middle() (celsius, apart float64) {
	held := s.held()
	i := held[len(held)/2]
	return s.celsius[i], boiling(s.kPa[i]) - s.celsius[i]
}

func (s shownBy) pulses() (n int) {
	low := false
	for i, p := range s.kPa {
		if s.celsius[i] >= 130 {
			break
		}
		if p < 40 && !low {
			n++
		}
		low = p < 60 && (low || p < 40)
	}
	return n
}

func (s shownBy) vacuum() (seconds int) {
	for i, p := range s.kPa {
		if i > s.held()[0] && p < 60 {
			seconds++
		}
	}
	return seconds
}

func (s shownBy) longestGap() (most int) {
	for i := 1; i < len(s.seconds); i++ {
		most = max(most, s.seconds[i]-s.seconds[i-1])
	}
	return most
}

func (s shownBy) flat() (most int) {
	run := 0
	for i := 1; i < len(s.celsius); i++ {
		if run++; s.celsius[i] != s.celsius[i-1] {
			run = 0
		}
		most = max(most, run)
	}
	return most
}

// flawedPractice has each kind of flaw in its traces.
func flawedPractice(t *testing.T) string {
	t.Helper()
	return madeOnce(t, Plan{Seed: 31, Days: 560, Traces: true, Format: "csv"})
}

// TestEachFlawShows: what is listed as planted can be seen in the file, and in a
// file with nothing planted none of it can.
func TestEachFlawShows(t *testing.T) {
	dir := flawedPractice(t)
	planted, err := PlantedIn(dir)
	require.NoError(t, err)
	loads := loadsByID(t, dir)
	seen, named := map[string]int{}, map[string]bool{}
	for _, p := range planted {
		s, load := shown(t, filepath.Join(dir, "traces", p.Trace)), loads[p.Load]
		celsius, apart := s.middle()
		offset := 0
		if load != nil {
			began, err := plainClock(load["started"][11:])
			require.NoError(t, err)
			offset = s.seconds[0] - began*60
		}
		ok := map[string]bool{
			"hold-short":   len(s.held()) < 200,
			"hold-hot":     celsius > 139,
			"air":          apart > 3.8,
			"superheat":    apart < -3.8,
			"no-pulses":    s.pulses() == 0,
			"drying-short": s.vacuum() < 400,
			"copied":       s.header[1] == "counter,"+load["counter"],
			"stuck":        s.flat() > 1000,
			"torn":         s.broken == 1 && s.vacuum() < 400,
			"blank":        s.blanks == 40,
			"gap":          s.longestGap() == 151,
			"clock-ahead":  offset == 3600,
			"miscounted":   load["trace"] == "" && s.header[1] != "counter,"+load["counter"] && offset == 0,
			"no-load":      p.Load == "" && s.seconds[0] == (5*60+10)*60,
			"shifted":      offset == 1500,
			"misread":      load["exposure"] < "3",
		}
		is, known := ok[p.Fault]
		require.True(t, known, p.Fault)
		assert.True(t, is, "%v does not show", p)
		seen[p.Fault]++
		named[p.Trace] = true
	}
	for _, f := range flaws {
		assert.Positive(t, seen[f.name], f.name)
	}
	assert.Positive(t, seen["misread"])
	sound := 0
	for _, load := range loads {
		if load["trace"] == "" || named[load["trace"]] {
			continue
		}
		sound++
		s := shown(t, filepath.Join(dir, "traces", load["trace"]))
		celsius, apart := s.middle()
		require.True(t, len(s.held()) >= 240 && len(s.held()) < 300 && celsius < 136 && apart > -1 && apart < 1 && s.pulses() == 3 && s.vacuum() >= 1200 && s.flat() < 60 &&
			s.broken == 0 && s.blanks == 0 && s.longestGap() == 1, "%v: held %d, %.2f °C, %.2f K apart, pulses %d, vacuum %d, flat %d", load, len(s.held()), celsius, apart, s.pulses(), s.vacuum(), s.flat())
	}
	require.Greater(t, sound, 10*len(planted)/2, "few have a flaw")
}

func loadsByID(t *testing.T, dir string) map[string]map[string]string {
	t.Helper()
	rows := csvRows(t, filepath.Join(dir, "loads.csv"))
	all := map[string]map[string]string{}
	for _, r := range rows[1:] {
		load := map[string]string{}
		for i, name := range rows[0] {
			load[name] = r[i]
		}
		all[load["id"]] = load
	}
	return all
}

// TestCopiedReadings: a copy has the readings of a trace before it, under its own clock.
func TestCopiedReadings(t *testing.T) {
	dir := flawedPractice(t)
	planted, err := PlantedIn(dir)
	require.NoError(t, err)
	files, err := filepath.Glob(filepath.Join(dir, "traces", "*", "*.csv"))
	require.NoError(t, err)
	twins := map[string][]string{}
	for _, f := range files {
		s := shown(t, f)
		var b strings.Builder
		for i := range s.celsius[:300] {
			b.WriteString(strconv.FormatFloat(s.celsius[i]*1000+s.kPa[i], 'f', 3, 64))
		}
		twins[b.String()] = append(twins[b.String()], filepath.Base(f))
	}
	copies := 0
	for _, names := range twins {
		copies += len(names) - 1
	}
	listed := 0
	for _, p := range planted {
		if p.Fault == "copied" {
			listed++
		}
	}
	require.Positive(t, listed)
	require.Equal(t, listed, copies)
}

func TestCleanHasNothingPlanted(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, Generate(dir, Plan{Seed: 31, Days: 40, Clean: true, Traces: true}))
	planted, err := PlantedIn(dir)
	require.NoError(t, err)
	require.Empty(t, planted)
}
