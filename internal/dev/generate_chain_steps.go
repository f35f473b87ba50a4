package dev

import "time"

// spore takes the next spore test that has a result.
func spore(b *breaker, r row) taking {
	if r["kind"] != "spore" || r["load"] == nil || r["result"] == "pending" {
		return notYet
	}
	return done
}

func sporeWith(change func(row)) func(*breaker, row) taking {
	return func(b *breaker, r row) taking {
		how := spore(b, r)
		if how == done {
			change(r)
		}
		return how
	}
}

func sporeFails(b *breaker, r row) taking {
	return sporeWith(func(r row) { r["result"] = "fail" })(b, r)
}

func dropSpore(b *breaker, r row) taking {
	if spore(b, r) == notYet {
		return notYet
	}
	return dropped
}

// dropAir leaves an air-removal test out, and its cycle with it.
func dropAir(b *breaker, r row) taking {
	if r["kind"] != "air-removal" {
		return notYet
	}
	b.machineOf(r).counter--
	return dropped
}

func leakHigh(b *breaker, r row) taking {
	if r["kind"] != "leak" {
		return notYet
	}
	r["leak_rate"] = "1.9 mbar/min"
	return done
}

// repeatTonight runs the repeats of a failed test at the end of its day; they are read
// a day later, and until then the sterilizers are out of use.
func repeatTonight(b *breaker, r row) taking {
	if r["task"] != "end-of-day" {
		return notYet
	}
	b.repeatTests(&b.sterilizer[0], at(b.today, 18*60))
	b.rest(1)
	return done
}

func released(change func(b *breaker, r row) bool) func(*breaker, row) taking {
	return func(b *breaker, r row) taking {
		if r["decision"] != "released" || !change(b, r) {
			return notYet
		}
		return done
	}
}

// hole leaves so many numbers of the counter out before a load.
func hole(n int) func(*breaker, row) taking {
	return released(func(b *breaker, r row) bool {
		b.machineOf(r).counter += n
		r["counter"] = r["counter"].(int) + n
		return true
	})
}

// repeatCounter gives a load the number of one of the day before.
func repeatCounter(b *breaker, r row) bool {
	if b.morning == nil || b.morning["sterilizer"] != r["sterilizer"] || sameDay(b.morning.at("started"), r.at("started")) {
		return false
	}
	r["counter"] = b.morning["counter"]
	return true
}

// overlap lets a load begin while the one before it on the day still runs.
func overlap(b *breaker, r row) bool {
	if b.load == nil || b.load["sterilizer"] != r["sterilizer"] || !sameDay(b.load.at("started"), r.at("started")) {
		return false
	}
	r["started"] = moment(b.load.at("ended").Add(-20 * time.Minute))
	return true
}

// rejectOne writes a load that was rejected, early in the morning, before the first of the day.
func rejectOne(b *breaker, r row) taking {
	first := b.load == nil || !sameDay(b.load.at("started"), b.today)
	if r["decision"] != "released" || !first {
		return notYet
	}
	early := at(b.today, 7*60+42)
	b.kept = b.next("L", 5)
	b.put("loads", row{"id": b.kept, "started": moment(early), "sterilizer": r["sterilizer"], "counter": r["counter"], "program": r["program"], "ended": moment(at(early, 16)),
		"wrapped": true, "outside_indicator": "none", "printout": true, "loaded_by": r["loaded_by"], "released_by": r["loaded_by"], "released_at": moment(at(early, 20)),
		"decision": "rejected", "fault": "stopped by the sterilizer, water low"})
	return hole(1)(b, r)
}

// burnNumber leaves an id of loads out of the log.
func burnNumber(b *breaker, r row) taking {
	b.kept = b.next("L", 5)
	return done
}

// opened takes the next pack that was opened at a visit to the clinic.
func opened(change func(b *breaker, r row)) func(*breaker, row) taking {
	return func(b *breaker, r row) taking {
		if r["opened_at"] == nil {
			return notYet
		}
		change(b, r)
		return done
	}
}

// fromKept lets a pack name the load that was kept.
func fromKept(b *breaker, r row) taking {
	return opened(func(b *breaker, r row) { r["load"] = b.kept })(b, r)
}

// openedEarly lets a pack name a load that still ran when it was opened.
func openedEarly(b *breaker, r row) taking {
	if r["opened_at"] == nil || b.load.at("ended").Sub(r.at("opened_at")) < 20*time.Minute {
		return notYet
	}
	r["load"] = b.load["id"]
	return done
}

// alsoElsewhere puts a piece into a pack that lies in another of the same load, still closed.
func alsoElsewhere(b *breaker, r row) taking {
	if r["opened_at"] == nil {
		return notYet
	}
	for i, k := range b.shelf {
		if i > 2 && k.load == r["load"] { // far enough back not to be used on the same day
			r["instruments"] = append(r.list("instruments"), instrument(k.set, len(setOf)-1))
			return done
		}
	}
	return notYet
}

// countNone lets a count of the shelf find nothing.
func countNone(b *breaker, r row) taking {
	if r["item"] != "sterile-pack" || r["site"] != clinic {
		return notYet
	}
	r["quantity"] = 0
	return done
}

// countNoneAndRest does so on an evening after which nothing is sterilized for two
// days, so that more is used than was counted and made.
func countNoneAndRest(b *breaker, r row) taking {
	how := countNone(b, r)
	if how == done {
		b.rest(2)
	}
	return how
}

// rest takes the sterilizers out of use for the next working days.
func (b *breaker) rest(days int) {
	for d := b.today; days > 0; {
		d = d.AddDate(0, 0, 1)
		if d.Weekday() != time.Saturday && d.Weekday() != time.Sunday {
			b.idleUntil = d
			days--
		}
	}
}

func visited(change func(b *breaker, r row) bool) func(*breaker, row) taking {
	return func(b *breaker, r row) taking {
		if r["status"] != "done" || r["site"] != clinic || len(r.list("packs")) != 1 || !change(b, r) {
			return notYet
		}
		return done
	}
}

// again lets a visit name a pack that another client had the day before.
func (b *breaker) again(r row) bool {
	if b.before == nil || b.before["client"] == r["client"] {
		return false
	}
	r["packs"] = b.before.list("packs")
	return true
}

// laterVisit names, for another client on a later day, the pack that was kept.
func laterVisit(b *breaker, r row) taking {
	return visited(func(b *breaker, r row) bool {
		if r["client"] == b.owner || sameDay(b.today, b.stepped) {
			return false
		}
		r["packs"] = []string{b.kept}
		return true
	})(b, r)
}

// tooSoon lets a visit use an instrument of one that ended less than an hour before it.
func tooSoon(b *breaker, r row) bool {
	for _, v := range b.visits {
		if gap := r.at("started").Sub(v.at("ended")); gap > 0 && gap < 45*time.Minute && v["client"] != r["client"] {
			r["instruments"] = append(r.list("instruments"), v.list("instruments")[0])
			return true
		}
	}
	return false
}

// notTheirs lets a visit use the tool of another client.
func notTheirs(b *breaker, r row) bool {
	if b.tool == nil || b.tool["owner"] == r["client"] {
		return false
	}
	r["instruments"] = append(r.list("instruments"), b.tool.text("id"))
	return true
}
