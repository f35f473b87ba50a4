package cli

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"footing/internal/audit"
	"footing/internal/practice"
	"footing/schemas"
)

// work is an estimate of what typing a kind takes.
type work struct {
	kind          string
	rows, seconds int
	basis         string // where the number of rows comes from
}

// workOf estimates what typing a kind of which nothing is typed takes.
func workOf(p *practice.Practice, kind string) work {
	w := work{kind: kind}
	t, _ := audit.TypingOf(kind)
	w.rows, w.basis = rowsOf(p, kind, t.Rows)
	w.seconds = t.Seconds(w.rows)
	return w
}

// workOfField estimates what filling one column of so many rows takes, in seconds.
func workOfField(rows int) int { return audit.Typing{Fields: 1}.Seconds(rows) }

// rowsOf is how many rows of a kind there would be to type: by the ids that other rows
// name, by what is typed of a kind that goes with it, or else as assumed.
func rowsOf(p *practice.Practice, kind string, assumed int) (rows int, basis string) {
	if k, ok := schemas.Lookup(kind); ok && k.Single {
		return 1, ""
	}
	if n := namedOf(p, kind); n > 0 {
		return n, "as many as other rows name"
	}
	people, clients := cmp.Or(p.Count("people"), namedOf(p, "people")), cmp.Or(p.Count("clients"), namedOf(p, "clients"))
	weeks, loads := weeksOf(p), p.Count("loads")
	switch {
	case kind == "credentials" && people > 0:
		return 4 * people, "four for each person"
	case kind == "people" || kind == "credentials":
	case kind == "tests" && weeks > 0:
		return weeks, "a spore test for each week of the loads typed"
	case kind == "loads" && len(p.Intake.Traces) > 0:
		return len(p.Intake.Traces), "one for each data-logger file"
	case kind == "upkeep" && p.Count("sterilizers") > 0:
		return 3 * p.Count("sterilizers"), "three for each sterilizer"
	case kind == "programs" && p.Count("sterilizers") > 0:
		return 2 * p.Count("sterilizers"), "two for each sterilizer"
	case slices.Contains([]string{"screens", "histories", "consents"}, kind) && clients > 0:
		return clients, "one for each client"
	case kind == "packs" && loads > 0:
		return packsOf(p), "as many as the loads made, or six a load"
	case kind == "visits" && weeks > 0:
		return 20 * weeks, "our guess: 20 for each week of the loads typed"
	}
	return assumed, "our guess"
}

// namedOf counts the ids that rows name and that stand on no row of the kind; for kinds
// of which there is none typed, that is how many there must be.
func namedOf(p *practice.Practice, kind string) int {
	ids := map[string]bool{}
	for i := range p.Dangling {
		if d := &p.Dangling[i]; d.State == practice.Absent && d.Kinds[0] == kind {
			ids[d.ID] = true
		}
	}
	return len(ids)
}

// weeksOf is how many weeks the loads typed span, at most a year; 0 where fewer than two are dated.
func weeksOf(p *practice.Practice) int {
	loads := p.LoadsByTime()
	if len(loads) < 2 {
		return 0
	}
	days := int(loads[len(loads)-1].Started.Day()-loads[0].Started.Day()) + 1
	return min(int(math.Ceil(float64(days)/7)), 52)
}

// packsOf is how many packs the loads typed made.
func packsOf(p *practice.Practice) (n int) {
	for i := range p.Loads {
		if made := p.Loads[i].PacksMade; made.Written {
			n += int(made.Value)
		} else {
			n += 6
		}
	}
	return n
}

// about says a span of time as roughly as it is known.
func about(seconds int) string {
	switch minutes := float64(seconds) / 60; {
	case minutes < 1.5:
		return "about a minute"
	case minutes < 10:
		return fmt.Sprintf("about %.0f minutes", minutes)
	case minutes < 57.5:
		return fmt.Sprintf("about %.0f minutes", 5*math.Round(minutes/5))
	case minutes < 75:
		return "about an hour"
	case minutes < 105:
		return "about an hour and a half"
	case minutes < 10*60-15:
		return "about " + halves(math.Round(minutes/30)) + " hours"
	default:
		return "about " + thousands(int(math.Round(minutes/60))) + " hours"
	}
}

func halves(n float64) string {
	if int(n)%2 == 1 {
		return fmt.Sprintf("%d and a half", int(n)/2)
	}
	return fmt.Sprint(int(n) / 2)
}
