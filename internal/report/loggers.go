package report

import (
	"regexp"
	"slices"
	"strconv"

	"footing/internal/result"
)

// mostNamed is how many data-logger files a list names; the rest are counted.
const mostNamed = 20

// loggers says what the data-logger files show, with a chart of each that is drawn.
func (p *page) loggers() {
	if len(p.Traces) == 0 && len(p.charts) == 0 {
		return
	}
	p.heading(2, titleLoggers)
	p.para("A data-logger file is a second witness beside the chemical indicators and the spore tests. **It never overrules either: where a spore test shows growth, act on it, whatever the trace shows.** What a trace shows may have a plain cause: a sensor not calibrated, a clock that is wrong, an export taken twice.")
	p.para(text(loggersRead(p.Result)))
	p.unpaired()
	p.paired()
	if len(p.charts) > 0 {
		p.para("How to read a chart: the thick line is the coldest sensor, the thin line the warmest. The shaded strip is the band from the set temperature up, and the bar above marks the hold. The dashed line is the temperature that saturated steam has at the measured pressure. Where it lies above the measured temperature in the hold, the pressure is higher than that of steam alone: air, or a sensor that is off. Where it lies below, the steam is hotter than its pressure allows: superheat, or a sensor that is off. Where a line is open, nothing was recorded.")
	}
	for n, i := range p.charts {
		p.chart(n, i)
	}
	if p.Undrawn > 0 {
		p.para(say("%s not drawn here; the findings name %s. Either worse ones took the room, or nothing in %s can be drawn.",
			several(p.Undrawn, "more data-logger file with a finding is", "more data-logger files with a finding are"), it(p.Undrawn), it(p.Undrawn)))
	}
}

func it(n int) string {
	if n == 1 {
		return "it"
	}
	return "them"
}

// loggersShort tells of the data-logger files in a line: how many were read, judged
// and paired, and on how many a finding rests.
func loggersShort(r *result.Result) string {
	if len(r.Traces) == 0 {
		return ""
	}
	judged, paired, found := 0, 0, r.Undrawn
	for _, t := range r.Traces {
		if t.Judged {
			judged++
		}
		if t.Load != "" {
			paired++
		}
	}
	for _, x := range r.Exhibits {
		if x.Chart != nil && len(x.Chart.Findings) > 0 {
			found++
		}
	}
	of := func(n int) string {
		if n == len(r.Traces) && n > 1 {
			return "all"
		}
		return strconv.Itoa(n)
	}
	rest := "no finding rests on " + it(len(r.Traces))
	if found > 0 {
		rest = "findings rest on " + of(found) + " of them"
	}
	if found == len(r.Traces) && found == 1 {
		rest = "findings rest on it"
	}
	return "Data-logger files: " + strconv.Itoa(len(r.Traces)) + " read, " + of(judged) + " judged, " + of(paired) + " paired with a load of the log; " + rest + "."
}

// loggersRead counts the data-logger files: read, judged, and how they found their load.
func loggersRead(r *result.Result) string {
	if len(r.Traces) == 0 {
		return ""
	}
	judged, paired, by := 0, 0, map[string]int{}
	for _, t := range r.Traces {
		if t.Judged {
			judged++
		}
		if t.Load != "" {
			paired++
			by[t.By]++
		}
	}
	out := "Data-logger files: " + strconv.Itoa(len(r.Traces)) + " read, " + strconv.Itoa(judged) + " of them judged, " + strconv.Itoa(paired) + " paired with a load of the log"
	var how []string
	for _, w := range [][2]string{{"name", "named in the log"}, {"counter", "by the cycle counter"}, {"start", "by the time of the start"}} {
		if n := by[w[0]]; n > 0 {
			how = append(how, strconv.Itoa(n)+" "+w[1])
		}
	}
	if len(how) > 0 {
		out += ": " + join(how)
	}
	return out + "."
}

// unpaired names the files for which no load was found, and why. Of one that is not
// judged, why not stands with the files.
func (p *page) unpaired() {
	var items []md
	for _, t := range p.Traces {
		switch {
		case t.Load != "":
		case !t.Judged:
			items = append(items, say("%s: it is not judged, for the reason under [Files and rows](#files).", t.File))
		default:
			items = append(items, reasoned(t.File, t.Why))
		}
	}
	p.some("No load was found for:", items)
}

// paired prints which file was taken for which load, first where that was concluded
// from the start or the counter.
func (p *page) paired() {
	var rows [][]md
	for _, w := range [][2]string{{"start", "began within ten minutes of it"}, {"counter", "by the cycle counter"}, {"name", "the load names it"}} {
		for _, t := range p.Traces {
			if t.Load != "" && t.By == w[0] {
				rows = append(rows, []md{text(t.File), text(ident("loads", t.Load)), text(began(t.Start)), text(w[1])})
			}
		}
	}
	if len(rows) == 0 {
		return
	}
	p.para("Which file was taken for which load:")
	more := len(rows) - mostNamed
	p.table([]md{"File", "Load", "First reading", "How it was found"}, rows[:min(len(rows), mostNamed)])
	if more > 0 {
		p.para(say("%s in audit.json.", several(more, "more pair stands", "more pairs stand")))
	}
}

// reasoned is "file: why."
func reasoned(file, why string) md {
	return say("%s: %s", file, stop(orElse(why, "no reason is given")))
}

// some lists the first few things under a lead and counts the rest.
func (p *page) some(lead md, items []md) {
	if len(items) == 0 {
		return
	}
	if more := len(items) - mostNamed; more > 0 {
		items = append(items[:mostNamed:mostNamed], text(several(more, "more file", "more files")))
	}
	p.para(lead)
	p.list(items...)
}

// chart prints the n-th chart, of exhibit i: what to see in it, the findings that
// rest on it, its key figures.
func (p *page) chart(n, i int) {
	x := &p.Exhibits[i]
	p.heading(3, say("Chart %s. %s", n+1, chartName(x.Chart)))
	p.para(text(toSee(x.Chart)))
	p.resting(x.Chart)
	table := shown(x)
	table.bare = len(table.Columns) == 2 // a name and its value need no heading
	lines := table.lines()
	if len(lines) == 0 {
		lines = []string{"… no figures"}
	}
	p.fence("figure "+p.exhibitKey(i), lines)
}

// toSee is the first thing to look at in a chart: how long it was as hot as it was set.
func toSee(c *result.Chart) string {
	if c.Set == nil {
		return "No set temperature is known for it."
	}
	set := number(*c.Set) + " °C"
	if c.Hold == nil {
		return "No unbroken time at or above " + set + " can be shown."
	}
	return "At or above " + set + " without a break: " + heldFor(c.Hold) + "."
}

// resting lists the findings that rest on a chart, in the order of their numbers,
// with what each found in this file.
func (p *page) resting(c *result.Chart) {
	var items []md
	for _, i := range p.order {
		f := &p.Findings[i]
		if !slices.Contains(c.Findings, f.Fingerprint) {
			continue
		}
		item := say("%s %s", mark(f.Grade), p.link(i))
		for _, e := range f.Evidence {
			if e.Kind != kindTraces || e.File != c.File {
				continue
			}
			if value := written(e); value != "" {
				item += say(": %s", value)
			}
			if e.Line > 0 && !names(e.Value, e.Line) {
				item += say(" (line %s)", e.Line)
			}
			break
		}
		items = append(items, item+".")
	}
	if len(items) == 0 {
		p.para("No finding rests on it.")
		return
	}
	p.para("What was found in it:")
	p.list(items...)
}

// names says whether a text names a line itself.
func names(text string, line int) bool {
	return regexp.MustCompile(`(?i)\bline ` + strconv.Itoa(line) + `\b`).MatchString(text)
}

// chartName says whose chart it is: load, sterilizer, day and file.
func chartName(c *result.Chart) string {
	lead := map[string]string{"most": "The best of those that conform: ", "least": "The least good of those that conform: "}[c.Conforming]
	name := "no load found"
	if c.Load != "" {
		name = "load " + plain(c.Load)
	}
	if c.Sterilizer != "" {
		name += ", sterilizer " + plain(c.Sterilizer)
	}
	if c.Start != "" {
		name += ", " + began(c.Start)
	}
	return upper(lead + name + " (" + orElse(plain(c.File), "no file named") + ")")
}

// drawn links to the charts that a finding rests on.
func (p *page) drawn(fingerprint string) {
	var links []string
	for _, n := range p.drawnAs[fingerprint] {
		links = append(links, string(say("[chart %s](#%s)", n+1, md(chartID(n)))))
	}
	if more := len(links) - mostUnread; more > 0 {
		links = append(links[:mostUnread:mostUnread], several(more, "more", "more"))
	}
	if len(links) > 0 {
		p.para(say("Drawn: %s.", md(join(links))))
	}
}

// chartID is the id of the n-th chart on the page.
func chartID(n int) string { return chartLead + strconv.Itoa(n+1) }

const chartLead = "trace-"
