package practice

import (
	"context"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"footing/internal/quantity"
	"footing/internal/record"
)

func read(t *testing.T, asOf string, files map[string]string) *Practice {
	t.Helper()
	dir := t.TempDir()
	if files["practice.yaml"] == "" {
		files["practice.yaml"] = "name: Practice of the test\nregulator: Council of the test\n"
	}
	for name, data := range files {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte(data), 0o644))
	}
	day, err := quantity.ParseDay(asOf, quantity.ISO)
	require.NoError(t, err)
	p, err := Read(context.Background(), dir, day, record.Options{})
	require.NoError(t, err)
	return p
}

// A field that only the schema or only the struct has is refused at once.
func TestStructsAndSchemasShareEveryField(t *testing.T) {
	require.NoError(t, record.Check(&Records{}))
}

func TestEventsAfterTheAuditDayAreLater(t *testing.T) {
	p := read(t, "2026-03-31", map[string]string{
		"loads.csv":       "id,started,decision\nL1,2026-03-31 23:00,released\nL2,2026-04-01 00:10,released\n",
		"people.csv":      "id,role,started_on,ended_on\nP1,practitioner,2020-01-01,2026-05-01\n",
		"credentials.csv": "person,kind,valid_from,valid_until\nP1,registration,2026-07-01,2027-06-30\n",
	})
	assert.Len(t, p.Loads, 1, "an event after the audit day is not seen")
	assert.Equal(t, map[string]int{"loads.csv": 1}, p.Later)
	require.Len(t, p.People, 1)
	assert.False(t, p.People[0].EndedOn.Written(), "a closing date after the audit day counts as blank")
	require.Len(t, p.Credentials, 1, "a deadline may lie ahead")
	assert.True(t, p.Credentials[0].ValidUntil.Written())
	_, state := p.Load("L2")
	assert.Equal(t, SetAside, state, "a later row's id stays known")
}

func TestACorrectedRowGivesWay(t *testing.T) {
	p := read(t, "2026-03-31", map[string]string{
		"loads.csv": "id,started,exposure,corrects\nL1,2026-03-01 09:00,3 min,\nL1b,2026-03-01 09:00,30 min,L1\nL9,2026-03-02 09:00,30 min,L9\n",
	})
	require.Len(t, p.Loads, 2)
	assert.Equal(t, "L1b", p.Loads[0].ID)
	assert.Equal(t, 1, p.Corrected["loads.csv"])
}

func TestReferences(t *testing.T) {
	p := read(t, "2026-03-31", map[string]string{
		"clients.csv": "id\nC1\nC2\nC2\n",
		"people.csv":  "id,role\nP1,practitioner\nP2,wizard\n",
		"visits.csv":  "id,client,started,person\nV1,C1,2026-03-01,P1\nV2,C2,2026-03-01,P2\nV3,C3,2026-03-01,P1\n",
	})
	states := map[string]State{}
	for _, d := range p.Dangling {
		states[d.Row.ID+" "+d.Field] = d.State
	}
	assert.Equal(t, map[string]State{"V2 client": Shared, "V2 person": SetAside, "V3 client": Absent}, states)
}

func TestAProgramMayBeCalledByItsName(t *testing.T) {
	p := read(t, "2026-03-31", map[string]string{
		"programs.csv": "id,name,temperature,exposure\nP1,Wrapped B,134 °C,4 min\n",
		"loads.csv":    "id,started,program\nL1,2026-03-01,Wrapped B\nL2,2026-03-01,P1\nL3,2026-03-01,Wrapped\n",
	})
	require.Len(t, p.Dangling, 1)
	assert.Equal(t, "Wrapped", p.Dangling[0].ID)
}

func TestABlankReferenceMeansTheOnlyRow(t *testing.T) {
	one := map[string]string{
		"sterilizers.csv": "method,air_removal\nsteam,gravity\n",
		"loads.csv":       "started,exposure\n2026-03-01,30 min\n2026-03-02,30 min\n",
	}
	p := read(t, "2026-03-31", one)
	assert.Equal(t, 2, p.Assumed[Link{"loads", "sterilizer"}])
	s, state := p.Sterilizer(p.Loads[0].Sterilizer)
	assert.Equal(t, One, state)
	assert.Equal(t, "steam", s.Method)
	assert.Empty(t, p.Dangling)

	one["sterilizers.csv"] += "steam,dynamic\n"
	p = read(t, "2026-03-31", one)
	assert.Empty(t, p.Assumed, "two could be meant")

	one["sterilizers.csv"] = "method,air_removal\nsteam,gravity\nmagic,\n"
	p = read(t, "2026-03-31", one)
	assert.Empty(t, p.Assumed, "a row that was set aside could be meant")
}

func TestCoverage(t *testing.T) {
	p := read(t, "2026-03-31", map[string]string{"practice.yaml": `
name: Practice of the test
regulator: Council of the test
records_from: 2025-01-01
coverage:
  - {kind: loads, from: 2026-01-01, until: 2026-02-28, share: all}
  - {kind: screens, share: all}
  - {kind: visits, share: some}
`})
	day := func(y, m, d int) quantity.Day { return quantity.NewDay(y, time.Month(m), d) }
	assert.True(t, p.Covered("loads", day(2026, 1, 1), day(2026, 2, 28)))
	assert.False(t, p.Covered("loads", day(2025, 12, 31), day(2026, 2, 28)))
	assert.False(t, p.Covered("loads", day(2026, 1, 1), day(2026, 3, 1)))
	assert.True(t, p.Covered("screens", day(2025, 1, 1), day(2026, 3, 31)), "no first day reaches back to records_from, no last day to the audit day")
	assert.False(t, p.Covered("screens", day(2024, 12, 31), day(2026, 3, 31)))
	assert.False(t, p.Covered("visits", day(2026, 1, 1), day(2026, 1, 1)), "some is not all")
}

func TestHorizon(t *testing.T) {
	for _, c := range []struct{ renewal, inspection, want, purpose string }{
		{"", "", "", "self-audit"},
		{"2026-06-01", "", "2026-06-01", "renewal"},
		{"2026-06-01", "2026-05-01", "2026-05-01", "inspection"},
		{"2026-06-01", "2026-07-01", "2026-06-01", "renewal"},
		{"2026-01-01", "", "", "self-audit"},
		{"", "2026-03-31", "2026-03-31", "inspection"},
	} {
		text := "name: P\nregulator: R\n"
		if c.renewal != "" {
			text += "renewal_on: " + c.renewal + "\n"
		}
		if c.inspection != "" {
			text += "inspection_on: " + c.inspection + "\n"
		}
		p := read(t, "2026-03-31", map[string]string{"practice.yaml": text})
		day, purpose := p.Horizon()
		got := ""
		if day.Written() {
			got = day.String()
		}
		assert.Equal(t, c.want, got)
		assert.Equal(t, c.purpose, purpose)
	}
}

func TestTreated(t *testing.T) {
	p := read(t, "2026-03-31", map[string]string{"visits.csv": "id,client,started,person,status,procedures\n" +
		"V1,C1,2026-03-01,P1,done,nail-trim; assessment\nV2,C1,2026-03-01,P1,done,assessment\nV3,C1,2026-03-01,P1,,\nV4,C1,2026-03-01,P1,cancelled,nail-trim\nV5,C1,2026-03-01,P1,done,none\n"})
	want := []quantity.Tri{quantity.Yes, quantity.No, quantity.Unsure, quantity.No, quantity.No}
	for i := range p.Visits {
		assert.Equal(t, want[i], p.Visits[i].Treated(), p.Visits[i].ID)
	}
}
