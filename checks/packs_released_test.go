package checks

import (
	"fmt"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"footing/internal/chain"
	"footing/internal/practice"
	"footing/internal/quantity"
)

// packsMinute is a moment so many minutes after a midnight, with its hour or without.
func packsMinute(t require.TestingT, minute int, hour bool) quantity.Moment {
	at := time.Date(2026, time.March, 2, 0, 0, 0, 0, time.UTC).Add(time.Duration(minute) * time.Minute)
	text := at.Format("2006-01-02 15:04")
	if !hour {
		text = at.Format("2006-01-02")
	}
	m, err := quantity.ParseMoment(text, quantity.ISO, time.UTC)
	require.NoError(t, err)
	return m
}

// Of a pack that was truly used after its load, by a visit of any length up to the
// longest, whatever part of its hours is written and however far its clocks are off
// within the tolerance, nothing says that it was used too early. Clocks are set back or
// forward within a day, so days themselves are as written.
func TestPacksEarlyNeverAccusesWhatIsInOrder(t *testing.T) {
	h := packsHours{clock: chain.Clock{Tolerance: quantity.Exact(10, quantity.Minute)}, visit: chain.Clock{Tolerance: quantity.Exact(190, quantity.Minute)}}
	rapid.Check(t, func(rt *rapid.T) {
		const early, late = 5 * 60, 18 * 60 // minutes of the day between which a practice works
		end := rapid.IntRange(early, late).Draw(rt, "end")
		opened := end + rapid.IntRange(0, 300).Draw(rt, "after")
		started := opened - rapid.IntRange(0, 170).Draw(rt, "into the visit")
		ended := min(opened+rapid.IntRange(0, 60).Draw(rt, "left"), started+180)
		off := rapid.IntRange(-9, 9).Draw(rt, "clock")
		hour := rapid.Bool()
		var v practice.Visit
		var k practice.Pack
		v.Started = packsMinute(rt, started+off, hour.Draw(rt, "start has an hour"))
		u := packsUse{pack: &k, visit: &v, used: quantity.Yes}
		if rapid.Bool().Draw(rt, "end of the visit written") {
			v.Ended = packsMinute(rt, ended+off, hour.Draw(rt, "it has an hour"))
		}
		if rapid.Bool().Draw(rt, "opening written") {
			k.OpenedAt = packsMinute(rt, opened+off, hour.Draw(rt, "it has an hour too"))
		}
		at := packsMinute(rt, end, hour.Draw(rt, "the load's end has an hour"))
		if h.early(u, at) {
			rt.Fatalf("opened %v, visit %v to %v: said to lie before %v", k.OpenedAt, v.Started, v.Ended, at)
		}
	})
}

// What is early is never late, and stays early for each later end.
func TestPacksEarlyAndLate(t *testing.T) {
	h := packsHours{clock: chain.Clock{Tolerance: quantity.Exact(10, quantity.Minute)}, visit: chain.Clock{Tolerance: quantity.Exact(190, quantity.Minute)}}
	rapid.Check(t, func(rt *rapid.T) {
		draw := func(name string) quantity.Moment {
			return packsMinute(rt, rapid.IntRange(0, 4000).Draw(rt, name), rapid.Bool().Draw(rt, name+" has an hour"))
		}
		v := practice.Visit{Started: draw("started")}
		k := practice.Pack{OpenedAt: draw("opened")}
		u := packsUse{pack: &k, used: quantity.Yes}
		if rapid.Bool().Draw(rt, "a visit names it") {
			u.visit = &v
		}
		minute := rapid.IntRange(0, 4000).Draw(rt, "end")
		if !h.early(u, packsMinute(rt, minute, true)) {
			return
		}
		if h.late(u, packsMinute(rt, minute, true)) {
			rt.Fatal(fmt.Sprint("both early and late: ", k.OpenedAt, v.Started, minute))
		}
		if !h.early(u, packsMinute(rt, minute+rapid.IntRange(1, 2000).Draw(rt, "later"), true)) {
			rt.Fatal("early, and not for a later end")
		}
	})
}
