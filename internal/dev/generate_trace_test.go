package dev

import (
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// TestSaturation: kPa absolute at °C as another program gives them (python3-iapws
// 1.5.3, IAPWS-IF97), and the normal boiling point 99.974 °C at 101.325 kPa (steam tables).
func TestSaturation(t *testing.T) {
	for celsius, kPa := range map[float64]float64{121: 205.039, 134: 304.199, 137: 331.852, 99.9743: 101.325} {
		require.InDelta(t, kPa, saturation(celsius), 0.005)
		require.InDelta(t, celsius, boiling(kPa), 0.01)
	}
}

// TestTraceShowsWhatTheLogSays reads the files back: their hold at or above 134 °C
// is one unbroken run, at least the exposure written, and lies on the saturation line.
func TestTraceShowsWhatTheLogSays(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, Generate(dir, Plan{Seed: 3, Days: 20, Clean: true, Traces: true, Format: "csv"}))
	log, err := os.ReadFile(filepath.Join(dir, "loads.csv"))
	require.NoError(t, err)
	lines := strings.Split(strings.TrimSpace(string(log)), "\n")
	column := map[string]int{}
	for i, name := range strings.Split(lines[0], ",") {
		column[name] = i
	}
	seen := 0
	for _, line := range lines[1:] {
		cells := strings.Split(line, ",")
		name := cells[column["trace"]]
		if name == "" {
			require.Equal(t, "rejected", cells[column["decision"]])
			continue
		}
		seen++
		text, err := os.ReadFile(filepath.Join(dir, "traces", name))
		require.NoError(t, err)
		readings := strings.Split(strings.TrimSpace(string(text)), "\n")
		require.Equal(t, "counter,"+cells[column["counter"]], readings[1])
		require.InDelta(t, 2800, len(readings), 250)
		hold, runs, lowest, vacuum := 0, 0, 200.0, 0
		above, low := false, false
		for i, r := range readings[4:] {
			part := strings.Split(r, ",")
			require.Len(t, part, 3)
			celsius, err := strconv.ParseFloat(part[1], 64)
			require.NoError(t, err)
			kPa, err := strconv.ParseFloat(part[2], 64)
			require.NoError(t, err)
			if i == 0 {
				require.Equal(t, cells[column["started"]][11:]+":00", part[0])
			}
			if celsius >= 134 {
				hold++
				if !above {
					runs++
				}
				require.InDelta(t, kPa, saturation(celsius), 6)
			}
			above = celsius >= 134
			if kPa < 40 && !low {
				vacuum++
			}
			low = kPa < 60 && (low || kPa < 40)
			if above {
				lowest = min(lowest, celsius)
			}
		}
		exposure, err := strconv.ParseFloat(strings.Fields(cells[column["exposure"]])[0], 64)
		require.NoError(t, err)
		require.LessOrEqual(t, runs, 3, "noise may cross 134 °C on the way up or down")
		require.GreaterOrEqual(t, float64(hold)/60, exposure)
		require.Equal(t, 4, vacuum, "three pulses and the drying")
	}
	require.Greater(t, seen, 10)
}
