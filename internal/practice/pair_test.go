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

// With no sterilizer typed, or none in the load's row, the load may be any one's.
func TestPairingWithoutSterilizers(t *testing.T) {
	loads := "id,started,sterilizer,counter\nL1,2026-03-02 09:00,,11\nL2,2026-03-02 12:00,,12\n"
	counter := trace.Header{Counter: 12}
	start := trace.Header{Counter: -1, Start: at(t, "2026-03-02 09:02")}
	for name, sterilizers := range map[string]string{"none": "id,method\n", "two": twoSterilizers} {
		p := read(t, "2026-06-01", map[string]string{"sterilizers.csv": sterilizers, "loads.csv": loads})
		load, by, _, _ := paired(t, p, "q.csv", counter)
		assert.Equal(t, "L2 counter", load+" "+by, name)
		load, by, _, _ = paired(t, p, "q.csv", start)
		assert.Equal(t, "L1 start", load+" "+by, name)
	}
	p := read(t, "2026-06-01", map[string]string{"sterilizers.csv": twoSterilizers, "loads.csv": "id,started,sterilizer,counter\nL1,2026-03-02 09:00,S9,11\n"})
	load, _, _, _ := paired(t, p, "S1-11.csv", trace.Header{Counter: 11, Start: at(t, "2026-03-02 09:02")})
	assert.Empty(t, load, "a load of another sterilizer, though that one is not typed")
}

// The file of a load after the day of the audit is as little seen as the load, even
// where the file itself has no date.
func TestPairingWithALaterLoad(t *testing.T) {
	p := read(t, "2026-03-31", map[string]string{
		"practice.yaml":   "{name: A, regulator: B, time_zone: America/Halifax}",
		"sterilizers.csv": "id,method\nS1,steam\n",
		"loads.csv":       "id,started,sterilizer,counter,trace\nL1,2026-03-31 09:00,S1,11,\nL2,2026-04-01 09:00,,12,\nL3,2026-04-02 09:00,S1,13,c.csv\n",
	})
	for file, want := range map[string]struct {
		h     trace.Header
		load  string
		after bool
	}{
		"a.csv": {trace.Header{Counter: 11}, "L1", false},
		"b.csv": {trace.Header{Counter: 12}, "", true},
		"c.csv": {trace.Header{Counter: -1}, "", true},
		"d.csv": {trace.Header{Counter: -1}, "", false},
		"e.csv": {trace.Header{Counter: -1, Start: at(t, "2026-04-01 00:00")}, "", true},
		"f.csv": {trace.Header{Counter: 11, Start: at(t, "2026-04-01 08:59")}, "L1", false},
	} {
		got := &Traced{Trace: &trace.Trace{Name: file}}
		p.Pairing([]string{file}).Pair(got, &want.h)
		load := ""
		if got.Load != nil {
			load = Key(&got.Load.Row)
		}
		assert.Equal(t, want.load, load, file)
		assert.Equal(t, want.after, got.After, file)
		assert.Equal(t, load == "", got.Why != "", file)
	}
}

// A sterilizer whose id is a bare number is not named by every file with that number.
func TestPairingWithNumbersForIDs(t *testing.T) {
	p := read(t, "2026-06-01", map[string]string{"sterilizers.csv": "id,method\n1,steam\n2,steam\n", "loads.csv": "id,started,sterilizer,counter\nL1,2026-03-02 09:00,2,1\n"})
	for file, want := range map[string]string{"cycle 1.csv": "", "2026-03-02 export.csv": "", "2/1.csv": "2", "2/a.csv": "2", "1-00011.csv": "1", "x/2_7.csv": "2"} {
		_, _, sterilizer, _ := paired(t, p, file, trace.Header{Counter: -1})
		assert.Equal(t, want, sterilizer, file)
	}
}

// Whose columns a file has must be known before it is read: by its load, its path, or
// since there is only one sterilizer.
func TestWhoseFile(t *testing.T) {
	loads := "id,started,sterilizer,trace\nL1,2026-03-02 09:00,S1,a.csv\nL2,2026-03-02 12:00,,b.csv\n"
	two := read(t, "2026-06-01", map[string]string{"sterilizers.csv": twoSterilizers, "loads.csv": loads}).Pairing(nil)
	one := read(t, "2026-06-01", map[string]string{"sterilizers.csv": "id,method\nS1,steam\n", "loads.csv": loads}).Pairing(nil)
	for file, want := range map[string][2]string{"a.csv": {"S1", "S1"}, "S2/a.csv": {"S2", "S1"}, "b.csv": {"", "S1"}, "S2-7.csv": {"S2", "S1"}, "x.csv": {"", "S1"}} {
		assert.Equal(t, want, [2]string{two.Naming(file), one.Naming(file)}, file)
	}
}
