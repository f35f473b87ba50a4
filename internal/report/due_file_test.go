package report

import (
	"bytes"
	"reflect"
	"strings"
	"testing"
	"unicode/utf8"

	"footing/internal/result"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// entry is an event as ical.js reads it.
type entry struct {
	UID, Summary, Description, On, Until, Stamp string
	Day                                         bool
	Sequence                                    int
	Alarms                                      []string
}

func entries(t *testing.T, texts ...[]byte) (out [][]entry) {
	t.Helper()
	list := make([]string, len(texts))
	for i := range texts {
		list[i] = string(texts[i])
	}
	node(t, "calendar.mjs", "ical.js", list, &out)
	require.Len(t, out, len(texts))
	return out
}

func dueOn(asOf string, list ...result.Due) *result.Result {
	return &result.Result{AsOf: asOf, Practice: result.Practice{Name: "Heron Lane; foot, care"}, Due: list}
}

// Outside source: ical.js, which reads the calendar.
func TestTheCalendarIsRead(t *testing.T) {
	all := entries(t, DueICS(full()))[0]
	require.Len(t, all, len(full().Due))
	first := all[1]
	require.Equal(t, "Runs out: first aid of P1", first.Summary)
	require.Equal(t, "2026-12-12", first.On)
	require.True(t, first.Day)
	require.Equal(t, "2026-12-13", first.Until) // an all-day entry without an end lasts that day (RFC 5545, 3.6.1)
	require.Contains(t, first.Description, "First aid of P1.\nRecord: credential CR-2.\nFirst: ask for the renewal, or book the course")
	require.True(t, strings.HasPrefix(first.Stamp, full().AsOf), first.Stamp)
	require.Equal(t, "Overdue: review of the exposure policy", all[0].Summary)
	require.Empty(t, all[0].Alarms)
	for _, e := range all {
		require.Empty(t, never.FindAllString(e.Summary+e.Description, -1))
	}
}

// Reminders at, just under and just over each limit, as ical.js works them out.
func TestReminders(t *testing.T) {
	for on, want := range map[string][]string{
		"2026-11-23": nil, // overdue
		"2026-11-24": nil, // the day of the audit
		"2026-11-25": {"2026-11-25T09:00:00"},
		"2026-11-27": {"2026-11-27T09:00:00"},
		"2026-11-28": {"2026-11-25T09:00:00"},
		"2026-12-08": {"2026-12-05T09:00:00"},
		"2026-12-09": {"2026-11-25T09:00:00", "2026-12-06T09:00:00"},
	} {
		state := "runs out"
		if on < "2026-11-24" {
			state = "overdue"
		}
		e := entries(t, DueICS(dueOn("2026-11-24", result.Due{On: on, Kind: "stock", What: "gowns", State: state})))[0][0]
		require.Len(t, e.Alarms, len(want), on)
		for i, at := range want {
			require.Equal(t, at+" DISPLAY Runs out: gowns", e.Alarms[i], on)
		}
	}
}

// A thing keeps its identifier when its day moves or another row takes its place; two
// alike do not share one; another practice has others.
func TestASecondCalendarMovesItsEntries(t *testing.T) {
	service := func(on, row string) result.Due {
		return result.Due{ID: on + row, On: on, Kind: "upkeep", Record: row, What: "service of S1", State: "runs out"}
	}
	gowns := func(on string) result.Due {
		return result.Due{On: on, Kind: "stock", What: "gowns at clinic", State: "runs out"}
	}
	r := dueOn("2026-11-24", service("2026-12-02", "U-9"), gowns("2026-12-03"), gowns("2027-01-03"))
	later := dueOn("2026-12-05", gowns("2027-01-03"), service("2027-12-02", "U-10"))
	elsewhere := dueOn("2026-11-24", service("2026-12-02", "U-9"))
	elsewhere.Practice.Name = "another"
	all := entries(t, DueICS(r), DueICS(later), DueICS(elsewhere))
	require.Equal(t, all[0][0].UID, all[1][1].UID)
	require.Less(t, all[0][0].Sequence, all[1][1].Sequence)
	require.Less(t, all[0][0].Stamp, all[1][1].Stamp)
	require.Equal(t, "2027-12-02", all[1][1].On)
	require.Equal(t, all[0][1].UID, all[1][0].UID)
	require.NotEqual(t, all[0][1].UID, all[0][2].UID)
	require.NotEqual(t, all[0][0].UID, all[2][0].UID)
}

func TestTheCalendarNamesNobody(t *testing.T) {
	r := dueOn("2026-11-24",
		result.Due{On: "2026-12-02", Kind: "credentials", Record: "CR-1", What: "liability cover of Ada Vale", State: "runs out"},
		result.Due{On: "2026-12-03", Kind: "consents", Record: "CO-1", What: "consent of C-0147", State: "runs out"},
		result.Due{On: "2026-12-04", Kind: "complaints", Record: "K-7 of C-0147", What: "reply to Bo Finch", State: "runs out"},
		result.Due{On: "2026-12-05", Kind: "policies", Record: "PO-1", What: "review of the policy of Di Swan", State: "runs out"})
	r.Findings = []result.Finding{{Subject: result.Subject{Kind: "people", ID: "Di Swan"}}}
	all := entries(t, DueICS(r))[0]
	require.Len(t, all, 4)
	require.Equal(t, "Runs out: liability cover of (a name, kept out of this report)", all[0].Summary)
	require.Equal(t, "Due: consent (see “What runs out” in the report)", all[1].Summary)
	require.Equal(t, "Due: complaint (see “What runs out” in the report)", all[2].Summary)
	for _, name := range []string{"Vale", "C-0147", "Finch", "Swan"} {
		require.NotContains(t, strings.ReplaceAll(string(DueICS(r)), "\r\n ", ""), name)
	}
}

// RFC 5545, section 3.1: lines of at most 75 octets, ended by CR LF, folded before a
// blank and within no character; 3.3.11: text as it was, whatever stands in it.
func TestAnyTextGivesAWholeCalendar(t *testing.T) {
	frame := DueICS(full())
	names := func(text []byte) (out []string) {
		for _, line := range strings.Split(strings.ReplaceAll(string(text), "\r\n ", ""), "\r\n") {
			name, _, _ := strings.Cut(line, ":")
			out = append(out, name)
		}
		return out
	}
	rapid.Check(t, func(t *rapid.T) {
		r := full()
		pool := rapid.SliceOfN(rapid.OneOf(hostile(), rapid.SampledFrom([]string{"\xff\xfe", "é" + strings.Repeat("漢", 200), strings.Repeat("x", 300), "\\n\\,;", "a\r\nEND:VCALENDAR\r\n", "BEGIN:VALARM"})), 5, 5).Draw(t, "texts")
		i := 0
		for d := range r.Due {
			for _, s := range []*string{&r.Due[d].ID, &r.Due[d].Record, &r.Due[d].What} {
				i++
				*s = pool[i%len(pool)]
			}
		}
		r.Practice.Name = pool[0]
		text := DueICS(r)
		require.True(t, utf8.Valid(text))
		require.True(t, bytes.HasSuffix(text, []byte("END:VCALENDAR\r\n")))
		lines := strings.Split(strings.TrimSuffix(string(text), "\r\n"), "\r\n")
		for _, line := range lines {
			require.LessOrEqual(t, len(line), 75)
			require.NotContains(t, line, "\r")
			require.NotContains(t, line, "\n")
			require.True(t, utf8.ValidString(line))
		}
		require.Equal(t, names(frame), names(text))
	})
}

// Outside source: ical.js, which gives hostile text back as it was.
func TestHostileCalendarsAreRead(t *testing.T) {
	r := full()
	replaceTexts(reflect.ValueOf(&r.Due).Elem(), func(s string) string {
		if _, ok := days(s, s); ok || s == "overdue" || s == "runs out" {
			return s
		}
		return nasty
	})
	all := entries(t, DueICS(r))[0]
	require.Len(t, all, len(r.Due))
	for _, e := range all {
		require.Contains(t, e.Summary, plain(nasty))
	}
}

func TestACalendarOfNothing(t *testing.T) {
	for _, r := range []*result.Result{{}, dueOn("2026-11-24"), dueOn("x", result.Due{On: "x"}), dueOn("x", result.Due{On: "2026-12-01", What: "x"})} {
		entries(t, DueICS(r))
	}
	require.Len(t, entries(t, DueICS(dueOn("x", result.Due{On: "2026-12-01", What: "x"})))[0], 1)
}
