package dev

import (
	"fmt"
	"slices"
	"time"
)

// chainStep is one change of one row as it is written. Change reports done once it has
// found its row; a row that it drops is not written. Fault, if any, is noted at that row.
type chainStep struct {
	fault, kind string
	change      func(b *breaker, r row) taking
}

type taking int

const (
	notYet  taking = iota // not this row: ask again with the next
	done                  // and the row is written, changed or not
	dropped               // done, and the row is not written
)

// breaker breaks the chain of a made practice, one flaw after another, days apart.
type breaker struct {
	*maker
	flaws      [][]chainStep // planted in turn
	flaw, step int
	due        time.Time // not before this day
	today      time.Time
	stepped    time.Time // day of the last step
	idleUntil  time.Time // the sterilizers are out of use

	load, morning row            // the last released load, and that before it of an earlier day
	loads         map[string]row // written
	visits        []row          // of today, that took place
	before        row            // the last visit of the day before that names a pack
	kept, owner   string         // what one step leaves for the next: a record's id, a client
	tool          row            // the last that came of clients' own
}

const chainFlawEvery = 6 // days at least between two flaws

// begin takes a new day up.
func (b *breaker) begin(d time.Time) {
	b.today, b.morning = d, b.load
	if n := len(b.visits); n > 0 {
		b.before = b.visits[n-1]
	}
	b.visits = nil
	if b.due.IsZero() {
		b.due = d.AddDate(0, 0, 21) // the first sets go round
	}
}

// passes changes a row before it is written; false drops it.
func (b *breaker) passes(kind string, r row) bool {
	written := true
	flaw := b.flaws[b.flaw%len(b.flaws)]
	// The last weeks stay whole, so that each flaw has what follows from it.
	if at := flaw[b.step]; at.kind == kind && (b.step > 0 || !b.today.Before(b.due) && b.last.Sub(b.today) > 45*24*time.Hour) {
		how := at.change(b, r)
		written = how != dropped
		if how != notYet && at.fault != "" {
			b.planted = append(b.planted, Planted{Fault: at.fault, Kind: kind, ID: fmt.Sprint(r["id"])})
		}
		if how != notYet {
			b.stepped = b.today
			if b.step++; b.step == len(flaw) {
				b.flaw, b.step = b.flaw+1, 0
				b.due = b.today.AddDate(0, 0, chainFlawEvery)
			}
		}
	}
	b.see(kind, r, written)
	return written
}

// see remembers what later flaws need of the rows.
func (b *breaker) see(kind string, r row, written bool) {
	switch {
	case !written:
	case kind == "loads":
		b.loads[r.text("id")] = r
		if r["decision"] == "released" {
			b.load = r
		}
	case kind == "visits" && r["status"] == "done" && len(r.list("packs")) == 1:
		b.visits = append(b.visits, r)
	case kind == "instruments" && r["owner"] != nil:
		b.tool = r
	}
}

func (r row) text(field string) string   { s, _ := r[field].(string); return s }
func (r row) list(field string) []string { l, _ := r[field].([]string); return l }

// at is a moment that was written.
func (r row) at(field string) time.Time {
	t, err := time.Parse("2006-01-02 15:04", r.text(field))
	if err != nil {
		panic(err) // the generator wrote it
	}
	return t
}

// machineOf is the sterilizer that a row names.
func (b *breaker) machineOf(r row) *machine {
	id := r.text("sterilizer") + r.text("equipment")
	return &b.sterilizer[slices.IndexFunc(b.sterilizer, func(s machine) bool { return s.id == id })]
}

// idle reports whether the sterilizers are out of use.
func (b *breaker) idle(d time.Time) bool { return b != nil && !d.After(b.idleUntil) }

// chainFlaws are planted in turn. What each is found as stands in the test.
var chainFlaws = [][]chainStep{
	{{"", "tests", dropSpore}, {"spore-skipped", "tests", spore}},
	{{"indicator-failed", "packs", opened(func(b *breaker, r row) { r["inside_indicator"] = "fail" })}},
	{{"torn", "packs", opened(func(b *breaker, r row) { r["condition"] = "torn" })}},
	{{"label-incomplete", "packs", opened(func(b *breaker, r row) { r["label"] = []string{"initials", "contents", "use-by"} })}},
	{{"spore-early", "tests", sporeWith(func(r row) { r["read_at"] = moment(r.at("incubated_at").Add(10 * time.Hour)) })}},
	{{"hole-1", "loads", hole(1)}},
	{{"visit-no-pack", "visits", visited(func(b *breaker, r row) bool { delete(r, "packs"); return true })}},
	{{"spore-no-control", "tests", sporeWith(func(r row) { r["control"] = "not-run" })}},
	{{"leak-high", "tests", leakHigh}},
	{{"spore-expired", "tests", sporeWith(func(r row) { r["lot_expires_on"] = day(r.at("run_at").AddDate(0, 0, -1)) })}},
	{{"pack-twice", "visits", visited(func(b *breaker, r row) bool { return b.again(r) })}},
	{{"", "tests", dropAir}, {"air-skipped", "loads", released(func(b *breaker, r row) bool { return true })}},
	{{"spore-failed-repeated", "tests", sporeWith(func(r row) {
		r["result"], r["read_at"] = "fail", day(r.at("run_at"))+" 17:30"
	})}, {"", "housekeeping", repeatTonight}},
	{{"hole-5", "loads", hole(5)}},
	{{"opened-early", "packs", openedEarly}},
	{{"", "loads", rejectOne}, {"rejected-used", "packs", fromKept}},
	{{"", "loads", burnNumber}, {"load-absent", "packs", fromKept}},
	{{"spore-failed-used", "tests", sporeFails}},
	{{"counter-repeated", "loads", released(repeatCounter)}},
	{{"overlap", "loads", released(overlap)}},
	{{"", "stock", countNoneAndRest}, {"used-more", "visits", visited(func(b *breaker, r row) bool { return sameDay(b.today, b.idleUntil) })}, {"", "stock", countNone}},
	{{"too-soon", "visits", visited(tooSoon)}},
	{{"two-packs", "packs", alsoElsewhere}},
	{{"single-use", "packs", opened(func(b *breaker, r row) {
		id := b.next("I-cap", 2)
		b.put("instruments", row{"id": id, "kind": "sanding-cap", "hinged": false, "hollow": false, "heat_safe": true, "reuse": "single-use", "touches": "intact-skin", "site": clinic})
		r["instruments"] = append(r.list("instruments"), id)
	})}},
	{{"owner", "visits", visited(notTheirs)}},
	{{"visit-no-pack", "visits", visited(func(b *breaker, r row) bool {
		b.kept, b.owner = r.list("packs")[0], r.text("client")
		delete(r, "packs")
		return true
	})}, {"pack-twice-unwritten", "visits", laterVisit}},
	{{"spore-failed-before-skipped", "tests", sporeFails}, {"", "tests", dropSpore}, {"spore-skipped", "tests", spore}},
}
