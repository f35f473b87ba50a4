package chain

import (
	"math"
	"slices"

	"footing/internal/practice"
	"footing/internal/quantity"
)

// What follows works look-backs out from nothing but the text of the rules, load by
// load and proof by proof. It shares with the code under test AssayOf, FateOf, the
// comparison of two moments and the reading of sets, which have tables of their own.

// bruteProof is one proof: what it is, the earliest and latest time at which it can
// stand, whether the log of the sterilizer tells that, and the loads it shows by itself.
type bruteProof struct {
	kind        ProofKind
	worth       Worth
	label       string
	first, last quantity.Moment
	ownA, ownB  bool
	day         quantity.Day // of kinds that have no time of day
	ran         []*practice.Load
	test        *practice.Test
	named       bool
}

func (p bruteProof) from() quantity.Day {
	if p.first.Written() {
		return p.first.Day()
	}
	return p.day
}

type brute struct {
	p     *practice.Practice
	key   string
	s     *practice.Sterilizer
	terms Terms
}

// mine: 2 names the sterilizer, 1 may be of it, 0 is of another.
func (b brute) mine(id string) int {
	if id == b.key {
		return 2
	}
	if id != "" {
		for i := range b.p.Sterilizers {
			if practice.Key(&b.p.Sterilizers[i].Row) == id {
				return 0
			}
		}
	}
	return 1
}

func (b brute) sooner(x quantity.Moment, ownX bool, y quantity.Moment, ownY bool) bool {
	if ownX && ownY {
		return quantity.Before(x, y) == quantity.Yes
	}
	return b.terms.Clock.Before(x, y) == quantity.Yes
}

func (b brute) ofTest(t *practice.Test) bruteProof {
	q := bruteProof{kind: Spores, worth: AssayOf(t).Worth, label: t.Row.Label(), first: t.RunAt, last: t.RunAt, test: t}
	var named []*practice.Load
	for i := range b.p.Loads {
		if l := &b.p.Loads[i]; t.Load != "" && practice.Key(&l.Row) == t.Load {
			named = append(named, l)
		}
	}
	if len(named) != 1 || b.mine(named[0].Sterilizer) == 0 {
		named = nil
		for i := range b.p.Loads {
			l := &b.p.Loads[i]
			if t.Counter.Written && l.Sterilizer == b.key && l.Counter == t.Counter && l.Started.Day() == t.RunAt.Day() {
				named = append(named, l)
			}
		}
	}
	if len(named) == 1 && named[0].Started.Day() <= t.RunAt.Day() {
		l := named[0]
		q.first, q.ownA, q.ran, q.named = l.Started, b.mine(l.Sterilizer) == 2, []*practice.Load{l}, true
		if l.Started.Day() == t.RunAt.Day() {
			q.last, q.ownB = q.first, q.ownA
		}
		return q
	}
	for i := range b.p.Loads {
		l := &b.p.Loads[i]
		if l.Sterilizer != b.key || !l.Started.HasClock() || !t.RunAt.HasClock() || l.Started.Day() != t.RunAt.Day() {
			continue
		}
		inside := l.Ended.HasClock() && l.Started.First() <= t.RunAt.First() && t.RunAt.Last() <= l.Ended.Last()
		if inside || l.Started.String() == t.RunAt.String() {
			q.ran = append(q.ran, l)
		}
	}
	return q
}

func (b brute) proofs() (all []bruteProof, failed []bruteProof) {
	for i := range b.p.Tests {
		t := &b.p.Tests[i]
		of := b.mine(b.p.EquipmentOf(t))
		switch {
		case t.Type != "spore":
		case t.Result == "fail" && of > 0:
			failed = append(failed, b.ofTest(t))
		case of == 2 && AssayOf(t).Worth > Nothing:
			all = append(all, b.ofTest(t))
		}
	}
	for i := range b.p.Loads {
		l := &b.p.Loads[i]
		if l.Sterilizer == b.key && l.Decision != "rejected" && b.terms.Good(l) == quantity.Yes {
			all = append(all, bruteProof{kind: Cycled, label: l.Row.Label(), first: l.Started, last: l.Started, ownA: true, ownB: true, ran: []*practice.Load{l}})
		}
	}
	for i := range b.p.Upkeep {
		u := &b.p.Upkeep[i]
		if u.Equipment == b.key && (u.Task == "service" || u.Task == "validation") && u.Result != "fail" {
			all = append(all, bruteProof{kind: Examined, label: u.Row.Label(), day: u.DoneOn})
		}
	}
	if b.s.InstalledOn.Written() {
		all = append(all, bruteProof{kind: Installed, label: b.s.Row.Label(), day: b.s.InstalledOn})
	}
	var began quantity.Day
	see := func(d quantity.Day) {
		if !began.Written() || d < began {
			began = d
		}
	}
	for i := range b.p.Loads {
		l := &b.p.Loads[i]
		if of := b.mine(l.Sterilizer); of == 2 || of == 1 && (l.Decision != "rejected" || b.used(l)) {
			see(l.Started.Day())
		}
	}
	for i := range b.p.Tests {
		if b.p.EquipmentOf(&b.p.Tests[i]) == b.key {
			see(b.p.Tests[i].RunAt.Day())
		}
	}
	for i := range b.p.Upkeep {
		if b.p.Upkeep[i].Equipment == b.key {
			see(b.p.Upkeep[i].DoneOn)
		}
	}
	if began.Written() {
		all = append(all, bruteProof{kind: Begun, day: began})
	}
	return all, failed
}

// bruteWindow is what is compared: kinds and days of the ends, loads, and days.
type bruteWindow struct {
	From, Until       ProofKind
	FromDay, UntilDay quantity.Day
	Loads             string
	Unplaced, Days    int
}

func facts(w Window) bruteWindow {
	return bruteWindow{w.From.Kind, w.Until.Kind, w.From.Day, w.Until.Day, loadIDs(w.Loads), w.Unplaced, w.Days}
}

// windows works out both windows for an event, or, where test and load are nil, for a
// failure at the end of a day.
func (b brute) windows(e Event, end quantity.Day) (wide, narrow bruteWindow) {
	all, failed := b.proofs()
	var at bruteProof
	switch {
	case e.Test != nil:
		at = b.ofTest(e.Test)
	case e.Load != nil:
		own := b.mine(e.Load.Sterilizer) == 2
		at = bruteProof{first: e.Load.Started, last: e.Load.Started, ownA: own, ownB: own, ran: []*practice.Load{e.Load}, named: true}
	}
	daily := e.Test == nil && e.Load == nil
	before := func(q bruteProof) bool {
		switch {
		case daily:
			return max(q.from(), q.last.Day()) <= end
		case q.kind == Installed || q.kind == Begun:
			return q.day <= at.first.Day()
		case q.kind == Examined:
			return q.day < at.first.Day()
		}
		return b.sooner(q.last, q.ownB, at.first, at.ownA)
	}
	after := func(q bruteProof) bool {
		return !daily && q.kind == Spores && b.sooner(at.last, at.ownB, q.first, q.ownA)
	}
	if !at.named {
		at.ran = nil
	}
	var strict, fallback, soft, ends, softEnds []bruteProof
	for _, q := range all {
		switch {
		case before(q) && q.kind == Spores && q.worth == Strict:
			strict = append(strict, q)
		case before(q) && q.kind == Spores, before(q) && q.kind == Cycled && (e.Test == nil || e.Test.Type != "spore"):
			soft = append(soft, q)
		case before(q) && q.kind < Cycled:
			fallback = append(fallback, q)
		}
		if after(q) {
			softEnds = append(softEnds, q)
			if q.worth == Strict {
				ends = append(ends, q)
			}
		}
	}
	begin := strict
	for _, kind := range []ProofKind{Examined, Installed, Begun} {
		if len(begin) == 0 {
			for _, q := range fallback {
				if q.kind == kind {
					begin = append(begin, q)
				}
			}
		}
	}
	ends = slices.DeleteFunc(ends, func(q bruteProof) bool {
		need := max(b.terms.Repeats, 1)
		if e.Test == nil && !b.failedIn(begin, q, failed) { // a load in doubt
			need = 1
		}
		return b.run(q, all, failed, e.Test, after) < need
	})
	if daily {
		return b.window(begin, nil, nil, end), b.window(slices.Concat(begin, soft), nil, nil, end)
	}
	return b.window(begin, ends, at.ran, end), b.window(slices.Concat(begin, soft), slices.Concat(ends, softEnds), at.ran, end)
}

// failedIn: a spore test that surely came neither before the last of what the window
// begins with, nor after q, failed.
func (b brute) failedIn(begin []bruteProof, q bruteProof, failed []bruteProof) bool {
	return slices.ContainsFunc(failed, func(f bruteProof) bool {
		earlier := slices.ContainsFunc(begin, func(o bruteProof) bool {
			if !o.first.Written() {
				return max(f.from(), f.last.Day()) < o.day
			}
			return b.sooner(f.last, f.ownB, o.first, o.ownA)
		})
		return !earlier && !b.sooner(q.last, q.ownB, f.first, f.ownA)
	})
}

// run: how many strict passes are at q or not surely before it, such that no failed
// test can lie between two of them; 0 where one may lie at q.
func (b brute) run(q bruteProof, all, failed []bruteProof, but *practice.Test, after func(bruteProof) bool) int {
	apart := func(x, f bruteProof) int {
		switch {
		case b.sooner(f.last, f.ownB, x.first, x.ownA):
			return 1
		case b.sooner(x.last, x.ownB, f.first, f.ownA):
			return 2
		}
		return 0
	}
	n := 0
	for _, x := range all {
		if x.kind != Spores || x.worth != Strict || !after(x) || x.test != q.test && b.sooner(x.last, x.ownB, q.first, q.ownA) {
			continue
		}
		together := true
		for _, f := range failed {
			if f.test != but && (apart(x, f) == 0 || apart(x, f) != apart(q, f)) {
				together = false
			}
		}
		if together {
			n++
		}
	}
	return n
}

// used: a pack of the load was opened, or a visit that took place names one, or the load.
func (b brute) used(l *practice.Load) bool {
	id := practice.Key(&l.Row)
	names := map[string]bool{}
	for i := range b.p.Packs {
		if k := &b.p.Packs[i]; k.Load == id {
			names[practice.Key(&k.Row)] = true
			if k.OpenedAt.Written() {
				return true
			}
		}
	}
	for i := range b.p.Visits {
		v := &b.p.Visits[i]
		done := v.Status == "" || v.Status == "done"
		if done && (slices.Contains(v.Loads.Items, id) || slices.ContainsFunc(v.Packs.Items, func(k string) bool { return names[k] })) {
			return true
		}
	}
	return false
}

func (b brute) window(begin, ends []bruteProof, ran []*practice.Load, end quantity.Day) (w bruteWindow) {
	w.Days = -1
	w.FromDay = math.MinInt32
	for _, q := range begin {
		if q.from() > w.FromDay {
			w.FromDay = q.from()
		}
	}
	var best int64
	for _, q := range begin {
		if q.from() != w.FromDay {
			continue
		}
		at := int64(math.MinInt64)
		if q.first.Written() {
			at = q.first.First()
		}
		if w.From == NoProof || at > best || at == best && q.kind > w.From {
			w.From, best = q.kind, at
		}
	}
	if len(begin) == 0 {
		w.FromDay = 0
	}
	for _, q := range ends {
		if day := q.last.Day(); w.Until == NoProof || day < w.UntilDay {
			w.Until, w.UntilDay = Spores, day
		}
	}
	if w.Until != NoProof {
		end = w.UntilDay
	}
	if w.From != NoProof {
		w.Days = int(end - w.FromDay)
	}
	var inside []*practice.Load
	for _, l := range b.p.LoadsByTime() {
		of := b.mine(l.Sterilizer)
		if of == 0 || l.Decision == "rejected" && !b.used(l) || l.Started.Day() > end && len(ends) == 0 {
			continue
		}
		out := slices.ContainsFunc(begin, func(q bruteProof) bool {
			if !q.first.Written() {
				return l.Started.Day() < q.day
			}
			return slices.Contains(q.ran, l) || b.sooner(l.Started, of == 2, q.first, q.ownA)
		}) || slices.ContainsFunc(ends, func(q bruteProof) bool {
			return slices.Contains(q.ran, l) || b.sooner(q.last, q.ownB, l.Started, of == 2)
		})
		if !out || slices.Contains(ran, l) {
			inside = append(inside, l)
			if of == 1 {
				w.Unplaced++
			}
		}
	}
	w.Loads = loadIDs(inside)
	return w
}
