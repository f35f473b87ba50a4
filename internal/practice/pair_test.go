package practice

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"footing/internal/quantity"
	"footing/internal/trace"
)

// paired is what one file with a header comes to in a folder of records: the load,
// how it was found, the sterilizer.
func paired(t *testing.T, p *Practice, file string, h trace.Header, others ...string) (load, by, sterilizer, why string) {
	t.Helper()
	got := &Traced{Trace: &trace.Trace{Name: file}}
	p.Pairing(append(others, file)).Pair(got, &h)
	if got.Load != nil {
		load = Key(&got.Load.Row)
	}
	if got.Sterilizer != nil {
		sterilizer = Key(&got.Sterilizer.Row)
	}
	return load, got.By, sterilizer, got.Why
}

func at(t *testing.T, text string) quantity.Moment {
	t.Helper()
	m, err := quantity.ParseMoment(text, quantity.ISO, nil)
	require.NoError(t, err)
	return m
}

const twoSterilizers = "id,method\nS1,steam\nS2,steam\n"

func TestPairing(t *testing.T) {
	p := read(t, "2026-06-01", map[string]string{
		"practice.yaml":   "{name: A, regulator: B, time_zone: America/Halifax}",
		"sterilizers.csv": twoSterilizers,
		"programs.csv":    "id,sterilizer,name,temperature,exposure\nG1,S1,Wrapped,134 °C,4 min\nG2,S2,Wrapped,134 °C,4 min\n",
		"loads.csv": "id,started,sterilizer,counter,trace,program\n" +
			"L1,2026-03-02 09:00,S1,11,2026/a.csv,G1\n" +
			"L2,2026-03-02 12:00,S1,12,,wrapped\n" +
			"L3,2026-03-02 15:00,S2,12,,\n" +
			"L4,2026-03-03 09:00,S1,13,,\n" +
			"L5,2026-03-03,S1,14,,\n" +
			"L6,2026-03-04 09:00,S2,13,b,\n" +
			"L7,2026-03-04 11:00,S2,20,twice.csv,\n" +
			"L8,2026-03-04 13:00,S2,21,twice.csv,\n" +
			"L9,2026-03-05 09:00,S1,30,,\n" +
			"L10,2026-03-05 09:08,S1,31,,\n",
	})
	none := trace.Header{Counter: -1}
	with := func(sterilizer string, counter int64, start string, inName ...int64) trace.Header {
		h := trace.Header{Sterilizer: sterilizer, Counter: counter, NameCounters: inName}
		if start != "" {
			h.Start = at(t, start)
		}
		return h
	}
	for _, c := range []struct {
		name, file string
		h          trace.Header
		load, by   string
		sterilizer string
	}{
		{"named by its path", "2026/a.csv", none, "L1", "name", "S1"},
		{"named in other letters", "2026/A.CSV", none, "L1", "name", "S1"},
		{"named by its base name without ending", "x/b.csv", none, "L6", "name", "S2"},
		{"named by two loads", "twice.csv", with("S2", 20, "2026-03-04 11:00"), "", "", "S2"},
		{"counter of the header", "q.csv", with("S1", 12, "2026-03-02 12:01"), "L2", "counter", "S1"},
		{"counter of the header, no date", "q.csv", with("s-1", 12, ""), "L2", "counter", "S1"},
		{"counter that two sterilizers have, no sterilizer said, the day tells", "q.csv", with("", 13, "2026-03-04 09:02"), "L6", "counter", "S2"},
		{"counter that two sterilizers have and nothing tells", "q.csv", with("", 12, ""), "", "", ""},
		{"counter of a load more than a day off", "q.csv", with("S1", 12, "2025-03-02 12:00"), "", "", "S1"},
		{"a day off, just", "q.csv", with("S1", 12, "2026-03-03 12:00"), "L2", "counter", "S1"},
		{"counter in the name", "S1-00012.csv", with("", -1, "2026-03-02 12:01", 12, 1), "L2", "counter", "S1"},
		{"number in the name that is another load's of another day", "S1/13.csv", with("", -1, "2026-03-02 12:03", 13), "L2", "start", "S1"},
		{"start within ten minutes", "q.csv", with("S1", -1, "2026-03-02 12:10:59"), "L2", "start", "S1"},
		{"start just over ten minutes", "q.csv", with("S1", -1, "2026-03-02 12:11:00"), "", "", "S1"},
		{"start before, within ten minutes", "q.csv", with("S1", -1, "2026-03-02 11:50:00"), "L2", "start", "S1"},
		{"start before, just over", "q.csv", with("S1", -1, "2026-03-02 11:49:59"), "", "", "S1"},
		{"start of a load that names another file", "q.csv", with("S1", -1, "2026-03-02 09:00"), "", "", "S1"},
		{"start near two loads: the nearer", "q.csv", with("S1", -1, "2026-03-05 09:02"), "L9", "start", "S1"},
		{"start as near to two loads", "q.csv", with("S1", -1, "2026-03-05 09:04"), "", "", "S1"},
		{"start, sterilizer not said, one load near", "q.csv", with("", -1, "2026-03-02 15:03"), "L3", "start", "S2"},
		{"a sterilizer that is not in the records", "q.csv", with("S9", -1, "2026-03-02 15:03"), "L3", "start", "S2"},
		{"no clock", "q.csv", with("S1", -1, "2026-03-03"), "", "", "S1"},
	} {
		t.Run(c.name, func(t *testing.T) {
			load, by, sterilizer, why := paired(t, p, c.file, c.h)
			assert.Equal(t, []string{c.load, c.by, c.sterilizer}, []string{load, by, sterilizer})
			assert.Equal(t, load == "", why != "", "without a load it is said why: %q", why)
		})
	}
}

func TestPairingOfTheProgram(t *testing.T) {
	p := read(t, "2026-06-01", map[string]string{
		"sterilizers.csv": twoSterilizers,
		"programs.csv":    "id,sterilizer,name,temperature,exposure\nG1,S1,Wrapped,134 °C,4 min\nG2,S2,Wrapped,134 °C,4 min\nG3,S1,Solid,134 °C,3 min\n",
		"loads.csv":       "id,started,sterilizer,trace,program\nL1,2026-03-02 09:00,S1,a,G1\nL2,2026-03-02 12:00,S2,b, wrapped\nL3,2026-03-02 15:00,S1,c,\nL4,2026-03-02 17:00,S1,d,G2\n",
	})
	for file, want := range map[string]string{"a.csv": "G1", "b.csv": "G2", "c.csv": "G3", "d.csv": "", "e.csv": ""} {
		got := &Traced{Trace: &trace.Trace{Name: file}}
		p.Pairing([]string{file}).Pair(got, &trace.Header{Counter: -1, Program: "solid"})
		id := ""
		if got.Program != nil {
			id = Key(&got.Program.Row)
		}
		assert.Equal(t, want, id, file)
	}
}

// One base name in two folders: a load that gives only the base name means neither.
func TestPairingByBaseName(t *testing.T) {
	p := read(t, "2026-06-01", map[string]string{"sterilizers.csv": twoSterilizers, "loads.csv": "id,started,sterilizer,trace\nL1,2026-03-02 09:00,S1,a.csv\n"})
	load, _, _, _ := paired(t, p, "2026/a.csv", trace.Header{Counter: -1})
	assert.Equal(t, "L1", load)
	load, _, _, _ = paired(t, p, "2026/a.csv", trace.Header{Counter: -1}, "2025/a.csv")
	assert.Empty(t, load)
}
