package chain

import (
	"fmt"
	"slices"
	"strings"

	"footing/internal/practice"
	"footing/internal/quantity"
)

const (
	few     = 3 // loads that could have supplied a visit, of which the links are told
	someIDs = 6 // ids that one sentence names
)

// guess makes of a link of loads that only could have supplied a visit what it is.
func (f *Follower) guess(l, load Link, loads []*practice.Load) Link {
	if !load.Guessed {
		return l
	}
	if l.State == LinkFound {
		l.State = LinkPart
	}
	if len(loads) > 1 {
		l.What = fmt.Sprintf("of the last %d loads that could have supplied it: %s", len(loads), l.What)
	} else {
		l.What = "of the load that could have supplied it last: " + l.What
	}
	l.Sure, l.Guessed = false, true
	return l
}

// join makes one link of the same link of several loads: found where each is to which
// it applies, and in part where some are.
func join(each []Link, loads []*practice.Load) Link {
	if len(each) == 1 {
		return each[0]
	}
	best, worst, same := LinkNone, LinkFound, true
	out := Link{}
	for i, l := range each {
		if l.State != LinkNone {
			best, worst = max(best, l.State), min(worst, l.State)
		}
		same = same && l.What == each[0].What
		out.Seen = append(out.Seen, l.Seen...)
		out.Sure = out.Sure || l.Sure
		out.Heed = append(out.Heed, l.Heed...)
		if i < someIDs {
			out.What += "; " + label(&loads[i].Row) + ": " + l.What
		}
	}
	out.What = strings.TrimPrefix(out.What, "; ")
	if same {
		out.What = each[0].What
	} else if more := len(each) - someIDs; more > 0 {
		out.What += fmt.Sprintf("; and %d more", more)
	}
	switch {
	case best == worst, best == LinkNone:
		out.State = best
	case best >= LinkPart || worst == LinkAbsent:
		out.State = LinkPart
	default:
		out.State = best
	}
	out.Seen = seenOnce(out.Seen)
	return out
}

func seenOnce(all []Seen) (once []Seen) {
	for _, s := range all {
		if !slices.Contains(once, s) {
			once = append(once, s)
		}
	}
	return once
}

// candidates are the loads that could have supplied a visit that names none: begun
// before it, not rejected, and with a pack left that no visit is written to have used.
// The last few of them are followed.
func (f *Follower) candidates(v *practice.Visit, pack Link) (Link, []*practice.Load) {
	if len(f.p.Loads) == 0 {
		return Link{State: LinkUnkept, What: "nothing is typed for loads, so it is not judged", Guessed: true}, nil
	}
	n := 0
	var last []*practice.Load
	for _, l := range slices.Backward(f.p.LoadsByTime()) {
		if l.Decision == "rejected" || l.Decision == "pending" || l.PacksMade.Written && l.PacksMade.Value == 0 || !f.before(l, v) || f.used(l) {
			continue
		}
		if n++; len(last) < few {
			last = append(last, l)
		}
	}
	if n == 0 {
		return Link{State: LinkUnkept, What: "no load that could have supplied it is typed", Guessed: true, Sure: false}, nil
	}
	link := Link{State: LinkPart, What: fmt.Sprintf("without a pack number: %d loads before it could have supplied it", n), Guessed: true, Sure: pack.Sure}
	if n == 1 {
		link.What = "without a pack number: one load before it could have supplied it"
	}
	for i, l := range last {
		if i == 0 && n > len(last) {
			link.What += ", the last ones"
		} else if i == 0 {
			link.What += ":"
		} else {
			link.What += ","
		}
		link.What += " " + label(&l.Row) + " (" + l.Started.Words() + ")"
		link.Seen = append(link.Seen, Seen{Row: &l.Row, Field: "started", Note: "could have supplied it"})
	}
	return link, last
}

// before reports whether a load can have been over before a visit began.
func (f *Follower) before(l *practice.Load, v *practice.Visit) bool {
	at := l.Ended
	if !at.Written() {
		at = l.Started
	}
	return f.terms.Clock.Before(at, v.Started) != quantity.No
}

// used reports whether every pack that a load made is written as used at some visit,
// or as thrown away unopened.
func (f *Follower) used(l *practice.Load) bool {
	spent, known := f.spent[l]
	if known {
		return spent
	}
	key := practice.Key(&l.Row)
	packs := f.p.PacksOf(key)
	_, state := f.p.Load(key)
	spent = state == practice.One && len(packs) > 0 && l.PacksMade.Written && float64(len(packs)) >= l.PacksMade.Value
	for _, k := range packs {
		if !spent {
			break
		}
		fate := FateOf(f.p, k)
		spent = !fate.Shared && (fate.Where == Used || fate.Where == Discarded)
	}
	f.spent[l] = spent
	return spent
}
