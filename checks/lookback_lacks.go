package checks

import (
	"fmt"

	"footing/internal/audit"
	"footing/internal/practice"
)

// limits says what the figures are not.
func (r *lookbackRun) limits(p lookbackPlan) {
	w := p.look.Windows[0]
	if w.MostVisits > w.Visits {
		r.limit("The figures of visits and clients are upper limits: %s, and could have had a pack of these.", lookbackVisitsSay(w))
	}
	if p.unlogged {
		r.limit("Loads that are not typed are not in these figures, and nothing says that all of this time are. A visit that names no pack could have had one of such a load, so it counts in the upper limits.")
	}
	r.limit("They do not say that anyone was exposed, or that a cycle failed.")
	if files := r.files(p.look.Loads); files > 0 {
		r.limit("Data-logger files are here for %d of %s. Whatever they show, a data-logger file does not overrule a spore test.", files, audit.Plural(len(p.look.Loads), "load", "loads"))
	} else {
		r.limit("A data-logger file does not overrule a spore test.")
	}
	r.limit("This is a reading of what is typed. What was not typed was not seen, and may make it wider or narrower.")
}

func lookbackVisitsSay(w audit.Window) string {
	n := w.MostVisits - w.Visits
	if n == 1 {
		return "1 visit does not say where all its packs came from"
	}
	return fmt.Sprintf("%d visits do not say where all their packs came from", n)
}

func (r *lookbackRun) files(loads []audit.InWindow) (n int) {
	for _, l := range loads {
		if load, state := r.P.Load(l.Load); state == practice.One && len(r.P.TracesOf(load)) > 0 {
			n++
		}
	}
	return n
}

// lookbackPlaces say where to look first for rows of a kind.
var lookbackPlaces = map[string]string{
	"tests":  "look in the laboratory's e-mails, on the strips and in the log book.",
	"visits": "look for the packs' labels on the clients' cards.",
	"packs":  "look on each shelf and in each bag, and for labels on the clients' cards.",
	"loads":  "look into the log book and at the printouts.",
	"upkeep": "look for the technician's report.",
}

// lacks says what is not in the folder that would narrow the answer, and where to look.
func (r *lookbackRun) lacks(p lookbackPlan) {
	w := p.look.Windows[0]
	told := map[string]bool{}
	for _, n := range p.narrowings {
		told[n.Kind] = true
		if n.Kind == "tests" && n.Field == "" && r.P.Count("tests") == 0 {
			continue
		}
		line := lookbackCapital(n.What) + ": " + lookbackPlaces[n.Kind]
		if with := lookbackNarrowing(n); with.Days >= 0 {
			line += fmt.Sprintf(" At best that leaves %s, %s, and at most %s of %s", lookbackDays(with.Days), audit.Plural(with.Loads, "load", "loads"), audit.Plural(with.Visits, "visit", "visits"), audit.Plural(with.Clients, "client", "clients")) + "."
		}
		r.missing("%s", line)
	}
	if n := w.MostVisits - w.Visits; n > 0 && !told["visits"] {
		r.missing("Which pack each of %s used: %s", audit.Plural(n, "visit", "visits"), lookbackPlaces["visits"])
	}
	if w.Unwritten > 0 && !told["packs"] {
		r.missing("What became of %s: %s", audit.Plural(w.Unwritten, "pack", "packs"), lookbackPlaces["packs"])
	}
	if p.reach.Uncounted > 0 {
		also := "."
		if r.P.Count("packs") > 0 {
			also = "; if each pack of that time has a row, say so in practice.yaml (coverage: kind packs, share all, from and until)."
		}
		r.missing("How many packs %s made: look into the log book and at the printouts%s", audit.Plural(p.reach.Uncounted, "load", "loads"), also)
	}
	if n := r.countedTrips(w.Since); n > 0 {
		r.missing("Which packs went out on %s: their rows say how many, not which. Look in the bag.", audit.Plural(n, "trip", "trips"))
	}
	if p.unlogged && w.MostVisits > w.Visits {
		r.missing("Whether each load of this time is typed: compare with the log book. If it is, say so in practice.yaml (coverage: kind loads, share all, from and until), and fewer visits may be left.")
	}
	if p.unplaced > 0 {
		r.missing("Which sterilizer ran %s: look into the log book.", audit.Plural(p.unplaced, "load", "loads"))
	}
	r.untyped("tests", "Spore tests: none is typed. Look for the laboratory's reports in its e-mails and in the folder of strips.")
	r.untyped("upkeep", "Services and validations: none is typed. Look for the technician's reports.")
	r.untyped("packs", "Packs: none is typed. The labels, the log's counts and the shelves tell which there are.")
	r.untyped("visits", "Visits: none is typed. The diary and the cards tell who was treated.")
}

// countedTrips are the trips since a day, as documents write it, of which only the
// number of packs is written.
func (r *lookbackRun) countedTrips(since string) (n int) {
	for i := range r.P.Trips {
		t := &r.P.Trips[i]
		if t.On.String() >= since && len(t.PacksOut.Items) == 0 && t.PacksOut.Number().Value > 0 {
			n++
		}
	}
	return n
}

func (r *lookbackRun) untyped(kind, what string) {
	if r.P.Count(kind) == 0 {
		r.missing("%s", what)
	}
}
