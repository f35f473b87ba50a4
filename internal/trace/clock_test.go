package trace

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// clockCase is a file by its times alone; temperatures rise by 0.1 °C a line.
type clockCase struct {
	name     string
	heading  string // of the time
	above    string // lines of a header
	times    string // parted by blanks; "a..b" with hh:mm:ss counts seconds
	clock    Clock
	until    float64 // s, the last reading from the first
	readings int
	aside    int
	causes   string // with lines: "gap:7"
	start    string
	step     float64 // the resolution
}

func (c clockCase) list() (list []string) {
	for _, f := range strings.Split(c.times, " ") {
		from, until, ok := strings.Cut(f, "..")
		if !ok {
			list = append(list, strings.ReplaceAll(f, "_", " "))
			continue
		}
		var a, b [3]int
		fmt.Sscanf(from, "%d:%d:%d", &a[0], &a[1], &a[2])
		fmt.Sscanf(until, "%d:%d:%d", &b[0], &b[1], &b[2])
		for s := a[0]*3600 + a[1]*60 + a[2]; s <= b[0]*3600+b[1]*60+b[2]; s++ {
			list = append(list, fmt.Sprintf("%02d:%02d:%02d", s/3600, s/60%60, s%60))
		}
	}
	return list
}

func (c clockCase) text() string {
	var b strings.Builder
	b.WriteString(c.above)
	fmt.Fprintf(&b, "%s;Temp [°C];P [kPa abs]\n", c.heading)
	for i, at := range c.list() {
		fmt.Fprintf(&b, "%s;%.1f;%.1f\n", at, 100+float64(i)/10, 150.0)
	}
	return b.String()
}

var clockCases = []clockCase{
	{name: "plain seconds", heading: "Time", times: "0 1 2 3 4 5", clock: Elapsed, until: 5, readings: 6},
	{name: "halves of a second", heading: "Time", times: "0.0 0.5 1.0 1.5 2.0", clock: Elapsed, until: 2, readings: 5},
	{name: "thousandths", heading: "Time (ms)", times: "0 500 1000 1500", clock: Elapsed, until: 1.5, readings: 4},
	{name: "parts of a day", heading: "Time [d]", times: "0.50000 0.50001 0.50002", clock: Elapsed, until: 1.728, readings: 3},
	{name: "minutes as numbers", heading: "Time [min]", times: "0 0.5 1.0 1.5", clock: Elapsed, until: 90, readings: 4},
	{name: "minutes by a word", heading: "Elapsed minutes", times: "0 1 2 3", clock: Elapsed, until: 180, readings: 4},
	{name: "mm:ss past 59", heading: "Time", times: "58:50 59:00 59:50 60:40 61:30", clock: Elapsed, until: 160, readings: 5},
	{name: "mm:ss by its course", heading: "Time", times: "00:00 00:10 00:20 00:30", clock: Elapsed, until: 30, readings: 4, causes: "time-form:2"},
	{name: "mm:ss by its heading", heading: "Time [mm:ss]", times: "05:00 05:10 05:20 05:30", clock: Elapsed, until: 30, readings: 4},
	{name: "hh:mm by its course", heading: "Time", times: "14:05 14:06 14:07", clock: OfDay, until: 120, readings: 3, causes: "time-form:2"},
	{name: "h:mm by its heading", heading: "Elapsed h:mm", times: "0:00 0:01 0:02", clock: Elapsed, until: 120, readings: 3},
	{name: "a clock of minutes", heading: "Time hh:mm", times: "14:05 14:05 14:05 14:06 14:06 14:06 14:07 14:07", clock: OfDay, until: 120, readings: 8, step: 60},
	{name: "hh:mm:ss from nought", heading: "Time", times: "0:00:00 0:00:01 0:00:02", clock: Elapsed, until: 2, readings: 3},
	{name: "midnight, by the header's date", above: "Date;2026-03-03\n", heading: "Time", times: "00:00:00 00:00:01 00:00:02", clock: OfDay, until: 2, readings: 3, start: "2026-03-03 00:00:00"},
	{name: "from nought, with a start", above: "Start: 2026-03-03 14:05\n", heading: "Time", times: "00:00:00 00:00:01 00:00:02", clock: Elapsed, until: 2, readings: 3, start: "2026-03-03 14:05"},
	{name: "from nought, start in two lines", above: "Date: 2026-03-03\nStart time: 14:05:09\n", heading: "Time", times: "00:00:00 00:00:01 00:00:02", clock: Elapsed, until: 2, readings: 3, start: "2026-03-03 14:05:09"},
	{name: "a header's date with a month's name", above: "Date: March 3, 2026\n", heading: "Time", times: "14:05:07 14:05:08", clock: OfDay, until: 1, readings: 2, start: "2026-03-03 14:05:07"},
	{name: "a header's date in figures proves its order", above: "Date: 31/03/2026\n", heading: "Time", times: "14:05:07 14:05:08", clock: OfDay, until: 1, readings: 2, start: "2026-03-31 14:05:07"},
	{name: "a header's date that could be two", above: "Date: 04/03/2026\n", heading: "Time", times: "14:05:07 14:05:08", clock: OfDay, until: 1, readings: 2, causes: "date-order:1"},
	{name: "day and time", heading: "Date/Time", times: "2026-03-03_14:05:07 2026-03-03_14:05:08", clock: Dated, until: 1, readings: 2, start: "2026-03-03 14:05:07"},
	{name: "day and time, RFC 3339", heading: "Timestamp", times: "2026-03-03T14:05:07.5Z 2026-03-03T14:05:08.0Z 2026-03-03T14:05:08.5Z", clock: Dated, until: 1, readings: 3, start: "2026-03-03 14:05:07"},
	{name: "with offsets over the change of clocks", heading: "Timestamp", times: "2026-10-25T02:59:58+02:00 2026-10-25T02:59:59+02:00 2026-10-25T02:00:00+01:00 2026-10-25T02:00:01+01:00", clock: Dated, until: 3, readings: 4, start: "2026-10-25 02:59:58"},
	{name: "day and time, ambiguous", heading: "Date Time", times: "03/04/2026_14:05:07 03/04/2026_14:05:08", clock: OfDay, until: 1, readings: 2, causes: "date-order:2"},
	{name: "day and time, day above twelve", heading: "Date Time", times: "31/03/2026_14:05:07 31/03/2026_14:05:08", clock: Dated, until: 1, readings: 2, start: "2026-03-31 14:05:07"},
	{name: "am and pm", heading: "Time", times: "11:59:59_am 12:00:00_pm 12:00:01_pm", clock: OfDay, until: 2, readings: 3},
	{name: "clock across midnight", heading: "Time", times: "23:59:57..23:59:59 00:00:00..00:00:05", clock: OfDay, until: 8, readings: 9},
	{name: "day and time across midnight", heading: "Date Time", times: "2026-12-31_23:59:59 2027-01-01_00:00:00 2027-01-01_00:00:01", clock: Dated, until: 2, readings: 3, start: "2026-12-31 23:59:59"},
	{name: "put back by an hour", heading: "Time", times: "02:59:50..02:59:59 02:00:00..02:00:09", clock: OfDay, until: 19, readings: 20, causes: "clock-back:12"},
	{name: "put forward by an hour", heading: "Time", times: "01:59:50..01:59:59 03:00:00..03:00:09", clock: OfDay, until: 19, readings: 20, causes: "clock-forward:12"},
	{name: "a gap", heading: "Time", times: "14:05:00..14:05:09 14:06:00..14:06:09", clock: OfDay, until: 69, readings: 20, causes: "gap:12"},
	{name: "just no gap", heading: "Time", times: "14:05:00..14:05:09 14:05:19..14:05:29", clock: OfDay, until: 29, readings: 21},
	{name: "another pace", heading: "Time", times: "14:05:00..14:05:09 14:06:00 14:07:00 14:08:00 14:09:00", clock: OfDay, until: 240, readings: 14},
	{name: "repeated once", heading: "Time", times: "14:05:00..14:05:09 14:05:09..14:05:20", clock: OfDay, until: 20, readings: 22, causes: "repeated:12"},
	{name: "one stray back", heading: "Time", times: "14:05:00..14:05:09 13:00:00 14:05:11..14:05:20", clock: OfDay, until: 20, readings: 20, aside: 1, causes: "stray:12"},
	{name: "one stray forward", heading: "Time", times: "14:05:00..14:05:09 16:00:00 14:05:11..14:05:20", clock: OfDay, until: 20, readings: 20, aside: 1, causes: "stray:12"},
	{name: "one stray of nought", heading: "Time", times: "14:05:00..14:05:09 00:00:00 14:05:11..14:05:20", clock: OfDay, until: 20, readings: 20, aside: 1, causes: "stray:12"},
	{name: "the last one stray", heading: "Time", times: "14:05:00..14:05:09 14:04:00", clock: OfDay, until: 9, readings: 10, aside: 1, causes: "stray:12"},
	{name: "set back for good", heading: "Time", times: "14:05:00..14:05:09 14:01:00..14:01:09", clock: OfDay, until: 19, readings: 20, causes: "clock-set:12"},
	{name: "elapsed, begun anew", heading: "Elapsed [s]", times: "0 1 2 3 4 5 6 7 8 9 10 11 12 0 1 2 3", clock: Elapsed, until: 12, readings: 13, aside: 4, causes: "second-table:15"},
	{name: "a slip of a stop watch at its start", heading: "Elapsed [s]", times: "0 1 2 3 4 2 3 4 5", clock: Elapsed, until: 8, readings: 9, causes: "clock-set:7"},
	{name: "never set", heading: "Date Time", times: "2000-01-01_00:00:07 2000-01-01_00:00:08 2000-01-01_00:00:09", clock: Dated, until: 2, readings: 3, causes: "clock-unset:2"},
	{name: "never set, 1970", heading: "Date Time", times: "1970-01-01_00:00:07 1970-01-01_00:00:08", clock: Dated, until: 1, readings: 2, causes: "clock-unset:2"},
	{name: "a time that cannot be read", heading: "Time", times: "14:05:00..14:05:09 14:xx:10 14:05:11..14:05:20", clock: OfDay, until: 20, readings: 20, aside: 1, causes: "time:12"},
	{name: "thousandths behind a colon", heading: "Time", times: "14:05:00:000 14:05:00:500 14:05:01:000", clock: OfDay, until: 1, readings: 3},
}

func TestClocks(t *testing.T) {
	for _, c := range clockCases {
		t.Run(c.name, func(t *testing.T) {
			tr, err := Read(strings.NewReader(c.text()), Options{Name: "x.csv", Points: 10})
			require.NoError(t, err)
			require.NoError(t, counted(tr, []byte(c.text())))
			require.Empty(t, tr.Unusable)
			require.Equal(t, c.causes, causes(tr))
			require.Equal(t, c.clock, tr.Clock)
			require.Equal(t, c.readings, tr.Readings)
			require.Equal(t, c.aside, tr.Aside)
			require.InDelta(t, c.until, tr.Cycle.Until, 1e-6)
			require.Equal(t, c.start, tr.Start.String())
			require.Equal(t, c.step, tr.Cycle.Setting.Resolution)
		})
	}
}

// causes lists what was met, with its first line.
func causes(tr *Trace) string {
	var list []string
	for _, p := range tr.Problems {
		list = append(list, fmt.Sprintf("%s:%d", p.Cause, p.Line))
	}
	return strings.Join(list, " ")
}
