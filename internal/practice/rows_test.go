package practice

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"footing/internal/quantity"
	"footing/internal/record"
	"footing/schemas"
)

func folder(t *testing.T, files map[string]string) *Practice {
	t.Helper()
	dir := t.TempDir()
	if files["practice.yaml"] == "" {
		require.NoError(t, os.WriteFile(filepath.Join(dir, "practice.yaml"), []byte("name: Practice of the test\nregulator: Council of the test\n"), 0o644))
	}
	for name, text := range files {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644))
	}
	p, err := Read(context.Background(), dir, quantity.NewDay(2026, time.November, 24), record.Options{})
	require.NoError(t, err)
	return p
}

// Each pair names fields of the schema and of the struct, and both hold dates.
func TestSpansNameDates(t *testing.T) {
	records := reflect.TypeFor[Records]()
	for _, s := range spans {
		kind, ok := schemas.Lookup(s.kind)
		require.True(t, ok, s.kind)
		for _, name := range []string{s.from, s.to} {
			field, ok := kind.Field(name)
			require.True(t, ok, "%s.%s", s.kind, name)
			assert.NotEmpty(t, field.Date, "%s.%s is no date", s.kind, name)
		}
		for i := range records.NumField() {
			if f := records.Field(i); f.Tag.Get("kind") == s.kind {
				assert.NotEqual(t, nothing, fieldOf(f.Type.Elem(), s.from).holds, "%s.%s", s.kind, s.from)
				assert.NotEqual(t, nothing, fieldOf(f.Type.Elem(), s.to).holds, "%s.%s", s.kind, s.to)
			}
		}
	}
}

func TestEachSpan(t *testing.T) {
	p := folder(t, map[string]string{
		"visits.csv": "client,started,ended,signed_on\nC-1,2026-03-02 10:00,2026-03-02 09:30,2026-03-01\nC-1,2026-03-02 10:00,2026-03-02 10:30,2026-03-02\nC-1,2026-03-02 10:00,2026-03-02,\nC-1,2026-03-02,,\n",
		"people.csv": "role,started_on,ended_on\nstudent,2026-03-02,2026-03-01\nstudent,2026-03-02,2026-03-02\n",
	})
	var got []string
	for s := range p.EachSpan {
		got = append(got, fmt.Sprintf("%s %d %s %s %s %s", s.Row.Kind(), s.Row.Number(), s.To, s.Began, s.Ended, s.Backwards))
	}
	assert.Equal(t, []string{
		"people 1 ended_on 2026-03-02 2026-03-01 yes",
		"people 2 ended_on 2026-03-02 2026-03-02 no",
		"visits 1 ended 2026-03-02 2026-03-02 yes",
		"visits 2 ended 2026-03-02 2026-03-02 no",
		"visits 3 ended 2026-03-02 2026-03-02 unsure",
		"visits 1 signed_on 2026-03-02 2026-03-01 yes",
		"visits 2 signed_on 2026-03-02 2026-03-02 no",
	}, got)
}

func TestEachRow(t *testing.T) {
	p := folder(t, map[string]string{
		"loads.csv":    "id,started,sterilizer,entered_on\nL-1,2026-03-02 10:00,S1,2026-03-03\nL-1,2026-03-03,S1,\n",
		"visits.csv":   "client,started,person,packs\nC-1,2026-03-02,P-1,K-1; K-2\n",
		"programs.csv": "sterilizer,temperature,exposure\nS1,121 °C,30 min\n",
	})
	var got []string
	for j := range p.EachRow {
		got = append(got, fmt.Sprintf("%s %d shared=%v %s=%s entered=%s named=%d", j.Row.Kind(), j.Row.Number(), j.Shared, j.When, j.On, j.EnteredOn, j.Named))
	}
	assert.Equal(t, []string{
		"visits 1 shared=false started=2026-03-02 entered= named=4",
		"programs 1 shared=false = entered= named=1",
		"loads 1 shared=true started=2026-03-02 entered=2026-03-03 named=1",
		"loads 2 shared=true started=2026-03-03 entered= named=1",
	}, got)
}

func TestTroubles(t *testing.T) {
	p := folder(t, map[string]string{
		"loads.csv":  "started,exposure,colour\nlast week,20 min,red\n",
		"visits.csv": "client,started,glove_size\nC-1,2026-03-02,huge\n",
		"stock.json": "%PDF-1.7",
	})
	var got []string
	for _, q := range p.Troubles() {
		got = append(got, fmt.Sprintf("%s %s refused=%v aside=%v none=%v", q.File, q.Field, q.Refused, q.SetAside, q.None))
	}
	assert.Equal(t, []string{
		"loads.csv started refused=false aside=true none=true",
		"stock.json  refused=true aside=false none=true",
		"visits.csv glove_size refused=false aside=false none=false",
	}, got)
}
