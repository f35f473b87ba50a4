package chain

import (
	"cmp"
	"slices"

	"footing/internal/practice"
	"footing/internal/quantity"
)

// History is what one sterilizer's records show of when it worked, made ready to be
// asked about any day or event.
type History struct {
	p     *practice.Practice
	terms Terms
	key   string // the sterilizer's

	// loads are those that are or may be of the sterilizer, by their start, without
	// rejected ones, unless a pack was used all the same. unplaced are those that may be.
	loads    []*practice.Load
	unplaced map[*practice.Load]bool

	strict, lenient []witness   // passed spore tests
	failed          []witness   // failed spore tests that are or may be of it
	good            []witness   // loads that show by themselves that they worked
	lesser          [][]witness // what the wide window begins with where no strict test is: best kind first

	wide, narrow []step // made ready for On
}

// HistoryOf gathers the records of a sterilizer. Rows of sterilizers that share its id
// are taken as the same one. Without terms.Good no load shows by itself that it worked;
// less than one repeat is one.
func HistoryOf(p *practice.Practice, s *practice.Sterilizer, terms Terms) *History {
	h := &History{p: p, terms: terms, key: practice.Key(&s.Row)}
	own := p.LoadsOf(h.key)
	h.gatherLoads()
	h.gatherTests(own)
	h.gatherGood(own)
	h.gatherLesser(s, own)
	h.wide, h.narrow = h.steps(false), h.steps(true)
	return h
}

func (h *History) gatherLoads() {
	h.unplaced = map[*practice.Load]bool{}
	known := map[string]bool{h.key: true}
	for _, l := range h.p.LoadsByTime() {
		if l.Decision == "rejected" && !Served(h.p, l) {
			continue
		}
		if l.Sterilizer != h.key {
			named, seen := known[l.Sterilizer]
			if !seen {
				named = h.named(l.Sterilizer)
				known[l.Sterilizer] = named
			}
			if named {
				continue
			}
			h.unplaced[l] = true
		}
		h.loads = append(h.loads, l)
	}
}

// named reports whether a sterilizer has this id, even one whose row was set aside. A
// row that names none, or one that no row has, may be of any sterilizer.
func (h *History) named(id string) bool {
	if id == "" {
		return false
	}
	_, state := h.p.Sterilizer(id)
	return state != practice.Absent
}

func (h *History) gatherTests(own []*practice.Load) {
	find := linker(h, own)
	for i := range h.p.Tests {
		t := &h.p.Tests[i]
		if t.Type != "spore" {
			continue
		}
		a := AssayOf(t)
		switch of := h.p.EquipmentOf(t); {
		case of == h.key:
			switch {
			case t.Result == "fail":
				h.failed = append(h.failed, find(t).of(&a))
			case a.Worth == Strict:
				h.strict = append(h.strict, find(t).of(&a))
			case a.Worth == Lenient:
				h.lenient = append(h.lenient, find(t).of(&a))
			}
		case t.Result == "fail" && !h.named(of):
			h.failed = append(h.failed, find(t).of(&a))
		}
	}
}

func (h *History) gatherGood(own []*practice.Load) {
	if h.terms.Good == nil {
		return
	}
	for _, l := range own {
		if l.Decision != "rejected" && h.terms.Good(l) == quantity.Yes {
			w := h.ofLoad(l)
			w.proof = Proof{Kind: Cycled, Row: &l.Row, Field: "started"}
			h.good = append(h.good, w)
		}
	}
}

// gatherLesser takes what else shows that it worked: validations and services that
// were not failed, its installation, and, for want of better, its first record.
func (h *History) gatherLesser(s *practice.Sterilizer, own []*practice.Load) {
	var examined, installed, begun []witness
	upkeep := h.p.UpkeepOf(h.key)
	for _, u := range upkeep {
		if (u.Task == "validation" || u.Task == "service") && u.Result != "fail" {
			examined = append(examined, witness{day: u.DoneOn, proof: Proof{Kind: Examined, Row: &u.Row, Field: "done_on", Unsaid: u.Result == ""}})
		}
	}
	if s.InstalledOn.Written() {
		installed = append(installed, witness{day: s.InstalledOn, first: true, proof: Proof{Kind: Installed, Row: &s.Row, Field: "installed_on"}})
	}
	for _, l := range own {
		w := h.ofLoad(l)
		begun = append(begun, witness{day: w.day, from: w.from, proof: Proof{Row: &l.Row, Field: "started"}})
	}
	for _, l := range h.loads {
		if h.unplaced[l] {
			w := h.ofLoad(l)
			begun = append(begun, witness{day: w.day, from: w.from, proof: Proof{Row: &l.Row, Field: "started"}})
		}
	}
	for _, t := range h.p.TestsOf(h.key) {
		begun = append(begun, witness{day: t.RunAt.Day(), from: place{at: t.RunAt}, proof: Proof{Row: &t.Row, Field: "run_at"}})
	}
	for _, u := range upkeep {
		begun = append(begun, witness{day: u.DoneOn, proof: Proof{Row: &u.Row, Field: "done_on"}})
	}
	if len(begun) > 0 {
		b := slices.MinFunc(begun, func(a, b witness) int { return cmp.Compare(a.day, b.day) })
		b.first, b.proof.Kind = true, Begun
		begun = []witness{b}
	}
	h.lesser = [][]witness{examined, installed, begun}
}

// count tells how many of the loads may be of another sterilizer.
func (h *History) count(loads []*practice.Load) (n int) {
	if len(h.unplaced) == 0 {
		return 0
	}
	for _, l := range loads {
		if h.unplaced[l] {
			n++
		}
	}
	return n
}
