package practice

import (
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"footing/internal/quantity"
	"footing/internal/record"
)

// Two claims that follow on from each other, in whatever order they stand, make one.
func TestCoverageAddsUp(t *testing.T) {
	p := folder(t, map[string]string{"practice.yaml": `
name: Practice of the test
regulator: Council of the test
coverage:
  - {kind: loads, from: 2026-07-01, share: all}
  - {kind: loads, from: 2026-01-01, until: 2026-03-31, share: all}
  - {kind: loads, from: 2026-03-15, until: 2026-06-30, share: all}
  - {kind: tests, from: 2026-01-01, until: 2026-03-31, share: all}
  - {kind: tests, from: 2026-04-02, share: all}
  - {kind: tests, from: 2026-04-01, until: 2026-04-01, share: some}
`})
	day := func(m, d int) quantity.Day { return quantity.NewDay(2026, time.Month(m), d) }
	assert.True(t, p.Covered("loads", day(1, 1), day(11, 24)))
	assert.True(t, p.Covered("loads", day(3, 20), day(7, 1)))
	assert.False(t, p.Covered("loads", day(1, 1), day(11, 25)), "no last day reaches to the audit day only")
	assert.False(t, p.Covered("loads", day(1, 1).AddDays(-1), day(2, 1)))
	assert.True(t, p.Covered("tests", day(4, 2), day(11, 24)))
	assert.False(t, p.Covered("tests", day(3, 31), day(4, 2)), "one day is missing between the two")
}

// A file of the kind that could not be read may hold the row that is meant.
func TestABlankReferenceMeansNothingBesideAFileNotRead(t *testing.T) {
	files := map[string]string{
		"sterilizers.csv": "id,method\nS1,steam\n",
		"loads.csv":       "id,started\nL1,2026-11-02\n",
	}
	require.Equal(t, "S1", folder(t, files).Loads[0].Sterilizer)
	files["sterilizers.json"] = "%PDF-1.7"
	p := folder(t, files)
	assert.Empty(t, p.Loads[0].Sterilizer)
	assert.Empty(t, p.Assumed)
}

// A row typed again under its own id, as a correction, puts the earlier one right;
// rows that correct each other both stay, since neither can be told to be the later.
func TestWhichRowsGiveWay(t *testing.T) {
	for _, c := range []struct {
		name, rows string
		left       []string
	}{
		{"retyped under the same id", "L1,2026-11-02,3 min,\nL1,2026-11-02,30 min,L1\nL2,2026-11-03,30 min,\n", []string{"30 min", "30 min"}},
		{"alone", "L1,2026-11-02,30 min,L1\n", []string{"30 min"}},
		{"two retyped", "L1,2026-11-02,3 min,\nL1,2026-11-02,30 min,L1\nL1,2026-11-02,31 min,L1\n", []string{"30 min", "31 min"}},
		{"one corrected twice over", "A,2026-11-02,1 min,\nB,2026-11-02,2 min,A\nC,2026-11-02,3 min,B\n", []string{"3 min"}},
		{"each other", "A,2026-11-02,1 min,B\nB,2026-11-02,2 min,A\nC,2026-11-02,3 min,A\n", []string{"2 min", "3 min"}},
		{"in a ring", "A,2026-11-02,1 min,C\nB,2026-11-02,2 min,A\nC,2026-11-02,3 min,B\n", []string{"1 min", "2 min", "3 min"}},
		{"a correction after the audit day", "A,2026-11-02,1 min,\nB,2026-12-02,2 min,A\n", []string{"1 min"}},
	} {
		p := folder(t, map[string]string{"loads.csv": "id,started,exposure,corrects\n" + c.rows})
		var left []string
		for _, l := range p.Loads {
			left = append(left, l.Exposure.String())
		}
		assert.Equal(t, c.left, left, c.name)
	}
}

// The days of service lie years before the log that is typed; they stretch no period.
func TestPeriodIsOfEvents(t *testing.T) {
	p := folder(t, map[string]string{
		"upkeep.csv": "equipment,task,done_on\nS1,service,2019-01-01\n",
		"stock.csv":  "item,on,reason,quantity\ngloves,2026-10-01,count,4\n",
		"visits.csv": "client,started\nC-1,2026-11-02\n",
	})
	first, last := p.Period()
	assert.Equal(t, "2026-10-01 2026-11-02", first.String()+" "+last.String())
}

// The audit day is the end of that day where the practice is.
func TestTheAuditDayIsLocal(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, "practice.yaml"), []byte("name: P\nregulator: R\ntime_zone: Pacific/Auckland\n"), 0o644))
	require.NoError(t, os.WriteFile(filepath.Join(dir, "loads.csv"), []byte("id,started\nL1,2026-11-24T10:59:00Z\nL2,2026-11-24T11:00:00Z\n"), 0o644))
	p, err := Read(t.Context(), dir, quantity.NewDay(2026, time.November, 24), record.Options{})
	require.NoError(t, err)
	require.Len(t, p.Loads, 1, "11:00 in London is midnight in Auckland that month")
	assert.Equal(t, "L1", p.Loads[0].ID)
}
