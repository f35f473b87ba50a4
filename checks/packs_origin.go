package checks

import (
	"footing/internal/audit"
	"footing/internal/practice"
	"footing/internal/quantity"
)

var _ = define(audit.Check{
	ID:    "packs/origin",
	Title: "every pack that was used came from a load in the log",
	Why: "A pack is vouched for by the log of its load: time, temperature, indicators and release. Where the load is not in the log, nobody can look. " +
		"A missing load counts only where all loads of that time are said to be in the folder, and where the load cannot lie before it. " +
		"Its number tells when it was run: where the numbers of the log rise with its days, a load came after the one whose number stands before its own; where they do not, or none stands before it, it may have been run as long before the use as packs are kept. " +
		"A load that may lie before the log is told, and not judged.",
	Grades:  []audit.Grade{audit.Critical, audit.Observation},
	Subject: "sites", Thing: "used pack", Things: "used packs",
	Needs: []string{"loads"},
	Helps: []string{"packs", "packs.load", "packs.opened_at", "visits.packs", "visits.loads", "practice.coverage", "practice.records_from"},
	Uses:  []string{"packs.oldest"},
	Fix: []string{
		"Look at the label of the pack, or at the pouch kept with the visit's note: a load number read or typed wrong explains most of these. Where it does, write the correction as a new row with today's date.",
		"Look into the log book and the memory of the sterilizer for the load. If it is there and was not typed, add it as the original has it.",
		"Set aside and mark every pack that names this load and is still closed; use none until the load is found.",
		"Keep log, printouts, strips and packs as they are. Where the load is found nowhere, telephone public health and your regulator today and ask what to do. Contact no client about it on your own.",
		"From today on, write each load into the log before its packs are put away, and label each pack with the load's number as the log has it.",
	},
	Verify: "Each pack that is named by a later visit leads to one load in the log.",
	Run: func(x *audit.Examination) {
		x.Nothing("no pack is written as used")
		o := packsOriginOf(x)
		for i := range x.P.Packs {
			o.pack(&x.P.Packs[i])
		}
		for _, v := range x.P.VisitsByTime() {
			if v.Done() {
				o.visit(v)
			}
		}
		if x.Silent() {
			x.Unclear(audit.Whole, "no pack is typed, and no visit names a pack or a load", audit.Field{Kind: "packs"}, audit.Field{Kind: "visits", Name: "packs"})
		}
	},
})

// packsOrigin looks for the loads that used packs came from.
type packsOrigin struct {
	x       *audit.Examination
	numbers packsNumbers
	oldest  int          // days that a pack's load may lie before its use
	first   quantity.Day // of the records
}

func packsOriginOf(x *audit.Examination) *packsOrigin {
	o := &packsOrigin{x: x, numbers: packsNumbersOf(x.P), first: x.P.Profile.RecordsFrom}
	if c, ok := x.Criterion("packs.oldest", nil); ok {
		o.oldest = int(c.Quantity().In(quantity.DayU))
	}
	if loads := x.P.LoadsByTime(); len(loads) > 0 {
		o.first = max(o.first, loads[0].Started.Day())
	}
	return o
}

func (o *packsOrigin) pack(k *practice.Pack) {
	u := packsUseOf(o.x.P, k)
	switch _, state := o.x.P.LoadOfPack(k); {
	case u.used == quantity.No:
		o.x.Pass()
	case k.Load == "":
		o.x.Unclear(packsSite(k), "which load the pack came from is not written", audit.Field{Kind: "packs", Name: "load"})
	case state == practice.Absent && u.used == quantity.Unsure:
		o.x.Unclear(packsSite(k), u.why)
	default:
		o.load(packsSite(k), k.Load, state, u)
	}
}

// visit looks at what a visit names that no row of packs stands for.
func (o *packsOrigin) visit(v *practice.Visit) {
	site := packsVisitSite(v)
	for _, id := range v.Packs.Items {
		switch _, state := o.x.P.Pack(id); state {
		case practice.Absent:
			o.x.Unclear(site, "a visit names a pack that is not typed, so its load cannot be looked up", audit.Field{Kind: "packs"})
		case practice.SetAside:
			o.x.Unclear(site, "a visit names a pack whose row could not be read, or was not there yet on the audit day", audit.Field{Kind: "packs"})
		}
	}
	for _, id := range packsLoadsAlone(o.x.P, v) {
		_, state := o.x.P.Load(id)
		o.load(site, id, state, packsUse{visit: v, used: quantity.Yes})
	}
}

// load judges one use by how its load is known.
func (o *packsOrigin) load(site audit.Subject, id string, state practice.State, u packsUse) {
	x := o.x
	switch {
	case state == practice.One:
		x.Met(site)
	case state != practice.Absent:
		x.Unclear(site, "the load that is named cannot be told: its row could not be read, or several rows have its id", audit.Field{Kind: "loads", Name: "id"})
	case o.numbers.spelt(id):
		x.Unclear(site, "the log has a load of the number that is named, under an id that is spelt otherwise", audit.Field{Kind: "loads", Name: "id"})
	case !o.numbers.alike(id):
		x.Unclear(site, "the load that is named is not in the folder, and its number has another form than those of the log: a contractor's, or that of a pack bought ready", audit.Field{Kind: "loads"})
	case o.inside(id, u.day()):
		x.NotMet(site, audit.Fault{Grade: audit.Critical, Matter: "absent", Day: u.day(), Evidence: u.evidence("load", "its load, which the log does not have"),
			Found:  "a pack was used, and the load it names is not in the log, of which all rows of that time are said to be in the folder",
			Needed: "a load number read or typed wrong explains most; if the load is found nowhere, nothing shows that the pack went through the sterilizer"})
	case u.day() >= o.first && x.P.Whole("loads", o.first, u.day()):
		o.before(site, u)
	default:
		x.Unclear(site, "the load that is named is not in the folder, and may lie before the records or be one that was not typed", audit.Field{Kind: "loads"})
	}
}

// before is a use whose load is not in the log, though all of it since its first day is
// said to be here: the load may be older. Told with its place, so that it can be looked up.
func (o *packsOrigin) before(site audit.Subject, u packsUse) {
	o.x.Unclear(site, "the load that is named is not in the folder, though all loads since the first that is typed are said to be, so it may lie before that, or its number has a slip")
	o.x.Remark(site, audit.Fault{Matter: "perhaps before the log", Day: u.day(), Evidence: u.evidence("load", "its load, which the log does not have"),
		Found:  "a pack was used, and the load it names is not in the log, but may have been run before the log begins",
		Needed: "a number read or typed wrong explains some as well",
		Steps: []string{
			"Look at the label of the pack, or at the pouch kept with the visit's note. Where the load's number is another, write the correction as a new row with today's date.",
			"Look for the load in the log book of the time before. If it is there, type its row as the original has it.",
			"If it is found nowhere, set aside and mark what is still closed of that number, keep everything as it is, and ask your regulator what it expects.",
		}})
}

// inside reports whether a load that is not in the log would have to be there, had it
// been run: all loads are here from the earliest day on which it can have been. That
// is the day of the load whose number comes before it, or the longest that packs are
// kept before the use.
func (o *packsOrigin) inside(id string, used quantity.Day) bool {
	whole := func(from quantity.Day) bool {
		return from.Written() && from >= o.first && from <= used && o.x.P.Whole("loads", from, used)
	}
	return whole(o.numbers.before(id)) || whole(used.AddDays(-o.oldest))
}
