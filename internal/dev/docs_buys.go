package dev

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"footing/internal/audit"
	"footing/schemas"
)

// firstTyped is the order in which a first evening is typed; the files of the data logger
// stand after the log, since they need no typing.
var firstTyped = slices.Insert(audit.FirstEvening(), 1+slices.Index(audit.FirstEvening(), "loads"), "traces")

// buy is what one kind adds to all that stands above it.
type buy struct {
	kind    string
	opens   []audit.Check // that can look from here on
	sharper int           // checks that look already, and see more with it
}

// buys puts the kinds in the order of typing: a first evening's, then always the one with
// which most more checks can look. Kinds with which none more can stand last.
func buys(battery []audit.Check) (list []buy) {
	have := map[string]bool{}
	take := func(kind string) {
		b := buy{kind: kind}
		before := looking(battery, have)
		have[kind] = true
		for _, c := range looking(battery, have) {
			if !slices.ContainsFunc(before, func(d audit.Check) bool { return d.ID == c.ID }) {
				b.opens = append(b.opens, c)
			}
		}
		for _, c := range before {
			if slices.ContainsFunc(c.Helps, func(name string) bool { of, _, _ := strings.Cut(name, "."); return of == kind }) {
				b.sharper++
			}
		}
		list = append(list, b)
	}
	for _, kind := range firstTyped {
		take(kind)
	}
	for rest := others(); len(rest) > 0; {
		best := slices.MaxFunc(rest, func(a, b string) int {
			if n := gain(battery, have, a) - gain(battery, have, b); n != 0 {
				return n
			}
			return slices.Index(rest, b) - slices.Index(rest, a) // the first of equals
		})
		take(best)
		rest = slices.DeleteFunc(rest, func(kind string) bool { return kind == best })
	}
	return list
}

// others are the kinds that a first evening leaves out.
func others() []string {
	return slices.DeleteFunc(schemas.Kinds(), func(kind string) bool { return slices.Contains(firstTyped, kind) })
}

// looking are the checks that need nothing but what is there.
func looking(battery []audit.Check, have map[string]bool) (some []audit.Check) {
	for _, c := range battery {
		if missing(c, have) == 0 {
			some = append(some, c)
		}
	}
	return some
}

// gain is what a kind is worth next: a check that can then look counts most, one that
// then lacks one kind less a little.
func gain(battery []audit.Check, have map[string]bool, kind string) (n int) {
	for _, c := range battery {
		if slices.ContainsFunc(c.Needs, func(name string) bool { of, _, _ := strings.Cut(name, "."); return of == kind }) {
			n += 60 / max(1, missing(c, have))
		}
		if slices.ContainsFunc(c.Helps, func(name string) bool { of, _, _ := strings.Cut(name, "."); return of == kind }) {
			n++
		}
	}
	return n
}

// missing counts the kinds that a check needs and that are not there.
func missing(c audit.Check, have map[string]bool) int {
	lacks := map[string]bool{}
	for _, name := range c.Needs {
		if kind, _, _ := strings.Cut(name, "."); !have[kind] {
			lacks[kind] = true
		}
	}
	return len(lacks)
}

// buysPage is the page of what each kind of record buys.
func buysPage(battery []audit.Check) []byte {
	var b, below bytes.Buffer
	b.WriteString(generated + "# What each record buys\n\nThe kinds in the order of typing: those of a first evening, then always the one with which most more checks can look. " +
		"A check is counted with the kind that completes what it needs, given all kinds above it. The time is for a practice with one sterilizer, about 20 visits a week and 13 weeks of records, " +
		"at five seconds a field and five a row: our estimate, from no source; `footing proofread` says it for your own records.\n\n" +
		"What concludes from a row that is *not* there also needs `coverage` for that kind: see the [guide](../guide.md). No column but those marked `*` on a kind's page must be filled.\n\n" +
		"| type | rows | it takes | checks that can then look | checks that then see more |\n|---|---|---|---|---|\n")
	seen := len(looking(battery, nil))
	for _, buy := range buys(battery) {
		seen += len(buy.opens)
		rows, time := effort(buy.kind)
		opens := count(len(buy.opens))
		if opens != "" {
			opens = "[" + opens + "](#" + anchor(buyTitle(buy.kind)) + ")"
			fmt.Fprintf(&below, "\n## %s\n\n", buyTitle(buy.kind))
			for _, c := range buy.opens {
				fmt.Fprintf(&below, "- %s ([%s](../checks/%s))\n", c.Title, c.ID, pageName(c.ID))
			}
		}
		fmt.Fprintf(&b, "| %s | %s | %s | %s | %s |\n", buyLink(buy.kind), rows, time, opens, count(buy.sharper))
	}
	fmt.Fprintf(&b, "\nWith all of them %d of %d checks can look. Kinds with no number are read, held against their schema and followed where other rows name them.\n", seen, len(battery))
	return append(b.Bytes(), below.Bytes()...)
}

func buyTitle(kind string) string {
	if kind == "traces" {
		return "Data-logger files"
	}
	return strings.ToUpper(kind[:1]) + kind[1:]
}

func buyLink(kind string) string {
	if kind == "traces" {
		return "[data-logger files](traces.md)"
	}
	return kindLink(kind)
}

func count(n int) string {
	if n == 0 {
		return ""
	}
	return strconv.Itoa(n)
}

// effort says how many rows a kind usually has, and how long they take to type.
func effort(kind string) (rows, time string) {
	u, ok := audit.TypingOf(kind)
	switch minutes := math.Round(float64(u.Seconds(u.Rows)) / 60); {
	case kind == "traces":
		return "", "copy them"
	case !ok:
		return "", "as they happen"
	case minutes < 2:
		return fmt.Sprint(u.Rows), "a minute"
	case minutes < 90:
		return fmt.Sprint(u.Rows), fmt.Sprintf("%.0f min", minutes)
	default:
		return fmt.Sprint(u.Rows), fmt.Sprintf("%.1f h", minutes/60)
	}
}
