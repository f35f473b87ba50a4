package practice

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"footing/internal/trace"
)

// A file of a test that is written is no load's, though a load began within ten minutes.
func TestPairingOfATest(t *testing.T) {
	p := read(t, "2026-06-01", map[string]string{
		"sterilizers.csv": twoSterilizers,
		"loads.csv":       "id,started,sterilizer,counter\nL1,2026-03-02 09:00,S1,12\nL2,2026-03-03 09:00,S1,15\n",
		"tests.csv": "kind,run_at,equipment,counter,load\nleak,2026-03-02 08:52,S1,,\nair-removal,2026-03-02 08:40,S1,11,\n" +
			"spore,2026-03-03 08:56,S1,,\nair-removal,2026-03-03 08:57,S2,,\nleak,2026-03-03 08:57,S1,,L2\nleak,2026-03-04,S1,,\n",
	})
	for _, c := range []struct {
		name    string
		counter int64
		start   string
		load    string
		test    bool
	}{
		{"as near to both", -1, "2026-03-02 08:56:30", "L1", false},
		{"nearer to the test", -1, "2026-03-02 08:55:59", "", true},
		{"nearer to the load", -1, "2026-03-02 08:59:00", "L1", false},
		{"the counter of a test", 11, "2026-03-02 09:00", "", true},
		{"the load's counter, nearer to the test", 12, "2026-03-02 08:52", "L1", false},
		{"near a spore test, which runs in a load; a test of another sterilizer, and one that names its load", -1, "2026-03-03 08:56", "L2", false},
		{"a test of that day without an hour", -1, "2026-03-04 09:00", "", false},
	} {
		h := trace.Header{Sterilizer: "S1", Counter: c.counter, Start: at(t, c.start)}
		got := &Traced{Trace: &trace.Trace{Name: "q.csv"}}
		p.Pairing([]string{"q.csv"}).Pair(got, &h)
		load := ""
		if got.Load != nil {
			load = Key(&got.Load.Row)
		}
		assert.Equal(t, c.load, load, c.name)
		assert.Equal(t, c.test, got.OfTest, c.name)
		assert.Equal(t, load == "", got.Why != "", c.name)
	}
}

// A load that names one of two files with the same base name is found by its start.
func TestPairingByStartOfTwoFolders(t *testing.T) {
	p := read(t, "2026-06-01", map[string]string{"sterilizers.csv": "id,method\nS1,steam\n", "loads.csv": "id,started,trace\nL1,2026-03-02 09:00,a.csv\nL2,2026-03-02 11:00,b.csv\n"})
	both := []string{"2025/a.csv", "2026/a.csv"}
	for file, want := range map[string]string{"2025/a.csv": "2025-03-02 09:01", "2026/a.csv": "2026-03-02 09:01"} {
		load, by, _, _ := paired(t, p, file, trace.Header{Counter: -1, Start: at(t, want)}, both...)
		assert.Equal(t, map[string]string{"2025/a.csv": " ", "2026/a.csv": "L1 start"}[file], load+" "+by, file)
	}
	load, _, _, _ := paired(t, p, "2026/a.csv", trace.Header{Counter: -1, Start: at(t, "2026-03-02 11:01")}, both...)
	assert.Empty(t, load, "a load that names another file")
}

// Loads of two sterilizers began near: which of them a file is of cannot be told,
// unless it says the sterilizer.
func TestPairingByStartOfTwoSterilizers(t *testing.T) {
	p := read(t, "2026-06-01", map[string]string{"sterilizers.csv": twoSterilizers, "loads.csv": "id,started,sterilizer\nL1,2026-03-02 09:00,S1\nL2,2026-03-02 09:05,S2\nL3,2026-03-02 12:00,S2\n"})
	for _, c := range []struct{ file, start, load string }{
		{"a.csv", "2026-03-02 09:05", ""},
		{"S1-a.csv", "2026-03-02 09:05", "L1"},
		{"S2-a.csv", "2026-03-02 09:05", "L2"},
		{"a.csv", "2026-03-02 12:05", "L3"},
		{"a.csv", "2026-03-02 09:15", "L2"},
	} {
		load, _, _, _ := paired(t, p, c.file, trace.Header{Counter: -1, Start: at(t, c.start)})
		assert.Equal(t, c.load, load, "%s %s", c.file, c.start)
	}
}

func TestDoubt(t *testing.T) {
	p := read(t, "2026-06-01", map[string]string{
		"sterilizers.csv": twoSterilizers,
		"loads.csv": "id,started,sterilizer,counter\nL1,2026-03-02 09:00,S1,12\nL2,2026-03-03 09:00,S1,\nL3,2026-03-03 09:18,S1,\n" +
			"L4,2026-03-04 09:00,S1,\nL5,2026-03-04 10:00,S1,\n",
	})
	long := func(o *Traced) bool { return o.Name == "long" }
	for _, c := range []struct {
		name, start string
		counter     int64
		other, as   string // another file that has no load
		doubt       string
	}{
		{"nothing", "2026-03-02 09:02", -1, "", "", ""},
		{"its own counter, which another file has too", "2026-03-02 09:02", 12, "", "", ""},
		{"another counter", "2026-03-02 09:02", 13, "", "", "it has another counter than the load"},
		{"two loads near", "2026-03-03 09:08", -1, "", "", "another load began within ten minutes of it too"},
		{"one load near", "2026-03-03 09:06", -1, "", "", ""},
		{"a file after it", "2026-03-02 08:52", -1, "2026-03-02 09:15", "long", "another file of the hour has no load, and shows a hold that is long enough"},
		{"an hour after the load, just", "2026-03-02 08:52", -1, "2026-03-02 10:00", "long", "another file of the hour has no load, and shows a hold that is long enough"},
		{"more than an hour after it", "2026-03-02 08:52", -1, "2026-03-02 10:12", "long", ""},
		{"a file after it that is short", "2026-03-02 08:52", -1, "2026-03-02 09:15", "short", ""},
		{"a file before it, as of a test", "2026-03-02 09:02", -1, "2026-03-02 08:25", "long", ""},
		{"a file an hour before a load", "2026-03-04 09:02", -1, "2026-03-04 08:03", "long", "with a clock that is an hour off it would be another load's, and a file of the day that has no load would have one"},
		{"a file an hour before the only load, as of a test", "2026-03-02 09:02", -1, "2026-03-02 08:03", "long", ""},
		{"a file an hour before a load on another day", "2026-03-04 09:02", -1, "2026-03-02 08:03", "long", ""},
	} {
		list := []*Traced{{Trace: &trace.Trace{Name: "file"}}}
		headers := []trace.Header{{Sterilizer: "S1", Counter: c.counter, Start: at(t, c.start)}}
		if c.other != "" {
			list, headers = append(list, &Traced{Trace: &trace.Trace{Name: c.as}}), append(headers, trace.Header{Sterilizer: "S1", Counter: -1, Start: at(t, c.other)})
		}
		for i, f := range list {
			f.Header = headers[i]
			if i == 0 {
				p.Pairing(nil).Pair(f, &headers[i])
			} else {
				f.Sterilizer, _ = p.Sterilizer("S1")
			}
		}
		q := p.WithTraces(list)
		assert.Equal(t, c.doubt, q.Doubt(list[0], long), c.name)
		if c.doubt != "" {
			list[0].By = "name"
			assert.Empty(t, q.Doubt(list[0], long), "%s: but named by its load", c.name)
		}
	}
}

// A counter that began anew names no cycle where the file has no date.
func TestDoubtOfACounter(t *testing.T) {
	for name, c := range map[string]struct {
		loads, upkeep, start string
		doubt                bool
	}{
		"rising":             {"L1,2026-03-02,11\nL2,2026-03-03,12\n", "", "", false},
		"the same":           {"L1,2026-03-02,12\nL2,2026-03-03,12.5\n", "", "", false},
		"set back":           {"L0,2026-03-01,400\nL1,2026-03-02,11\nL2,2026-03-03,12\n", "", "", true},
		"set back, a date":   {"L0,2026-03-01,400\nL1,2026-03-02,11\nL2,2026-03-03,12\n", "", "2026-03-03 09:00", false},
		"set back by upkeep": {"L1,2026-03-02,11\nL2,2026-03-03,12\n", "repair,2026-01-05,0\n", "", true},
		"upkeep without it":  {"L1,2026-03-02,11\nL2,2026-03-03,12\n", "repair,2026-01-05,\n", "", false},
	} {
		p := read(t, "2026-06-01", map[string]string{"sterilizers.csv": "id,method\nS1,steam\n", "loads.csv": "id,started,counter\n" + c.loads, "upkeep.csv": "task,done_on,counter_after\n" + c.upkeep})
		h := trace.Header{Counter: 12}
		if c.start != "" {
			h.Start = at(t, c.start)
		}
		got := &Traced{Trace: &trace.Trace{Name: "q.csv", Header: h}}
		p.Pairing(nil).Pair(got, &h)
		assert.Equal(t, "counter", got.By, name)
		assert.Equal(t, c.doubt, p.Doubt(got, nil) != "", name)
	}
}
