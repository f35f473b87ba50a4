package practice

import (
	"context"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"footing/internal/quantity"
	"footing/internal/record"
)

func TestUnmet(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, os.Mkdir(filepath.Join(dir, "traces"), 0o755))
	for name, text := range map[string]string{
		"practice.yaml": "name: P\nregulator: R\n", "traces/L1.csv": "time,t\n", "traces/L2.csv": "time,t\n",
		"loads.csv": "id,started,trace\nL1,2026-03-02,traces/L1.csv\nL2,2026-03-02,l2\nL3,2026-03-02,\\traces\\L3.csv\nL4,2026-03-02,\n",
	} {
		require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644))
	}
	p, err := Read(context.Background(), dir, quantity.NewDay(2026, 11, 24), record.Options{})
	require.NoError(t, err)
	var ids []string
	for _, l := range p.Unmet() {
		ids = append(ids, l.ID)
	}
	assert.Equal(t, []string{"L3"}, ids)
}

func TestNames(t *testing.T) {
	p := folder(t, map[string]string{
		"people.csv":   "id,role\nP-01,practitioner\n,assistant\n",
		"programs.csv": "id,name,temperature,exposure\nPr1,Wrapped,121 °C,30 min\n",
		"products.csv": "name\nHand rub\n",
	})
	assert.Equal(t, []string{"P-01", "people.csv row 2"}, p.Names("people"))
	assert.Equal(t, []string{"Pr1", "Wrapped"}, p.Names("programs"))
	assert.Equal(t, []string{"products.csv row 1", "Hand rub"}, p.Names("products"))
	assert.Empty(t, p.Names("sites"))
	assert.Empty(t, p.Names("nothing"))
}
