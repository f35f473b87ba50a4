package chain

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/require"

	"footing/internal/practice"
	"footing/internal/quantity"
	"footing/internal/record"
)

// auditDay is that of all look-backs tested here.
var auditDay = quantity.NewDay(2026, time.November, 24)

// Headings of the records that look-backs read.
var headings = map[string]string{
	"sterilizers": "id,method,installed_on",
	"loads":       "id,sterilizer,started,ended,counter,decision,packs_made,sets,inside_indicator",
	"tests":       "id,kind,equipment,run_at,load,counter,control,lot,control_lot,lot_expires_on,incubated_at,read_after,read_at,reported_on,result",
	"upkeep":      "equipment,task,done_on,result",
	"packs":       "id,load,counted_on,opened_at,discarded_on",
	"visits":      "id,client,started,packs,loads,packs_used,status,procedures",
}

// book is rows of records by kind; each row gives its cells by name.
type book map[string][]map[string]string

// cells reads "id=L1 started=2026-11-02T09:00": "_" stands for a blank in a value.
func cells(text string) map[string]string {
	row := map[string]string{}
	for _, cell := range strings.Fields(text) {
		name, value, _ := strings.Cut(cell, "=")
		row[name] = strings.ReplaceAll(value, "_", " ")
	}
	return row
}

// bookOf reads lines "load id=L1 started=2_09:00": the day is one of November 2026.
func bookOf(lines ...string) book {
	r := book{}
	for _, line := range lines {
		kind, rest, _ := strings.Cut(line, " ")
		row := cells(rest)
		for _, name := range []string{"started", "ended", "run_at", "done_on", "counted_on", "opened_at", "discarded_on", "installed_on", "lot_expires_on", "incubated_at", "read_at", "reported_on"} {
			if v := row[name]; v != "" && !strings.Contains(v, "-") {
				day, clock, _ := strings.Cut(v, " ")
				row[name] = strings.TrimSpace(fmt.Sprintf("2026-11-%02s %s", day, clock))
			}
		}
		if kind == "spore" || kind == "leak" {
			row["kind"], kind = kind, "tests"
		}
		if kind == "tests" && row["result"] == "" {
			row["result"] = "pass"
		}
		if row["result"] == "-" {
			row["result"] = ""
		}
		if kind != "upkeep" && !strings.HasSuffix(kind, "s") {
			kind += "s"
		}
		r[kind] = append(r[kind], row)
	}
	return r
}

// read writes the rows as CSV and reads them as a practice.
func (r book) read(t testing.TB, dir string) *practice.Practice {
	t.Helper()
	write := func(name, text string) {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644))
	}
	write("practice.yaml", "name: Practice of the test\nregulator: Council of the test\n")
	for kind, heading := range headings {
		var b strings.Builder
		b.WriteString(heading + "\n")
		for _, row := range r[kind] {
			for i, name := range strings.Split(heading, ",") {
				if i > 0 {
					b.WriteByte(',')
				}
				b.WriteString(row[name])
			}
			b.WriteByte('\n')
		}
		write(kind+".csv", b.String())
	}
	p, err := practice.Read(context.Background(), dir, auditDay, record.Options{Workers: 1})
	require.NoError(t, err)
	for i := range p.Intake.Problems {
		require.Equal(t, record.Noted, p.Intake.Problems[i].Effect, p.Intake.Problems[i].Sentence)
	}
	return p
}

// terms of the tests: clocks within five minutes, two repeats; each load has a row; a load whose inside
// indicator passed is good; an assessment needs no instruments.
func testTerms(minutes float64, repeats int) Terms {
	return Terms{
		Clock:   Clock{Tolerance: quantity.Quantity{Value: minutes, Unit: quantity.Minute}},
		Repeats: repeats,
		Logged:  func(_, _ quantity.Day) bool { return true },
		Good: func(l *practice.Load) quantity.Tri {
			switch l.InsideIndicator {
			case "pass":
				return quantity.Yes
			case "fail":
				return quantity.No
			}
			return quantity.Unsure
		},
		Needs: func(v *practice.Visit) quantity.Tri {
			if v.Procedures.Has("assessment") {
				return quantity.No
			}
			return quantity.Unsure
		},
	}
}

func loadIDs(loads []*practice.Load) string {
	var ids []string
	for _, l := range loads {
		ids = append(ids, l.Row.Label())
	}
	return strings.Join(ids, " ")
}

func visitIDs(visits []*practice.Visit) string {
	var ids []string
	for _, v := range visits {
		ids = append(ids, v.Row.Label())
	}
	return strings.Join(ids, " ")
}

func proofWords(p Proof) string {
	kind := [...]string{"none", "begun", "installed", "examined", "cycled", "spores"}[p.Kind]
	if p.Row == nil {
		return kind
	}
	return kind + " " + p.Row.Label() + " " + p.Day.String()[8:]
}

// windowWords is a window in one line: its proofs, days and loads.
func windowWords(w Window) string {
	return fmt.Sprintf("%s to %s, %d d: %s", proofWords(w.From), proofWords(w.Until), w.Days, loadIDs(w.Loads))
}
