package checks

import (
	"testing"

	"github.com/stretchr/testify/require"

	"footing/internal/audit"
)

func gearOf(t *testing.T, files map[string]string) []audit.Gear {
	t.Helper()
	criteria, err := Criteria()
	require.NoError(t, err)
	return run(t, openCase(t, "gear", files), battery(t, "gear/sizes"), criteria).Gear
}

// Balances by hand: two boxes of 100 counted, 40 pieces issued, leave 160.
func TestGearTable(t *testing.T) {
	got := gearOf(t, map[string]string{
		"people.csv": "id,role,sites,glove_size,gown_size,latex_sensitive\n" +
			"P-1,practitioner,clinic; bag,S,M,no\nP-2,student,clinic,S,L,unsure\nP-3,practitioner,clinic,7.5,,no\n",
		"sites.csv": "id,kind\nclinic,clinic\nbag,mobile\n",
		"stock.csv": "item,on,reason,quantity,each,site,size,material\n" +
			"gloves,2026-11-01,count,2,100,clinic,Small,latex\ngloves,2026-11-02,issue,40,1,clinic,S,latex\n" +
			"gloves,2026-11-01,count,3,,clinic,XL,nitrile\ngloves,2026-11-01,count,0,100,bag,S,nitrile\n" +
			"gown,2026-11-01,count,5,1,clinic,medium,\n",
	})
	type row struct {
		site, item, size, left, free string
		people                       []string
		pieces, boxes                float64
		counted                      string
	}
	var rows []row
	for _, g := range got {
		rows = append(rows, row{g.Site, g.Item, g.Size, g.Left, g.Free, g.People, g.Pieces, g.Boxes, g.Counted})
	}
	require.Equal(t, []row{
		{"bag", "gloves", "S", "no", "", []string{"P-1"}, 0, 0, "2026-11-01"},
		{"bag", "gown", "M", "cannot be told", "", []string{"P-1"}, 0, 0, ""},
		{"clinic", "gloves", "S", "yes", "no", []string{"P-1", "P-2"}, 160, 0, "2026-11-01"},
		{"clinic", "gloves", "XL", "yes", "", nil, 0, 3, "2026-11-01"},
		{"clinic", "gloves", "7.5", "cannot be told", "", []string{"P-3"}, 0, 0, ""},
		{"clinic", "gown", "M", "yes", "", []string{"P-1"}, 5, 0, "2026-11-01"},
		{"clinic", "gown", "L", "cannot be told", "", []string{"P-2"}, 0, 0, ""},
	}, rows)
	for _, g := range got {
		require.Equal(t, g.Left == "cannot be told", g.Why != "", "%v: why it cannot be told, and only then", g)
		require.Equal(t, g.Size == "S" && g.Site == "clinic", g.LatexFree, "%v", g)
	}
}

// Who has left, and a site that is closed, need nothing; without sizes there is no row.
func TestGearTableLeavesOut(t *testing.T) {
	require.Empty(t, gearOf(t, map[string]string{
		"people.csv": "id,role,sites,glove_size,gown_size,ended_on\nP-1,practitioner,clinic,S,M,2026-01-01\nP-2,practitioner,old,S,M,\n",
		"sites.csv":  "id,kind,closed_on\nclinic,clinic,\nold,clinic,2026-02-01\n",
		"stock.csv":  "item,on,reason,quantity,each,site,size\nmask,2026-11-01,count,2,100,clinic,\n",
	}))
}
