package report

import (
	"slices"
	"strconv"
	"strings"

	"footing/internal/result"
)

// mostSince is how many findings of one sort a page names; the rest are counted.
const mostSince = 40

// sinceLead begins the title of the section; the day of the earlier reading follows.
const sinceLead = "Since your reading of "

// sectionFor is how a heading of the second level behaves.
func sectionFor(title string) section {
	switch {
	case strings.HasPrefix(title, sinceLead):
		return section{id: "since", fold: true, open: true}
	case title == titleEach:
		return section{id: "since"}
	}
	return sections[title]
}

// sinceSorts are the sorts of findings, in the order of print. What may have another
// cause than that something was mended or went wrong stands apart.
var sinceSorts = []struct{ title, short, note string }{
	{"New", "new", ""},
	{"Found again", "found again", "Each went in a reading between, and is back. Look for what let it come back."},
	{"New, but nothing could look for it before", "new where nothing could look before", "The earlier reading could not look, so these may be older than it."},
	{"New, judged by another rule", "new under another rule", "The rule is another one than in the earlier reading, so these may be older than it."},
	{"Still open", "still open", ""},
	{"Closed", "closed", "Closed means: this reading does not find it any more. Whether it was put right, only a look at the thing itself can say."},
	{"No longer found, but there is less to see", "no longer found but with less to see", "The check sees less, or rows that it rested on are fewer. That alone may be why, so do not count these as closed."},
	{"No longer found, judged by another rule", "no longer found under another rule", "The rule is another one than in the earlier reading. That alone may be why, so do not count these as closed."},
}

// Places in sinceSorts.
const (
	sinceNew = iota
	sinceAgain
	sinceNewToSee
	sinceNewByRule
	sinceOpen
	sinceClosed
	sinceLess
	sinceByRule
)

// sinceItem is one finding in a sort.
type sinceItem struct {
	changed
	finding int    // its place among the findings; -1 for one that is gone
	key     string // its fingerprint
	days    int    // for how long it has been found; -1 where it cannot be told
}

// sinceItems are the findings of each sort.
func (ix *index) sinceItems() [][]sinceItem {
	out := make([][]sinceItem, len(sinceSorts))
	s := ix.Since
	type name struct{ finding, grade string }
	at := make(map[name]*result.Followed, len(s.Findings))
	for i := range s.Findings {
		at[name{s.Findings[i].Finding, s.Findings[i].Grade}] = &s.Findings[i]
	}
	for _, i := range ix.order {
		f := &ix.Findings[i]
		if k := at[name{f.Fingerprint, f.Grade}]; k != nil {
			out[sortOf(k)] = append(out[sortOf(k)], ix.followed(i, k))
		}
	}
	for _, g := range s.Closed {
		sort := sinceClosed
		switch {
		case g.Unseen:
			sort = sinceLess
		case g.Rule:
			sort = sinceByRule
		}
		out[sort] = append(out[sort], ix.goneItem(g))
	}
	return out
}

func sortOf(k *result.Followed) int {
	switch {
	case k.State == result.Still:
		return sinceOpen
	case k.State == result.Again:
		return sinceAgain
	case k.Unseen:
		return sinceNewToSee
	case k.Rule:
		return sinceNewByRule
	}
	return sinceNew
}

// followed is a finding of this reading, with what it was.
func (ix *index) followed(i int, k *result.Followed) sinceItem {
	f := &ix.Findings[i]
	item := sinceItem{changed: ix.foundNow(f), finding: i, key: ix.key[i], days: -1}
	if n, ok := days(k.From, ix.AsOf); ok {
		item.days = n
	}
	var more []string
	if was := k.Was; was != nil {
		if was.Grade != f.Grade {
			more = append(more, "Before: "+string(mark(was.Grade))+" "+orElse(was.Grade, "without a grade")+".")
		}
		if was.N != f.Extent.N {
			more = append(more, ofMany(f.Extent.N, f.Extent.Of)+", before "+ofMany(was.N, was.Of)+".")
		}
		if was.Accepted && !f.Accepted {
			more = append(more, "It was accepted for a time then; that has ended, or was taken back.")
		}
		if k.Rule {
			more = append(more, "It is judged by another rule than then.")
		}
	}
	if k.State == result.Again {
		more = append(more, "Not found on "+day(k.GoneOn)+".")
	}
	if f.Accepted {
		more = append(more, "Accepted for a time.")
	}
	item.text = strings.Join(append([]string{item.text}, more...), " ")
	return item
}

func ofMany(n, of int) string {
	if of == 0 {
		return strconv.Itoa(n)
	}
	return strconv.Itoa(n) + " of " + strconv.Itoa(of)
}

func (ix *index) goneItem(g result.Gone) sinceItem {
	f := result.Finding{Grade: g.Grade, Subject: g.Subject, Summary: g.Summary}
	item := sinceItem{changed: ix.foundNow(&f), finding: -1, key: g.Finding, days: -1}
	item.style, item.at = nil, ""
	if first, last := day(g.FirstSeen), day(g.LastSeen); first != last {
		item.text += " Found from " + first + " to " + last + "."
	} else if last != "" {
		item.text += " Last found on " + last + "."
	}
	if g.Accepted {
		item.text += " It was accepted for a time then."
	}
	return item
}

// lasting is "84 days", or "" where it is not known or less than one.
func lasting(n int) string {
	if n < 1 {
		return ""
	}
	return several(n, "day", "days")
}

// sinceLine says in one line what became of the earlier reading: "Since your reading of
// 2 Sep: 6 closed, 2 new, 3 still open (84 days)."
func (ix *index) sinceLine() string {
	if ix.Since == nil {
		return ""
	}
	return sinceLead + shortDay(ix.Since.AsOf, ix.AsOf) + ": " + ix.sinceCounts() + "."
}

// shortDay leaves out the year of a day that lies in the year of another.
func shortDay(d, other string) string {
	if len(d) >= 4 && len(other) >= 4 && d[:4] == other[:4] {
		return strings.TrimSuffix(day(d), " "+d[:4])
	}
	return day(d)
}

// sinceCounts counts the findings of each sort, what went first.
func (ix *index) sinceCounts() string {
	items := ix.sinceItems()
	var parts []string
	moved := false
	for _, sort := range []int{sinceClosed, sinceLess, sinceByRule, sinceNew, sinceNewToSee, sinceNewByRule, sinceAgain, sinceOpen} {
		n := len(items[sort])
		if n == 0 {
			continue
		}
		part := strconv.Itoa(n) + " " + sinceSorts[sort].short
		if sort == sinceOpen {
			part += openFor(items[sort])
		} else {
			moved = true
		}
		parts = append(parts, part)
	}
	switch {
	case len(parts) == 0:
		return "nothing was found then, and nothing now"
	case !moved:
		return "nothing closed and nothing new, " + parts[0]
	}
	return strings.Join(parts, ", ")
}

// openFor is " (84 days)" or " (14 to 84 days)".
func openFor(items []sinceItem) string {
	var all []int
	for _, i := range items {
		if i.days >= 0 {
			all = append(all, i.days)
		}
	}
	if len(all) == 0 || slices.Max(all) == 0 {
		return ""
	}
	if least, most := slices.Min(all), slices.Max(all); least != most {
		return " (" + strconv.Itoa(least) + " to " + lasting(most) + ")"
	}
	return " (" + lasting(all[0]) + ")"
}
