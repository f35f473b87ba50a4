package checks

import (
	"slices"

	"footing/internal/audit"
	"footing/internal/practice"
	"footing/internal/quantity"
)

// packsToolUse is a visit in which an instrument was used, and the pack it came in;
// no pack where the visit names the instrument itself.
type packsToolUse struct {
	visit *practice.Visit
	pack  *practice.Pack
}

// evidence is where the use is written, in the order of the chain.
func (u packsToolUse) evidence(note string) []audit.Evidence {
	if u.pack == nil {
		return []audit.Evidence{audit.At(&u.visit.Row, "instruments", note)}
	}
	return []audit.Evidence{audit.At(&u.visit.Row, "packs", note), audit.At(&u.pack.Row, "instruments", "the pack it names")}
}

// packsToolUses finds the uses of each instrument that want picks and whose id no
// other row has: the visits that took place and name it, or a pack that holds it, by
// their start, each once. Unknown reports a pack that a visit names and whose number
// several rows have.
func packsToolUses(p *practice.Practice, want func(*practice.Instrument) bool) (uses map[*practice.Instrument][]packsToolUse, unknown bool) {
	uses = map[*practice.Instrument][]packsToolUse{}
	lists := map[string]*[]packsToolUse{} // by the id as written; nil for those not wanted
	of := map[*practice.Instrument]*[]packsToolUse{}
	add := func(id string, u packsToolUse) {
		list, known := lists[id]
		if !known {
			if n, state := p.Instrument(id); state == practice.One && want(n) {
				if list = of[n]; list == nil {
					list = new([]packsToolUse)
					of[n] = list
				}
			}
			lists[id] = list
		}
		if list == nil || len(*list) > 0 && (*list)[len(*list)-1].visit == u.visit {
			return
		}
		*list = append(*list, u)
	}
	for _, v := range p.VisitsByTime() {
		if !v.Done() {
			continue
		}
		for i := range v.Packs.Items {
			k, state := p.PackOf(v, i)
			if state != practice.One {
				unknown = unknown || state == practice.Shared
				continue
			}
			for _, tool := range k.Instruments.Items {
				add(tool, packsToolUse{v, k})
			}
		}
		for _, tool := range v.Instruments.Items {
			add(tool, packsToolUse{visit: v})
		}
	}
	for n, list := range of {
		uses[n] = *list
	}
	return uses, unknown
}

// packsToolNames reports whether any visit that took place, or any pack, names an
// instrument.
func packsToolNames(p *practice.Practice) bool {
	return slices.ContainsFunc(p.Visits, func(v practice.Visit) bool { return v.Done() && len(v.Instruments.Items) > 0 }) ||
		slices.ContainsFunc(p.Packs, func(k practice.Pack) bool { return len(k.Instruments.Items) > 0 })
}

// packsToolKind reports whether so many of an instrument's uses contradict each
// other that its number is taken for a kind of instrument.
func packsToolKind(contrary, uses int, c audit.Criterion) bool { return packsOver(contrary, uses, c) }

// packsToolOne reports whether an instrument is one that is processed for whoever comes next.
func packsToolOne(n *practice.Instrument) bool {
	return n.Reuse != "single-use" && n.Reuse != "client-owned"
}

// packsToolAbout is what findings about an instrument are grouped by.
func packsToolAbout(n *practice.Instrument) audit.Subject { return audit.About("instruments", &n.Row) }

// packsToolTold tells once an instrument that its number seems to stand for several,
// so that it was not judged.
func packsToolTold(x *audit.Examination, n *practice.Instrument, c audit.Criterion, found string, day quantity.Day, evidence []audit.Evidence) {
	x.Remark(packsToolAbout(n), audit.Fault{Matter: "a kind", Criterion: &c, Found: found, Day: day, Evidence: evidence,
		Needed: "so its number is taken for a kind of instrument, and it was not judged; if it is one piece, this needs an answer before it is used again",
		Steps: []string{
			"Look whether the number stands for one piece or for all of a kind.",
			"If for a kind, give each piece a number of its own (engraved or on its pouch) and type it from today on.",
			"If for one piece, put it aside, and ask how it could be cleaned and go through a cycle between these uses.",
		}, Verify: "Later rows name each piece by a number of its own."})
}
