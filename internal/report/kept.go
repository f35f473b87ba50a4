package report

import (
	"slices"
	"strconv"
	"strings"

	"footing/internal/result"
)

// mayBeAsked are the records that an inspection commonly asks for, in a usual order
// (common practice, no source), with the words for each.
var mayBeAsked = [][2]string{
	{"loads", "the sterilizer's log"},
	{"tests", "spore tests and other tests"},
	{"upkeep", "service and maintenance"},
	{"packs", "packs and their labels"},
	{"credentials", "certificates, registration and insurance"},
	{"visits", "visit notes"},
	{"screens", "allergy answers"},
	{"consents", "consents"},
	{"policies", "written policies"},
	{"stock", "gloves, gowns and other stock"},
	{"products", "products and safety sheets"},
	{"waste", "waste and sharps"},
}

// kept says where what may be asked for is typed, and what of it is not. An audit made
// for an inspection lists it in full instead.
func (p *page) kept() {
	if len(p.AskedFor) > 0 || len(p.Intake) == 0 {
		return
	}
	var rows [][]md
	var untyped []string
	for _, ask := range mayBeAsked {
		var files []string
		n := 0
		for _, f := range p.Intake {
			if f.Kind == ask[0] && f.Accepted > 0 {
				n += f.Accepted
				files = append(files, f.File)
			}
		}
		if n == 0 {
			untyped = append(untyped, ask[1])
			continue
		}
		rows = append(rows, []md{text(upper(ask[1])), text(strconv.Itoa(n)), text(someFiles(files))})
	}
	p.heading(2, titleKept)
	p.table([]md{"What", "Rows", "Typed in"}, rows)
	if len(untyped) > 0 {
		p.para(say("Nothing is typed of: %s. Where you keep it on paper, have the paper at hand.", join(untyped)))
	}
	p.para("An inspector may ask for the paper itself. To see this in the order of asking, with what is found, in part and not typed: footing audit FOLDER --for inspection.")
}

// someFiles names the first few files and counts the others.
func someFiles(files []string) string {
	slices.Sort(files)
	files = slices.Compact(files)
	const most = 3
	if more := len(files) - most; more > 0 {
		files = append(files[:most:most], several(more, "more file", "more files"))
	}
	return strings.Join(files, ", ")
}

// gear sets gloves and gowns by site and size beside who needs them.
func (p *page) gear() {
	if len(p.Gear) == 0 {
		return
	}
	p.heading(2, titleGear)
	p.para("By site and size, who wears it there and what the rows of stock leave. What is left is the most that there may be: what was used and not written is still in it.")
	rows := make([][]md, 0, len(p.Gear))
	for _, g := range p.Gear[:min(len(p.Gear), mostLines)] {
		rows = append(rows, []md{text(orElse(g.Site, "the practice")), text(upper(gearName(g.Item))), text(g.Size), text(p.wearers(g)), gearState(g), text(gearAmount(g)), text(day(g.Counted))})
	}
	p.table([]md{"Site", "What", "Size", "Who needs it", "Left", "At most", "Last counted"}, rows)
	if more := len(p.Gear) - mostLines; more > 0 {
		p.para(say("and %s; every one is in audit.json.", several(more, "more row", "more rows")))
	}
}

func gearName(item string) string {
	if item == "gown" {
		return "gowns"
	}
	return item
}

// wearers names who needs it.
func (p *page) wearers(g result.Gear) string {
	if len(g.People) == 0 {
		return "nobody who is typed"
	}
	var who []string
	for _, id := range g.People {
		who = append(who, ident("people", id))
	}
	if more := len(who) - mostTogether; more > 0 {
		who = append(who[:mostTogether:mostTogether], several(more, "other", "others"))
	}
	out := join(who)
	if g.LatexFree {
		out += " (without latex)"
	}
	return out
}

// gearState is whether it is left, in words and with a mark where someone needs what is
// not there.
func gearState(g result.Gear) md {
	state := orElse(g.Left, result.GearUntold)
	if g.LatexFree && g.Left == result.GearLeft && g.Free != result.GearLeft {
		state = "yes, but without latex: " + orElse(g.Free, result.GearUntold)
	}
	if state == result.GearGone && len(g.People) > 0 {
		return "**none left**"
	}
	if g.Why != "" {
		return say("%s: %s", state, g.Why)
	}
	return text(state)
}

func gearAmount(g result.Gear) string {
	var parts []string
	if g.Pieces > 0 {
		parts = append(parts, number(g.Pieces)+" pieces")
	}
	if g.Boxes > 0 {
		parts = append(parts, number(g.Boxes)+" boxes")
	}
	if len(parts) == 0 && g.Left == result.GearGone {
		return "0"
	}
	return strings.Join(parts, " and ")
}
