package checks

import (
	"slices"
	"strings"

	"footing/internal/audit"
	"footing/internal/practice"
	"footing/internal/quantity"
)

var _ = define(audit.Check{
	ID:    "instruments/banned",
	Title: "nothing that foot care must not use is kept or was used: razors, shared pumice, corrosive removers without an order",
	Why: "Razor-type shavers cut deeper than anyone can see, and several regulators forbid even keeping one. Pumice cannot be cleaned, so it serves one client only. " +
		"Products that eat away hard skin burn feet that cannot feel it; their labels allow them on some clients only under a physician's or podiatrist's order.",
	Grades:  []audit.Grade{audit.Critical, audit.Major, audit.Observation},
	Subject: "instruments", Thing: "instrument or corrosive product", Things: "instruments and corrosive products",
	Helps: []string{"instruments.reuse", "instruments.retired_on", "visits.instruments", "visits.products", "visits.note", "packs.instruments", "products.use"},
	Uses:  []string{"instruments.banned", "instruments.not-shared", "instruments.corrosive"},
	Fix: []string{
		"Take the item out of the treatment room and the bag today, and use it on nobody.",
		"Keep the visit notes as they are. If the item is written as the wrong kind, or belongs to one client alone, correct its row.",
		"If a client was cut or has a wound that you treated with it, see that it is looked at now.",
		"Ask your regulator what it expects where such an item was used. Contact no client about it on your own.",
		"Throw it away by the rules for sharp or chemical waste, and write the day into its row.",
		"From today on, smooth hard skin with files or burrs that can be processed, or with single-use boards; write an order for a corrosive product, and whose it is, into the visit's note before you use it.",
	},
	Verify: "No such item is on the premises, its row says when it went, and no later visit names one.",
	Run: func(x *audit.Examination) {
		if len(x.P.Instruments)+len(x.P.Products) == 0 {
			x.Unclear(audit.Whole, "neither instruments nor products are typed, so not judged", audit.Field{Kind: "instruments"}, audit.Field{Kind: "products"})
			return
		}
		x.Nothing("nothing is written that falls under what the rules forbid")
		banned, _ := x.Criterion("instruments.banned", nil)
		alone, _ := x.Criterion("instruments.not-shared", nil)
		uses := instrumentsUses(x.P, append(slices.Clone(banned.Items()), alone.Items()...))
		for i := range x.P.Instruments {
			instrumentsBannedOf(x, &x.P.Instruments[i], banned, alone, uses)
		}
		instrumentsBannedProducts(x)
	},
})

func instrumentsBannedOf(x *audit.Examination, i *practice.Instrument, banned, alone audit.Criterion, uses map[string][]instrumentsUse) {
	subject := audit.About("instruments", &i.Row)
	f := audit.Fault{Matter: i.Type, Evidence: []audit.Evidence{audit.At(&i.Row, "kind")}}
	name := strings.ReplaceAll(i.Type, "-", " ")
	own := i.Reuse == "client-owned" || i.Owner != ""
	used := uses[practice.Key(&i.Row)]
	switch {
	case banned.Has(i.Type) && own && len(used) == 0 && !i.RetiredOn.Written():
		x.Unclear(subject, "a "+name+" belongs to a client, and whether it is kept in the practice is not written", audit.Field{Kind: "instruments", Name: "retired_on"})
		return
	case banned.Has(i.Type):
		f.Criterion, f.Needed = &banned, "foot care does without: "+strings.ReplaceAll(banned.Value(), "-", " ")
	case !alone.Has(i.Type) || i.Reuse == "single-use" || own:
		x.Met(subject)
		return
	case i.Reuse == "":
		x.Unclear(subject, "whether the "+name+" serves one client only is not written", audit.Field{Kind: "instruments", Name: "reuse"})
		return
	default:
		f.Criterion, f.Needed = &alone, "it serves one client only, or is thrown away after use"
		f.Evidence = append(f.Evidence, audit.At(&i.Row, "reuse"))
		name = "shared " + name
	}
	switch {
	case len(used) > 0:
		f.Grade, f.Found, f.Day = audit.Critical, "a "+name+" was used in a visit", used[len(used)-1].visit.Started.Day()
		for _, u := range used {
			f.Evidence = append(f.Evidence, u.at)
		}
		x.NotMet(subject, f)
	case i.RetiredOn.Written():
		x.Met(subject)
	default:
		f.Grade, f.Found = audit.Major, "a "+name+" is kept, as written"
		f.Needed += "; if it is gone, write the day into its row"
		x.NotMet(subject, f)
	}
}

// instrumentsBannedProducts judges the corrosive products: used without an order
// written, used with one, or only kept.
func instrumentsBannedProducts(x *audit.Examination) {
	c, ok := x.Criterion("instruments.corrosive", nil)
	visits := map[string][]*practice.Visit{}
	for _, v := range x.P.VisitsByTime() {
		for _, id := range v.Products.Items {
			if v.Done() {
				visits[id] = append(visits[id], v)
			}
		}
	}
	for i := range x.P.Products {
		g := &x.P.Products[i]
		if g.Use != "corrosive" {
			continue
		}
		if !ok || !c.Yes() {
			x.Pass()
			continue
		}
		subject, key := audit.About("products", &g.Row), practice.Key(&g.Row)
		used := visits[key]
		if _, state := x.P.Product(key); state != practice.One {
			used = nil
		}
		for _, v := range used {
			who, order := instrumentsBannedOrder(v.Note)
			switch {
			case order == quantity.Yes:
				x.Met(subject)
				continue
			case who && order == quantity.Unsure:
				x.Unclear(subject, "a corrosive product was used, and the visit's note names someone who may give an order, but does not say whether there was one", audit.Field{Kind: "visits", Name: "note"})
				continue
			case v.Note == "":
				x.Unclear(subject, "a corrosive product was used, and the visit's note, where an order would stand, is not typed", audit.Field{Kind: "visits", Name: "note"})
				continue
			}
			x.NotMet(subject, audit.Fault{Grade: audit.Major, Matter: "corrosive", Criterion: &c, Found: "a corrosive product was used, and the visit's note has no order", Day: v.Started.Day(),
				Needed:   "it is used only under a physician's or podiatrist's order; if there was one, add it to the note as a late entry",
				Evidence: []audit.Evidence{audit.At(&g.Row, "use"), audit.At(&v.Row, "products"), audit.At(&v.Row, "note")}})
		}
		if len(used) == 0 {
			x.NotMet(subject, audit.Fault{Grade: audit.Observation, Matter: "corrosive kept", Criterion: &c, Found: "a corrosive product is kept, and no visit names it",
				Needed: "it is used only under a physician's or podiatrist's order", Evidence: []audit.Evidence{audit.At(&g.Row, "use")},
				Steps: []string{"If it is for clients' own use or under orders, write the order into the note of each visit that uses it.", "If it is not needed, throw it away by the rules for chemical waste."}})
		}
	}
}

// instrumentsBannedOrder reads a note: whether it names someone who may give an
// order, and whether that order is there; No where it says that there was none.
func instrumentsBannedOrder(note string) (who bool, order quantity.Tri) {
	words := strings.FieldsFunc(strings.ToLower(note), func(r rune) bool { return r < 'a' || r > 'z' })
	doctors := strings.Fields("physician physicians podiatrist podiatrists doctor doctors dr gp md np dermatologist surgeon specialist consultant prescriber nurse clinic hospital")
	for n, w := range words {
		who = who || slices.Contains(doctors, w)
		if !strings.HasPrefix(w, "order") && !strings.HasPrefix(w, "direct") && w != "rx" && (!strings.HasPrefix(w, "prescri") || w == "prescriber") {
			continue
		}
		before := n - 1
		for before >= 0 && (slices.Contains(strings.Fields("a an any the written s her his their"), words[before]) || slices.Contains(doctors, words[before])) {
			before--
		}
		if before >= 0 && slices.Contains(strings.Fields("no not without never"), words[before]) {
			return who, quantity.No
		}
		order = quantity.Yes
	}
	if !who {
		order = quantity.Unsure
	}
	return who, order
}
