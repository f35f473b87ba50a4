package audit

import (
	"fmt"

	"footing/internal/result"
)

// pack is "this pack from the drawer, which load?".
func (a *asking) pack(w Walks) result.AskedFor {
	out := result.AskedFor{Topic: "One pack from the drawer", Question: "This pack from the drawer: which load is it from?", Things: "links", KeptAt: keptAt(a.p, "packs", nil),
		Look: "look at the pack's label, then for the load in the log book"}
	if w.Pack == nil {
		out.State, out.What = result.AskedUntyped, "no pack is typed, so none could be drawn"
		if a.p.Profile.Reprocessing == "single-use-only" {
			out.State, out.What = result.AskedNone, "single-use instruments only, as practice.yaml says"
		}
		return out
	}
	walked(&out, w.Pack)
	out.What = fmt.Sprintf("drawn: pack %s, %s. %s", shownID("packs", w.Pack.Record.ID), oneOf(w.Packs, w.PackOf), out.What)
	return out
}

// visit is "this client last week, which pack?".
func (a *asking) visit(w Walks) result.AskedFor {
	out := result.AskedFor{Topic: "One client, one day", Question: "This client on that day: which pack, from which load, and what lies behind it?", Things: "links", KeptAt: keptAt(a.p, "visits", nil),
		Look: "look for the pack's label on the client's card, then for the load in the log book"}
	if w.Visit == nil {
		out.State, out.What = result.AskedUntyped, "no visit with treatment is typed, so none could be drawn"
		return out
	}
	walked(&out, w.Visit)
	out.What = fmt.Sprintf("drawn: visit %s, %s. %s", shownID("visits", w.Visit.Visit), oneOf(w.Visits, w.VisitOf), out.What)
	return out
}

// oneOf says of how many things one was drawn.
func oneOf(n int, of string) string {
	if n == 1 {
		return "the only one of the " + of
	}
	return fmt.Sprintf("one of %d %s", n, of)
}

// walked counts the links of a chain. The question is answered where the load is known.
func walked(out *result.AskedFor, c *Chain) {
	out.Walk = c
	load, part := "", false
	for _, l := range c.Links {
		switch l.State {
		case result.LinkNone:
			continue
		case result.LinkFound:
			out.Found++
		default:
			part = true
			out.Lacks = append(out.Lacks, l.Name)
		}
		out.Of++
		if l.Name == "load" {
			load = l.State
		}
	}
	answered := load == result.LinkFound || load == "" && out.Found > 0
	switch {
	case answered && !part:
		out.State = result.AskedFound
	case answered || load == result.LinkPart:
		out.State = result.AskedPart
	default:
		out.State = result.AskedUntyped
	}
	out.What = fmt.Sprintf("%d of %s behind it found", out.Found, Plural(out.Of, "link", "links"))
	out.Evidence = []Located{c.Record}
}

// shownID is an id in a sentence, never one that reads like a person's name.
func shownID(kind, id string) string {
	if ReadsLikeName(kind, id) {
		return "(a name, kept out of this sentence)"
	}
	return id
}
