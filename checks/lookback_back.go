package checks

import (
	"fmt"
	"slices"
	"strings"

	"footing/internal/audit"
	"footing/internal/chain"
	"footing/internal/practice"
)

// ofVisit answers backwards: everything behind one visit.
func (r *lookbackRun) ofVisit() error {
	row, state := r.P.Visit(r.q.ID)
	v, err := lookbackThe(r, row, state)
	if err != nil {
		return err
	}
	r.a.Asked.Words = fmt.Sprintf("visit %s of %s on %s", r.q.ID, lookbackClient(v.Client), v.Started.Words())
	r.says("Everything behind visit %s of %s, %s, as far as it is typed. Nothing here judges what happened.", r.q.ID, lookbackClient(v.Client), v.Started.Words())
	if !v.Done() {
		r.says("The visit is written as %s, so it did not take place.", v.Status)
	}
	r.backward([]*practice.Visit{v})
	r.backSteps()
	return nil
}

// lookbackClient names a client in a sentence.
func lookbackClient(id string) string {
	if id == "" {
		return "a client who is not written"
	}
	return lookbackThing("clients", "client", id)
}

// ofClient answers backwards for the visits of a client in the time given.
func (r *lookbackRun) ofClient() error {
	if _, state := r.P.Client(r.q.ID); state != practice.One && len(r.P.VisitsOf(r.q.ID)) == 0 {
		return r.refuse(state, "", "")
	}
	visits := r.visitsOf(r.q.ID)
	r.a.Asked.Words = fmt.Sprintf("%s, visits %s", lookbackClient(r.q.ID), r.timeWords())
	r.says("%s, %s: %s. What stands behind each follows, as far as it is typed; nothing here judges what happened.", lookbackCapital(lookbackClient(r.q.ID)), r.timeWords(), lookbackTyped(visits))
	r.backward(visits)
	r.backSteps()
	return nil
}

// visitsOf are the visits of a client that took place in the time given.
func (r *lookbackRun) visitsOf(client string) (list []*practice.Visit) {
	for _, v := range r.P.VisitsOf(client) {
		if v.Done() && r.within(v.Started.Day()) {
			list = append(list, v)
		}
	}
	return list
}

func lookbackTyped(visits []*practice.Visit) string {
	if len(visits) == 0 {
		return "no visit is typed"
	}
	return audit.Plural(len(visits), "visit is typed", "visits are typed") + ": " + lookbackDates(visits)
}

// lookbackDates are the days of visits in a sentence, each once; the first and last of many.
func lookbackDates(visits []*practice.Visit) string {
	var days []string
	for _, v := range visits {
		days = append(days, lookbackWords(v.Started.Day()))
	}
	days = slices.Compact(days)
	if len(days) > len(chain.LinkNames()) {
		return "the first on " + days[0] + ", the last on " + days[len(days)-1]
	}
	return strings.Join(days, ", ")
}

// backward adds the chain behind each visit, one line each of what was not found, and
// how many other clients share a load, a pack or an instrument with them.
func (r *lookbackRun) backward(visits []*practice.Visit) {
	f := chain.Follow(r.P, trailTerms(r.Examination))
	trail := &trailRun{Examination: r.Examination}
	for _, v := range visits {
		links := f.Behind(v)
		r.behind[v] = links
		r.a.Chains = append(r.a.Chains, trail.chain(v, links, trailTallyOf(links).followed()))
	}
	r.sayHeed(visits)
	r.sayChains()
	r.lacksBehind()
	r.others(visits)
	r.limit("Not in the folder does not mean not done: it was not typed, or not found where it was looked for.")
	r.limit("A link that is found says that it is written, not that it was right.")
}

// sayHeed tells first what is written behind visits that cannot wait, each once.
func (r *lookbackRun) sayHeed(visits []*practice.Visit) {
	var said []string
	for _, v := range visits {
		for _, l := range r.behind[v] {
			for _, heed := range l.Heed {
				if l.Guessed {
					heed += " (the visit names no pack and no load; this is of one that could have supplied it)"
				}
				if !slices.Contains(said, heed) {
					said = append(said, heed)
				}
			}
		}
	}
	for _, heed := range said {
		r.says("Look at this first: %s. A row mistyped would explain it; until that is clear take it as it stands, and ask for the look-back of that test or load.", heed)
	}
}

// sayChains tells what was found behind one visit in a line, and behind several in a
// line for each state.
func (r *lookbackRun) sayChains() {
	total := len(r.a.Chains)
	for _, s := range []chain.LinkState{chain.LinkFound, chain.LinkPart, chain.LinkAbsent, chain.LinkUnkept} {
		var names []string
		for _, name := range chain.LinkNames() {
			if n := r.inState(name, s); n == total && n > 0 {
				names = append(names, name)
			} else if n > 0 {
				names = append(names, fmt.Sprintf("%s (%d of %d)", name, n, total))
			}
		}
		if len(names) > 0 {
			r.says("%s: %s.", lookbackCapital(s.String()), strings.Join(names, ", "))
		}
	}
}

// inState counts the visits of which a link is in a state.
func (r *lookbackRun) inState(name string, s chain.LinkState) (n int) {
	for _, c := range r.a.Chains {
		if slices.ContainsFunc(c.Links, func(l audit.Link) bool { return l.Name == name && l.State == s.String() }) {
			n++
		}
	}
	return n
}

// lacksBehind lists each link that is not found, or never typed, with where to look.
func (r *lookbackRun) lacksBehind() {
	missing := map[string]int{}
	for _, c := range r.a.Chains {
		for _, l := range c.Links {
			gone := l.State == chain.LinkAbsent.String() || l.State == chain.LinkUnkept.String()
			if gone {
				missing[l.Name]++
			}
			if gone && (l.Name == chain.LinkPack || l.Name == chain.LinkLoad) {
				break // what hangs on the load cannot be found without it
			}
		}
	}
	for _, name := range chain.LinkNames() {
		if n := missing[name]; n > 0 {
			r.missing("%s, for %s: %s.", lookbackCapital(name), audit.Plural(n, "visit", "visits"), lookbackWhere[name])
		}
	}
}

// lookbackWhere says where to look first for each link.
var lookbackWhere = map[string]string{
	chain.LinkPerson:    "look into the diary and the folder of certificates",
	chain.LinkHistory:   "look on the client's card",
	chain.LinkScreen:    "look on the client's card and its first form",
	chain.LinkConsent:   "look for the signed form with the card",
	chain.LinkGloves:    "look into the visit's note",
	chain.LinkPack:      "look for the pack's label on the card",
	chain.LinkLoad:      "look on the pack's label and in the log book",
	chain.LinkRelease:   "look into the log book",
	chain.LinkTrace:     "look on the memory stick, and for the printout in the log book",
	chain.LinkIndicator: "look for the strip in the log book",
	chain.LinkSpore:     "look for the laboratory's reports in its e-mails",
	chain.LinkService:   "look for the technician's report",
	chain.LinkTraining:  "look into the folder of certificates",
	chain.LinkEvents:    "look into the incident book and the copies of letters sent",
}

// backSteps are what to do with a chain that was asked for out of no complaint.
func (r *lookbackRun) backSteps() {
	r.now("Keep the card, the diary, labels, strips and data-logger files of these visits as they are. Add to, correct or throw away nothing.")
	r.now("Look for what is named below as not in the folder. What you find goes in as a late entry of today's date; what stays missing stays missing.")
	r.now("If you ask because someone may have come to harm: telephone %s, %s and %s before you answer or contact anyone.", r.health(), r.regulator(), r.insurer())
	r.a.Decides = "Public health decides, with your regulator, whether clients are told; your regulator decides about conduct. Nothing here judges what happened."
}
