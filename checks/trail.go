package checks

import (
	"slices"

	"footing/internal/audit"
	"footing/internal/chain"
	"footing/internal/practice"
	"footing/internal/quantity"
)

// trailUses are the criteria by which visits are drawn and followed.
var trailUses = []string{"records.trail-sample", "records.trail-level", "records.trail-major", "records.trail-minor", "records.clock", "packs.procedures", "packs.visit-kept", "clients.screen-lead"}

// trailRun is one draw of visits, each followed to what stands behind it.
type trailRun struct {
	*audit.Examination
	of     int     // visits that could be drawn
	level  float64 // per cent
	drawn  []*practice.Visit
	links  [][]chain.Link // of each visit drawn
	tallys []trailTally
}

// trailTally is what the links of one visit come to.
type trailTally struct {
	kept    bool         // some link of the trail is kept
	sure    bool         // one is missing, and the gap is one of the records themselves
	missing []chain.Link // links of the trail not found, or found in part
}

// followed reports whether each link that is kept, and there is one, was found.
func (t trailTally) followed() bool { return t.kept && len(t.missing) == 0 }

// TrailDraw draws n visits at random from those at which treatment took place inside
// the records, starting from the seed of the examination, and follows each. With
// fewer visits than n, all are drawn. Every chain has its links in the order of
// chain.LinkNames; the trail counts those of chain.TrailLinks.
func TrailDraw(x *audit.Examination, n int) (audit.Trail, []audit.Chain) {
	r := trailOf(x, n)
	chains := make([]audit.Chain, len(r.drawn))
	for i, v := range r.drawn {
		chains[i] = r.chain(v, r.links[i], r.tallys[i].followed())
	}
	return r.trail(), chains
}

// TrailCheck is the id of the check that draws by the same code.
func TrailCheck() string { return "records/trail" }

// TrailSample is how many visits are drawn where nobody says.
func TrailSample(x *audit.Examination) int {
	c, _ := x.Criterion("records.trail-sample", nil)
	return int(c.Number())
}

func trailOf(x *audit.Examination, n int) *trailRun {
	level, _ := x.Criterion("records.trail-level", nil)
	r := &trailRun{Examination: x, level: level.Quantity().In(quantity.PercentU)}
	all := trailVisits(x.P)
	r.of, r.drawn = len(all), chain.DrawVisits(all, n, x.Seed())
	follower := chain.Follow(x.P, trailTerms(x))
	for _, v := range r.drawn {
		links := follower.Behind(v)
		r.links, r.tallys = append(r.links, links), append(r.tallys, trailTallyOf(links))
	}
	return r
}

// trailTerms are those by which a chain is followed.
func trailTerms(x *audit.Examination) chain.LinkTerms {
	terms := chain.LinkTerms{Clock: monitoringClock(x), Needs: packsNeeds(x)}
	if c, ok := x.Criterion("clients.screen-lead", nil); ok {
		terms.Lead = int(c.Quantity().In(quantity.DayU))
	}
	if c, ok := x.Criterion("packs.visit-kept", nil); ok {
		terms.Share = chain.Share(c.Quantity().In(quantity.PercentU))
	}
	return terms
}

// trailVisits are the visits that took place inside the records, and at which
// treatment took place, or may have where nothing says what was done.
func trailVisits(p *practice.Practice) (list []*practice.Visit) {
	for _, v := range p.VisitsByTime() {
		if v.Done() && v.Treated() != quantity.No && v.Started.Day() >= p.Profile.RecordsFrom {
			list = append(list, v)
		}
	}
	return list
}

// trailTallyOf counts the links of the trail. Where no visit ever names a pack, what
// loads could have supplied is told, and not counted against the visit.
func trailTallyOf(links []chain.Link) (t trailTally) {
	for _, l := range trailCounted(links) {
		switch l.State {
		case chain.LinkFound:
			t.kept = true
		case chain.LinkAbsent, chain.LinkPart:
			t.kept = true
			t.sure = t.sure || l.Sure
			t.missing = append(t.missing, l)
		}
	}
	return t
}

// trailCounted is the links that make a trail. What is guessed from loads that could
// have supplied a visit is never typed, where the packs of that time are not.
func trailCounted(links []chain.Link) (list []chain.Link) {
	unkept := slices.ContainsFunc(links, func(l chain.Link) bool { return l.Name == chain.LinkPack && l.State == chain.LinkUnkept })
	for _, l := range links {
		if !slices.Contains(chain.TrailLinks(), l.Name) {
			continue
		}
		if l.Guessed && unkept {
			l.State = chain.LinkUnkept
		}
		list = append(list, l)
	}
	return list
}

// count is how many of the visits drawn a tally says something of.
func (r *trailRun) count(is func(trailTally) bool) (n int) {
	for _, t := range r.tallys {
		if is(t) {
			n++
		}
	}
	return n
}

// trail is the draw as results have it.
func (r *trailRun) trail() audit.Trail {
	t := audit.Trail{Seed: r.Seed(), Of: r.of, Judged: r.count(func(t trailTally) bool { return t.kept }), Followed: r.count(trailTally.followed), Level: r.level, Drawn: []string{}, Links: []audit.TrailLink{}}
	t.Low, t.High = chain.ExactPercent(t.Followed, t.Judged, r.level)
	for _, v := range r.drawn {
		t.Drawn = append(t.Drawn, practice.Key(&v.Row))
	}
	most := 0
	for i, name := range chain.TrailLinks() {
		row := audit.TrailLink{Name: name}
		for _, links := range r.links {
			switch trailCounted(links)[i].State {
			case chain.LinkFound:
				row.Found++
			case chain.LinkUnkept:
				row.Unkept++
			case chain.LinkNone:
				row.None++
			default:
				row.Missing++
			}
		}
		if row.Missing > most {
			most, t.Weakest = row.Missing, name
		}
		t.Links = append(t.Links, row)
	}
	return t
}

// chain is one visit with its links, as results have it.
func (r *trailRun) chain(v *practice.Visit, links []chain.Link, whole bool) audit.Chain {
	c := audit.Chain{Visit: practice.Key(&v.Row), Client: v.Client, On: v.Started.String(), Site: v.Site, Person: v.Person, Whole: whole,
		Record: r.Locate(audit.At(&v.Row, "")), Links: []audit.Link{}, Copies: []audit.Located{}}
	for _, l := range links {
		out := audit.Link{Name: l.Name, State: l.State.String(), What: l.What, Evidence: []audit.Located{}}
		for _, s := range l.Seen {
			out.Evidence = append(out.Evidence, r.Locate(trailEvidence(s)))
		}
		c.Links = append(c.Links, out)
	}
	return c
}

func trailEvidence(s chain.Seen) audit.Evidence {
	if s.Trace != nil {
		return audit.InTrace(s.Trace, 0, s.Note)
	}
	return audit.At(s.Row, s.Field, s.Note)
}
