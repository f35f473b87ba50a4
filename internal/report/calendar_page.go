package report

import (
	"strconv"

	"footing/internal/result"
)

// calendarKey names the n-th calendar in a fence. No exhibit or check has a colon in
// its key but with the lead of its own.
func calendarKey(n int) string { return "calendar:" + strconv.Itoa(n+1) }

// calendarSection prints the calendar of each sterilizer, with what stands out in words.
func (p *page) calendarSection() {
	if len(p.calendars) == 0 {
		return
	}
	p.heading(2, titleCalendar)
	p.para("Each row is a month, each column a day. **In the text:** the first mark is the number of loads (“.” for none, “+” for ten or more, “r” where all were rejected); then s, a or l for a spore, air-removal or leak test that passed, “?” for one without a result yet, and the capital letter with “!” for one that failed; “_” for a day in a stretch in which a test is not written. **In the drawing:** the key stands below it. A day without a mark is a day of which nothing is written.")
	for n, c := range p.calendars {
		p.heading(3, text(upper(orElse("sterilizer "+plain(c.sterilizer), "sterilizer"))+", "+c.span()))
		p.fence("figure "+calendarKey(n), c.lines())
		p.list(texts(c.standsOut())...)
		if c.earlier > 0 {
			p.para(say("%s not drawn; their days stand in audit.json.", several(c.earlier, "earlier month is", "earlier months are")))
		}
	}
	if p.withoutCalendar > 0 {
		p.para(say("%s without a drawing; their days stand in audit.json.", several(p.withoutCalendar, "more sterilizer is", "more sterilizers are")))
	}
}

// mostOut is how many days or stretches a line names.
const mostOut = 12

// standsOut says in words what the calendar shows: how much was used and tested, and
// each failure, open result and gap.
func (c *calendar) standsOut() []string {
	used, loads := 0, 0
	passed := [len(calendarTests)]int{}
	var failed, open []string
	for i := range c.days {
		d := &calendarDay{Day: c.days[i]}
		loads += d.Loads
		if d.Loads > 0 {
			used++
		}
		for t, r := range d.results() {
			switch r {
			case "":
			case "pass":
				passed[t]++
			case "fail":
				failed = append(failed, calendarTests[t].plain+" "+day(d.On))
			default:
				open = append(open, calendarTests[t].plain+" "+day(d.On)+" ("+r+")")
			}
		}
	}
	first := several(loads, "load", "loads") + " on " + several(used, "day", "days") + "; days with a pass: "
	for t, n := range passed {
		if t > 0 {
			first += ", "
		}
		first += calendarTests[t].plain + " " + strconv.Itoa(n)
	}
	out := []string{first + "."}
	for _, l := range []struct {
		lead  string
		items []string
	}{{"Failed", failed}, {"Without a pass or a failure", open}, {"Stretches in which a test is not written", c.gapWords()}} {
		if len(l.items) > 0 {
			out = append(out, l.lead+": "+someOf(l.items, mostOut)+".")
		}
	}
	return out
}

func (c *calendar) gapWords() (out []string) {
	for _, g := range c.gaps {
		out = append(out, calendarName(g)+", "+span(g.From, g.Until)+" ("+several(g.Days, "day", "days")+")")
	}
	return out
}

func calendarName(g result.Gap) string {
	for _, t := range calendarTests {
		if t.name == g.Test {
			return t.plain
		}
	}
	return g.Test
}

// someOf joins the first few with semicolons and counts the rest.
func someOf(items []string, most int) string {
	more := len(items) - most
	if more > 0 {
		items = append(items[:most:most], several(more, "more", "more"))
	}
	out := ""
	for i, s := range items {
		if i > 0 {
			out += "; "
		}
		out += s
	}
	return out
}
