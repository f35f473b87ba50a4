package cli

import (
	"fmt"
	"slices"
	"strings"

	"footing/internal/audit"
	"footing/internal/result"
	"footing/internal/steam"
	"footing/internal/trace"
)

// told is what is kept of one file.
type told struct {
	name  string
	rows  [][]string // what it did, for a single file or a section of the page
	line  summary
	word  string // of the verdict; "" where none was asked
	notes []string
	grave bool
	chart string          // name of the chart's file; "" where none was drawn
	shown *result.Exhibit // its chart, only of the sections that the page shows
}

// summary is a file's row among many.
type summary struct {
	start, set, held, lowest, lethality, pulses string
	problems                                    int
	unusable                                    string
}

// summary is what a row among many has room for.
func (q *question) summary(t *trace.Trace, hold *steam.Hold) summary {
	line := summary{start: t.Start.String(), problems: len(t.Problems), unusable: strings.TrimSuffix(lower(plain(t.Unusable)), ".")}
	if t.Unusable != "" {
		return line
	}
	if len(line.start) > len("2026-03-31 14:05") {
		line.start = line.start[:len("2026-03-31 14:05")]
	}
	line.lethality = figure(audit.Lethality(audit.ScaleOf(&t.Cycle), t.Cycle.Lethality))
	line.pulses = fmt.Sprint(t.Cycle.PulseCount)
	if hold == nil {
		return line
	}
	line.set = fmt.Sprintf("%.4g", hold.Level)
	if !q.set.Written() {
		line.set += "*"
	}
	line.held = clock(&t.Cycle, hold)
	if hold.Reached {
		line.lowest = fmt.Sprintf("%.1f", hold.Lowest)
		line.pulses = fmt.Sprint(hold.Pulses)
	}
	if !t.HasPressure() {
		line.pulses = ""
	}
	return line
}

// counts says how many files there are, and how they came out.
func (s *sitting) counts() string {
	judged := s.readable()
	parts := []string{fmt.Sprintf("%d data-logger files", len(s.files))}
	if s.hold.Written() {
		for _, word := range []string{met, notMet, notToTell} {
			n := 0
			for i := range s.told {
				if s.told[i].word == word {
					n++
				}
			}
			parts = append(parts, fmt.Sprintf("%d %s", n, word))
		}
	}
	if n := len(s.told) - judged; n > 0 {
		parts = append(parts, fmt.Sprintf("%d could not be judged", n))
	}
	if n := len(s.files) - len(s.told); n > 0 {
		parts = append(parts, fmt.Sprintf("%d could not be read", n))
	}
	return strings.Join(parts, "; ") + "."
}

// sections is how many files have a section with a chart on the page.
const sections = 24

// keep holds the tables and charts of as many files as the page shows: those not
// held as asked first, then those that cannot be told, then those with grave
// problems, then the others in their order. Of the file that must go it keeps its row.
func (s *sitting) keep() {
	s.kept = append(s.kept, len(s.told)-1)
	if len(s.kept) <= sections {
		return
	}
	last := 0
	for i := range s.kept {
		if s.told[s.kept[i]].rank() >= s.told[s.kept[last]].rank() {
			last = i
		}
	}
	out := &s.told[s.kept[last]]
	out.rows, out.shown, out.notes = nil, nil, nil
	s.kept = slices.Delete(s.kept, last, last+1)
}

func (t *told) rank() int {
	switch {
	case t.word == notMet:
		return 0
	case t.word == notToTell:
		return 1
	case t.grave:
		return 2
	}
	return 3
}
