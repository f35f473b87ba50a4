package trace

import (
	"fmt"
	"math"

	"footing/internal/steam"
)

// finish sums up what was read.
func (r *reader) finish() {
	for r.state == sampling { // again where headings are found anew in the lines kept
		r.decide(r.survey())
	}
	r.settleHeld(nil)
	t := r.t
	r.header()
	if r.series != nil {
		t.Cycle = r.series.End()
		t.Sketch = r.sketch.sketch()
		t.Phases = r.phases.list
	} else {
		t.Cycle = steam.NewSeries(steam.Setting{Air: math.NaN()}).End()
	}
	r.misled()
	r.noReadings()
	if r.thin != nil {
		t.Points = r.thin.points()
	}
	if l := r.layout; l != nil && t.Layout == "" && t.Lines > 0 && r.state != noTable {
		r.problems.say("layout", 0, fmt.Sprintf("Entry %d of traces/layout.yaml is for this file, but its columns were not found in it.", l.number),
			"Look whether headings and skip in that entry are those of this file.")
	}
	t.Problems = r.problems.list()
}

// header hands on what the lines above the table say.
func (r *reader) header() {
	r.t.Sterilizer, r.t.Program, r.t.Counter = r.facts.sterilizer, r.facts.program, r.facts.counter
}

// noReadings says why nothing can be judged, where that is not said yet.
func (r *reader) noReadings() {
	t := r.t
	const todo = "Look whether it is the export of a cycle, with a line of headings such as Time, Temperature [°C], Pressure [kPa absolute], and a comma, semicolon or tab between the fields."
	switch {
	case t.Unusable != "" || t.Readings >= 2:
	case t.Lines == 0:
		r.unusable("The file is empty.", "Export the cycle once more.")
	case r.table == nil && r.refused != nil:
		r.unusable(fmt.Sprintf("Line %s looks like the headings of a table, but no time was found in the lines below it.", grouped(r.refusedAt)),
			"Look whether readings follow it, and whether one column is headed Time; or map the columns in traces/layout.yaml.")
	case r.table == nil && r.numbers > 0:
		r.unusable(fmt.Sprintf("There are figures from line %s on, but no line of headings above them that is known here, so columns and units are not known.", grouped(r.numbers)),
			"Export it with headings, or map the columns in traces/layout.yaml.")
	case r.table == nil:
		r.unusable("No table of readings was found.", todo)
	default:
		r.unusable(fmt.Sprintf("Below the headings in line %s there are fewer than two readings with a time and a temperature.", grouped(r.headLine)),
			"Look at the problems told for this file, and export the cycle once more.")
	}
}
