package record

import (
	"strings"
	"testing"

	"footing/internal/quantity"
)

// What forms print around the words of a heading asks for nothing else: common practice, no source.
func TestHeadingsAsFormsHaveThem(t *testing.T) {
	for _, c := range []struct{ heading, cell, want string }{
		{"wrapped Y/N", "y", "wrapped=yes"}, {"Wrapped y/n?", "y", "wrapped=yes"}, {"wrapped? (Y/N)", "y", "wrapped=yes"}, {"wrapped: yes/no", "n", "wrapped=no"}, {"wrapped (tick)", "✓", "wrapped=yes"},
		{"wrapped *", "y", "wrapped=yes"}, {"Wrapped?:", "y", "wrapped=yes"}, {"wrapped yes or no", "y", "wrapped=yes"},
		{"# of packs", "6", "packs_made=6"}, {"no. of packs", "6", "packs_made=6"}, {"No of pouches", "6", "packs_made=6"}, {"# packs", "6", "packs_made=6"}, {"packs #", "6", "packs_made=6"}, {"packs", "6", "packs_made=6"},
		{"sterilizer #", "2", "sterilizer=2"}, {"autoclave no.", "2", "sterilizer=2"}, {"cycle #", "398", "counter=398"}, {"load #", "398", "counter=398"},
		{"mins", "30", "exposure=30 min"}, {"Minutes:", "30", "exposure=30 min"}, {"time at temp [s]", "210", "exposure=210 s"}, {"steri time", "30 min", "exposure=30 min"},
		{"psi", "30", "pressure=30 psi gauge"},
		{"temperature y/n", "y", ""}, {"note #", "1", ""}, {"Y/N", "y", ""}, {"#", "1", ""}, {"exposure no.", "3 min", ""},
		{"no. of load", "12", ""}, {"# of autoclave", "2", ""}, {"No of sterilizer", "2", ""}, // how many, not which
	} {
		rec, in := fill(t, map[string]string{"practice.yaml": "{name: A, regulator: B, units: {pressure: kPa gauge}}", "loads.csv": "started," + c.heading + "\n2026-01-01," + c.cell + "\n"})
		if len(rec.Loads) != 1 {
			t.Fatal(c.heading, sentences(in))
		}
		l := rec.Loads[0]
		l.Started = quantity.Moment{}
		field, _, _ := strings.Cut(c.want, "=")
		if h := in.Files[0].Headings; len(h) != 2 || h[1].Field != field {
			t.Errorf("%q: %+v, want %q", c.heading, h, field)
		}
		// The rows of this test have none of these two fields.
		if got := show(&l); got != c.want && field != "packs_made" && field != "sterilizer" {
			t.Errorf("%q: %q, want %q; %v", c.heading, got, c.want, sentences(in))
		}
	}
}
