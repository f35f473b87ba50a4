package checks

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"footing/internal/audit"
)

// oddRow draws a row of fields, each blank or one of some words.
func oddRow(t *rapid.T, fields ...[]string) string {
	var cells []string
	for i, words := range fields {
		cells = append(cells, rapid.SampledFrom(append([]string{""}, words...)).Draw(t, fmt.Sprint("field ", i)))
	}
	return strings.Join(cells, ",") + "\n"
}

// Whatever is typed, no check of these breaks, each load is counted once where loads are
// what is examined, and what is said does not depend on how many work at it.
func TestOddLogsBreakNoCheck(t *testing.T) {
	criteria, err := Criteria()
	require.NoError(t, err)
	mine := slices.DeleteFunc(All(), func(c audit.Check) bool { return !slices.Contains(honestCycles, c.ID) })
	when := []string{"2026-03-02", "2026-03-02 08:00", "2026-03-02 08:09", "2026-03-02 08:11", "2026-03-03", "2026-03-03 07:00", "2026-03-09 09:00", "2026-03-31 23:59"}
	days := []string{"2026-03-01", "2026-03-02", "2026-03-03", "2026-03-09"}
	sterilizers := []string{"S1", "S2", "S9"}
	numbers := []string{"0", "1", "2", "3", "4", "5", "9", "400", "999999999"}
	ids := []string{"L-1", "L-2", "L-3", "L-4"}
	rapid.Check(t, func(t *rapid.T) {
		files := map[string]string{
			"sterilizers.csv": "id,method,air_removal,class,most_packs,installed_on,counter_start,air_detector,operated_by\n",
			"loads.csv":       "id,started,ended,sterilizer,counter,temperature,pressure,exposure,drying,printout,hinges_open,packs_made,sets,decision,program\n",
			"tests.csv":       "kind,run_at,equipment,load,counter,leak_rate,result\n",
			"upkeep.csv":      "equipment,task,done_on,counter_after,result\n",
			"packs.csv":       "id,load,instruments\n",
		}
		for range rapid.IntRange(1, 3).Draw(t, "sterilizers") {
			files["sterilizers.csv"] += oddRow(t, sterilizers, []string{"steam", "dry-heat"}, []string{"dynamic", "gravity"}, []string{"B", "N"}, numbers[:5], days, numbers, []string{"yes", "no"}, []string{"own", "contractor"})
		}
		for range rapid.IntRange(1, 12).Draw(t, "loads") {
			files["loads.csv"] += oddRow(t, ids, when, when, sterilizers, numbers, []string{"134 °C", "134.3 °C"}, []string{"304 kPa absolute"}, []string{"3.5 min"}, []string{"20 min"},
				[]string{"yes", "no"}, []string{"yes", "no"}, numbers[:6], []string{"nail x 6", "kit 4"}, []string{"released", "rejected", "pending"}, []string{"P"})
		}
		for range rapid.IntRange(1, 8).Draw(t, "tests") {
			files["tests.csv"] += oddRow(t, []string{"spore", "air-removal", "leak", "residue"}, when, sterilizers, ids, numbers, []string{"1.3 mbar/min", "2 mbar/min"}, []string{"pass", "fail", "pending"})
		}
		for range rapid.IntRange(1, 4).Draw(t, "upkeep") {
			files["upkeep.csv"] += oddRow(t, sterilizers, []string{"service", "repair", "relocation", "validation", "gasket"}, days, numbers, []string{"pass", "fail"})
		}
		for range rapid.IntRange(1, 4).Draw(t, "packs") {
			files["packs.csv"] += oddRow(t, []string{"K-1", "K-2"}, ids, []string{"N-1"})
		}
		files["practice.yaml"] = defaultSelf
		if rapid.Bool().Draw(t, "whole") {
			files["practice.yaml"] += "coverage:\n  - {kind: loads, from: 2026-03-01, until: 2026-03-31, share: all}\n  - {kind: tests, from: 2026-03-01, until: 2026-03-31, share: all}\n"
		}
		p := counterPractice(t, files)
		r, err := audit.Run(context.Background(), p, mine, criteria, audit.Options{Workers: 1})
		require.NoError(t, err)
		for _, c := range r.Checks {
			require.NotEqual(t, "broken", c.Outcome, "%s: %s\n%v", c.ID, c.Reason, files)
			if slices.Contains([]string{"cycles/chamber", "cycles/hinges", "cycles/overlap", "cycles/identical", "cycles/printout"}, c.ID) && p.Count("loads") > 0 && p.Count("sterilizers") > 0 {
				require.Equal(t, p.Count("loads"), c.Counts.Examined+c.Counts.NotApplicable, "%s\n%v", c.ID, files)
			}
		}
		again, err := audit.Run(context.Background(), p, mine, criteria, audit.Options{})
		require.NoError(t, err)
		require.Equal(t, r.Findings, again.Findings)
	})
}
