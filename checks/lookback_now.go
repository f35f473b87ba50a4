package checks

import (
	"fmt"
	"slices"
	"strings"

	"footing/internal/audit"
	"footing/internal/chain"
	"footing/internal/practice"
	"footing/internal/quantity"
)

// lookbackPlan is what the first steps of a forward answer hang on.
type lookbackPlan struct {
	sterilizer *practice.Sterilizer // nil where several or none
	test       *practice.Test
	load       *practice.Load
	things     string         // of what packs are put on hold, where it is no sterilizer: "the instrument"
	loose      bool           // asked about a pack of which the load is not known
	real       bool           // something went wrong, as written or as asked; else the answer is for the day on which it does
	stray      *practice.Test // failed, and may be of this sterilizer
	signs      bool           // something else than a failed spore test speaks against the sterilizer
	since      chain.Proof    // of a failed test: what shows that it worked again
	passed     int            // of a failed test: spore tests that passed since, where enough did
	first      quantity.Day
	few        int // of a failed test: spore tests that passed since, where they do not end it
	narrowings []chain.Narrowing
	begun      bool // nothing but the first record begins the window: older packs are in question too
	unlogged   bool // a load of the time may not be typed
	unplaced   int  // loads that name no sterilizer
	look       *audit.Lookback
	reach      chain.Reach
}

func (r *lookbackRun) now(format string, words ...any) {
	r.a.Now = append(r.a.Now, fmt.Sprintf(format, words...))
}

// plan says what to do now, in order, and who decides.
func (r *lookbackRun) plan(p lookbackPlan) {
	switch {
	case p.real:
	case p.signs:
		r.now("Look first at what is typed of this time, named under “In short”. The rest is for the day on which a test fails, or on which you doubt it; then do it in this order.")
	case p.things != "" || p.load != nil:
		r.now("Nothing typed here says that it failed. If you have reason to doubt it, do this, in this order.")
	default:
		r.now("Nothing typed here asks you to do this today. Keep it for the day on which a test fails, or on which you doubt it; then do it in this order.")
	}
	r.stop(p)
	r.hold(p)
	r.now("Telephone %s and %s today, before you contact anyone else.", r.health(), r.regulator())
	r.now("Keep everything as it is: vial or strip, its control, indicators, data-logger files, log and packs. Throw away, clean out or correct nothing.")
	switch asked := p.test != nil || p.sterilizer != nil && p.load == nil; {
	case asked && p.ended():
		r.now("Whether more tests are to be run is for the maker and public health to say.")
	case asked:
		r.now("Repeat the test as the maker and public health say, and leave the sterilizer out of use until they and the repeats allow it.")
	}
	r.now("Write down, with times, what you do today. Change, tidy or back-date nothing in the records; what you remember goes down as a late entry of today's date.")
	r.a.Decides = "Public health decides, with your regulator, whether clients are told, who tells them and how. Ask before you contact anyone."
}

// ended reports whether enough spore tests passed since a failure.
func (p lookbackPlan) ended() bool {
	return p.real && p.stray == nil && (p.since.Kind == chain.Spores || p.passed > 0)
}

func (r *lookbackRun) stop(p lookbackPlan) {
	switch s := p.sterilizer; {
	case p.things != "" && p.load != nil:
		r.now("Use no pack of the same load until you know what happened.")
	case s == nil && p.load != nil:
		r.now("Use no pack of the load until you know what happened.")
	case s == nil:
		r.now("Stop using %s until you know what happened.", p.what())
	case s.RetiredOn.Written() && s.RetiredOn <= r.P.AsOf:
		r.now("The sterilizer is written as retired since %s; make sure that nobody uses it.", s.RetiredOn.Words())
	case p.load != nil:
		r.now("Use no pack of the load. If the fault may lie in %s, stop using it too until that is clear.", lookbackSterilizer(s))
	case p.stray != nil:
		r.now("Find out which sterilizer the failed spore test of %s was of: look at the strip, the laboratory's report and the log book. Until that is clear, stop using %s: single-use or contracted instruments, or move the visits.", lookbackWords(p.stray.RunAt.Day()), lookbackSterilizer(s))
	case p.real && p.since.Kind == chain.Spores:
		r.now("Since then %s is written. Whether %s may be used is for the maker and public health to say: if they were not told of the failure then, stop using it and tell them now.", lookbackProof(p.since), lookbackSterilizer(s))
	case p.real && p.passed > 0:
		r.now("%s, though not all of each is written. Whether %s may be used is for the maker and public health to say: if they were not told of the failure then, stop using it and tell them now.", lookbackCapital(lookbackSince(p.passed, p.first)), lookbackSterilizer(s))
	case p.few > 0:
		r.now("Stop using %s, unless public health or the maker allows it, or allowed it then: single-use or contracted instruments, or move the visits. Since the failure %s passed, as written; what ends one here is %d, one after the other, with all of each written.", lookbackSterilizer(s), audit.Plural(p.few, "spore test", "spore tests"), r.terms.Repeats)
	default:
		r.now("Stop using %s, unless public health or the maker tells you otherwise: single-use or contracted instruments, or move the visits.", lookbackSterilizer(s))
	}
}

func (p lookbackPlan) what() string {
	switch {
	case p.sterilizer != nil:
		return "the sterilizer"
	case p.load != nil:
		return "the load"
	case p.things != "":
		return p.things
	}
	return "it"
}

// hold says which packs to put on hold and where to look first.
func (r *lookbackRun) hold(p lookbackPlan) {
	w := p.look.Windows[0]
	what := "every closed pack of " + p.what()
	switch {
	case p.things == "the instrument":
		what = "every closed pack that holds the instrument"
	case p.loose:
		what = "every closed pack that could be of the same load"
	}
	switch {
	case p.begun:
		what += " dated up to " + lookbackDayOf(w.Until)
	case w.Since != "":
		what += fmt.Sprintf(" dated %s to %s", lookbackDayOf(w.Since), lookbackDayOf(w.Until))
	}
	if n, words := lookbackHeld(p.look.Pull); n > 0 {
		r.now("Put on hold %s, %s: up to %s by these records, %s.", what, r.places(p), audit.Plural(n, "pack", "packs"), words)
	} else {
		r.now("Put on hold %s: none is written as closed still, so look on the shelves and in each bag all the same.", what)
	}
	if own := lookbackOf(p.look.Pull, p.load); own > 0 && p.sterilizer != nil {
		r.now("Begin with those of this load: %s.", audit.Plural(own, "pack", "packs"))
	}
	if w.Unwritten > 0 {
		r.now("Look for these first: %s for which neither use, opening nor a count is written%s.", audit.Plural(w.Unwritten, "pack", "packs"), r.bagWords())
	}
	if p.reach.Uncounted > 0 {
		r.now("How many packs %s made is not written: look for every pack with their dates.", audit.Plural(p.reach.Uncounted, "load", "loads"))
	}
}

// lookbackOf counts the packs to be put on hold that are of one load.
func lookbackOf(pulls []audit.Pull, load *practice.Load) (n int) {
	for _, p := range pulls {
		if load != nil && p.Load == practice.Key(&load.Row) {
			n += p.Count
		}
	}
	return n
}

// lookbackHeld is how many packs are to be put on hold, and what is written of them.
func lookbackHeld(pulls []audit.Pull) (n int, words string) {
	shelf, nowhere, counted := 0, 0, 0
	for _, p := range pulls {
		switch {
		case p.Pack == "":
			counted += p.Count
		case p.State == lookbackShelf:
			shelf += p.Count
		default:
			nowhere += p.Count
		}
	}
	var parts []string
	for _, of := range []struct {
		n    int
		what string
	}{{shelf, "counted on a shelf"}, {nowhere, "with their whereabouts not written"}, {counted, "by the loads' counts alone"}} {
		if of.n > 0 {
			parts = append(parts, fmt.Sprintf("%d %s", of.n, of.what))
		}
	}
	return shelf + nowhere + counted, strings.Join(parts, ", ")
}

// places says at which sites packs to put on hold are kept, and in which mobile bags.
func (r *lookbackRun) places(p lookbackPlan) string {
	bags := r.bags()
	var sites []string
	for _, pull := range p.look.Pull {
		switch {
		case r.mobile(pull.Site):
			bags = append(bags, pull.Site)
		case pull.Site != "":
			sites = append(sites, pull.Site)
		}
	}
	slices.Sort(sites)
	var parts []string
	if sites = slices.Compact(sites); len(sites) > 0 {
		parts = append(parts, "at "+strings.Join(sites, ", "))
	}
	slices.Sort(bags)
	switch bags = slices.Compact(bags); len(bags) {
	case 0:
	case 1:
		parts = append(parts, "in the mobile bag ("+bags[0]+")")
	default:
		parts = append(parts, "in the mobile bags ("+strings.Join(bags, ", ")+")")
	}
	if len(parts) == 0 {
		return "at each site and in each bag"
	}
	return strings.Join(parts, " and ")
}

// bags are the mobile sites.
func (r *lookbackRun) bags() (ids []string) {
	for i := range r.P.Sites {
		if s := &r.P.Sites[i]; s.Type == "mobile" && (!s.ClosedOn.Written() || s.ClosedOn > r.P.AsOf) {
			ids = append(ids, practice.Key(&s.Row))
		}
	}
	return ids
}

func (r *lookbackRun) bagWords() string {
	if len(r.bags()) > 0 || r.P.Count("trips") > 0 {
		return ", the mobile bag before the shelves"
	}
	return ""
}

// health, regulator and insurer are whom to telephone, with what is typed of how to reach them.
func (r *lookbackRun) health() string {
	return lookbackReach("public health", "", r.P.Profile.Contacts.PublicHealth)
}

func (r *lookbackRun) regulator() string {
	return lookbackReach("your regulator", r.P.Profile.Regulator, r.P.Profile.Contacts.Regulator)
}

func (r *lookbackRun) insurer() string {
	return lookbackReach("your insurer", "", r.P.Profile.Contacts.Insurer)
}

func lookbackReach(who, name, contact string) string {
	if contact == "" {
		contact = "number not typed: write it into practice.yaml, contacts"
	}
	if name != "" {
		contact = name + "; " + contact
	}
	return who + " (" + contact + ")"
}
