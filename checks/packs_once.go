package checks

import (
	"slices"
	"strings"

	"footing/internal/audit"
	"footing/internal/practice"
	"footing/internal/quantity"
)

var _ = define(audit.Check{
	ID:    "packs/once",
	Title: "no pack served two clients, or two visits of one",
	Why: "A pack is opened for one visit; what is in it is processed again before the next. One number in two visits is most often a number typed wrong, or one that is not the pack's own: the engraved number of a cassette or tray comes back with each load. " +
		"Numbers that come back by habit are told once and not judged; so is one pouch at two visits that follow each other away from the clinic, which may have held a set for each.",
	Grades:  []audit.Grade{audit.Critical, audit.Major, audit.Observation},
	Subject: "sites", Thing: "pack that visits name", Things: "packs that visits name",
	Needs: []string{"visits"},
	Helps: []string{"visits.packs", "visits.instruments", "visits.site", "sites", "packs", "packs.packaging", "packs.instruments", "packs.load", "loads", "visits.ended"},
	Uses:  []string{"packs.once-habit", "packs.visit-longest", "records.clock"},
	Fix: []string{
		"Look at the pouch or label kept with each of these visits: a pack number read or typed wrong explains most. Where it does, write the correction as a new row with today's date.",
		"Look whether the number is the pack's own: where it belongs to a cassette or tray, give each filling of it a number of its own, such as that of the load and a letter.",
		"Where one pack was filled for two who were seen together, write which pieces each of them had, and from today on pack for each apart.",
		"Keep the notes, labels and log as they are.",
		"Where one pack did serve two clients, telephone public health and your regulator today and ask what to do. Contact no client about it on your own.",
		"From today on, open each pack in front of the client it is for, write its number then, and put what is left of it with the soiled instruments at once.",
	},
	Verify: "Each pack that later visits name is named by one of them.",
	Run: func(x *audit.Examination) {
		o := packsOnce{x: x}
		for _, v := range x.P.VisitsByTime() {
			for i := range v.Packs.Items {
				if u := packsOnceOf(x.P, v, i); len(u.visits) > 0 && u.visits[0] == v && !slices.Contains(v.Packs.Items[:i], u.id) {
					o.uses = append(o.uses, u) // in the order of the first visit that names it
				}
			}
		}
		o.run()
	},
})

// packsOnceUse is one pack id with the visits that took place and name it.
type packsOnceUse struct {
	id      string
	pack    *practice.Pack // nil where no single row has the id
	state   practice.State
	visits  []*practice.Visit
	clients []string // each once
	days    []quantity.Day
}

// packsOnceOf is the pack that a visit names in a place of its list.
func packsOnceOf(p *practice.Practice, visit *practice.Visit, place int) (u packsOnceUse) {
	u.id = visit.Packs.Items[place]
	u.pack, u.state = p.PackOf(visit, place)
	uses := []*practice.Visit(nil)
	if u.pack != nil {
		uses, _ = p.UsesOfPack(u.pack)
	} else {
		uses = p.UsesOf(u.id)
	}
	for _, v := range uses {
		if !v.Done() || len(u.visits) > 0 && u.visits[len(u.visits)-1] == v { // typed twice in one list
			continue
		}
		u.visits = append(u.visits, v)
		if !slices.Contains(u.clients, v.Client) {
			u.clients = append(u.clients, v.Client)
		}
		if !slices.Contains(u.days, v.Started.Day()) {
			u.days = append(u.days, v.Started.Day())
		}
	}
	return u
}

// again reports whether the pack is named for more than one client or day: two rows of
// one client and day may be one visit in two parts, or typed twice.
func (u packsOnceUse) again() bool { return len(u.clients) > 1 || len(u.days) > 1 }

// holder reports whether the number may be that of a cassette or tray, or of what lies
// bare: these are filled or processed again under the same number.
func (u packsOnceUse) holder() bool {
	return u.pack != nil && slices.Contains([]string{"cassette", "covered-tray", "none"}, u.pack.Packaging)
}

// cameBack reports whether one visit lies before the load of the pack, and one does not.
func (u packsOnceUse) cameBack(x *audit.Examination) bool {
	l, state := x.P.Load(u.pack.Load)
	return state == practice.One && packsCameBack(packsHoursOf(x), x.P, u.pack, l)
}

// apart reports whether the pack may have been filled for several: all visits lie on
// one day and name their instruments, none is named by two, and the pack holds them all,
// where it is written what it holds.
func (u packsOnceUse) apart() bool {
	seen := map[string]bool{}
	for _, v := range u.visits {
		if len(v.Instruments.Items) == 0 || len(u.days) > 1 {
			return false
		}
		for _, id := range v.Instruments.Items {
			if seen[id] || u.pack.Instruments.Written && !u.pack.Instruments.Has(id) {
				return false
			}
		}
		for _, id := range v.Instruments.Items {
			seen[id] = true
		}
	}
	return true
}

func (u packsOnceUse) site() audit.Subject {
	if u.pack != nil && u.pack.StoredAt != "" {
		return packsSite(u.pack)
	}
	return packsVisitSite(u.visits[0])
}

// packsOnce judges them.
type packsOnce struct {
	x    *audit.Examination
	uses []packsOnceUse
}

func (o *packsOnce) run() {
	if len(o.uses) == 0 {
		o.x.Unclear(audit.Whole, "no visit names a pack", audit.Field{Kind: "visits", Name: "packs"})
		return
	}
	habit := o.habit()
	for _, u := range o.uses {
		o.judge(u, habit)
	}
}

// habit reports whether so many numbers come back, those of cassettes and trays left
// out, that they are used again by habit: more than one, and more than the share that
// slips and lapses can make.
func (o *packsOnce) habit() bool {
	again, all := 0, 0
	for _, u := range o.uses {
		switch {
		case u.holder():
		case u.again():
			again++
			fallthrough
		default:
			all++
		}
	}
	c, ok := o.x.Criterion("packs.once-habit", nil)
	return ok && again > 1 && packsOver(again, all, c)
}

func (o *packsOnce) judge(u packsOnceUse, habit bool) {
	x, site := o.x, u.site()
	switch {
	case len(u.visits) == 1:
		x.Met(site)
	case !u.again():
		x.Unclear(site, "two visits of one client on one day name the pack, which may be one visit typed in two rows", audit.Field{Kind: "visits", Name: "id"})
	case u.state == practice.Shared || u.state == practice.SetAside:
		x.Unclear(site, "several packs have the id that the visits name, or its row could not be read, so it cannot be told whether they name one pack", audit.Field{Kind: "packs", Name: "id"})
	case u.holder():
		o.comesBack(u, "number of a holder", "the number seems to be that of a cassette or tray, which is filled again and again")
	case habit:
		o.comesBack(u, "number by habit", "many pack numbers are named by several visits each, so numbers seem to be used again by habit")
	case u.state == practice.Absent:
		o.comesBack(u, "number not typed", "no row of packs has the number, so it cannot be told whether it was given once")
	case slices.ContainsFunc(u.days, func(d quantity.Day) bool { return d != u.days[0] && d != u.days[len(u.days)-1] }):
		o.comesBack(u, "number on many days", "the number is named on more than two days, which one slip does not explain: it seems to be that of a set, not of one pack")
	case u.pack.Load == "" && o.loads():
		o.comesBack(u, "number of no load", "no load is written for the number, as for others there is, so it may be that of a lot of packs bought ready")
	case u.cameBack(x):
		o.comesBack(u, "number before its load", "one of the visits lies before the load of the pack, so the number was another pack's then, or one of the visits has a slip")
	case u.apart():
		x.Unclear(site, "each of the visits names instruments of its own, so one pack seems to have been filled for several clients", audit.Field{Kind: "packs", Name: "instruments"})
	case packsOnceClient(x.P, u.clients):
		x.Unclear(site, "the visits name their clients by pseudonyms that may be one and the same, spelt in two ways", audit.Field{Kind: "clients"})
	case u.together(x.P):
		o.together(u)
	default:
		x.NotMet(site, packsOnceFault(u))
	}
}

// loads reports whether loads are written for packs, as for those of the practice's own.
func (o *packsOnce) loads() bool {
	return slices.ContainsFunc(o.uses, func(u packsOnceUse) bool { return u.pack != nil && u.pack.Load != "" })
}

// comesBack tells of a number that need not be one pack's: not assessed, and an observation.
func (o *packsOnce) comesBack(u packsOnceUse, matter, why string) {
	o.x.Unclear(u.site(), why, audit.Field{Kind: "packs", Name: "id"})
	o.x.Remark(u.site(), audit.Fault{Matter: matter, Found: "one number stands in visits of more than one client or day", Day: u.days[0], Evidence: u.evidence(),
		Needed: why + "; with a number that comes back, nobody can tell from which load the pack of a visit came",
		Steps: []string{
			"Look at a few of these visits and the labels kept with them: is the number that of the pack, or that of a cassette, tray or set?",
			"From today on, give each pack a number that is never used again, such as that of its load and a letter, and write that one into the visit's note.",
		}})
}

// packsOnceClient reports whether the clients may be fewer than the pseudonyms that are
// written: two of them read alike without their signs, or one is not among the clients.
func packsOnceClient(p *practice.Practice, clients []string) bool {
	for i, a := range clients {
		if _, state := p.Client(a); p.Typed("clients") && state != practice.One {
			return true
		}
		series, number, _ := packsNumberOf(a)
		for _, b := range clients[:i] {
			if s, n, _ := packsNumberOf(b); s == series && n == number {
				return true
			}
		}
	}
	return false
}

func packsOnceFault(u packsOnceUse) audit.Fault {
	f := audit.Fault{Grade: audit.Critical, Matter: "clients", Weight: float64(len(u.visits)), Day: u.days[len(u.days)-1], Evidence: u.evidence(),
		Found:  "a pack was named by visits of more than one client, on " + packsOnceDays(u.days),
		Needed: "a pack serves one visit; a visit typed with the wrong pack number explains most"}
	if len(u.days) == 1 {
		f.Needed += ", and a pack filled for two who were seen together explains some"
	}
	if len(u.clients) == 1 {
		f.Grade, f.Matter = audit.Major, "visits"
		f.Found = "a pack was named by visits of one client on " + packsOnceDays(u.days)
		f.Needed += ", and a pack opened at the first visit and used at the next is no longer closed"
	}
	return f
}

func packsOnceDays(days []quantity.Day) string {
	var words []string
	for _, d := range days {
		words = append(words, d.Words())
	}
	return strings.Join(words, " and ")
}

// evidence is the visits, then the pack.
func (u packsOnceUse) evidence() (list []audit.Evidence) {
	for _, v := range u.visits {
		list = append(list, audit.At(&v.Row, "packs", "a visit that names it, on "+v.Started.Words()))
	}
	switch {
	case u.pack == nil:
	case u.pack.Load != "":
		list = append(list, audit.At(&u.pack.Row, "load", "the pack they name, and its load"))
	default:
		list = append(list, audit.At(&u.pack.Row, "packaging", "the pack they name"))
	}
	return list
}
