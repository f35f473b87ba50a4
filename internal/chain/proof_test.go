package chain

import (
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"footing/internal/practice"
	"footing/internal/quantity"
)

func moment(t testing.TB, s string) (m quantity.Moment) {
	t.Helper()
	if s != "" {
		var err error
		m, err = quantity.ParseMoment(s, quantity.ISO, time.UTC)
		require.NoError(t, err)
	}
	return m
}

// Two clocks that may be five minutes apart; a minute as written has sixty seconds.
func TestClockBefore(t *testing.T) {
	const d = "2026-11-04 "
	for _, c := range []struct {
		a, b string
		want quantity.Tri
	}{
		{d + "09:00:00", d + "09:05:01", quantity.Yes},
		{d + "09:00:00", d + "09:05:00", quantity.Unsure},
		{d + "09:00", d + "09:06", quantity.Yes},
		{d + "09:00", d + "09:05", quantity.Unsure},
		{d + "09:00", d + "09:00", quantity.Unsure},
		{d + "09:06", d + "09:00", quantity.No},
		{d + "09:05", d + "09:00", quantity.Unsure},
		{d + "09:05:00", d + "09:00:00", quantity.Unsure},
		{d + "09:05:01", d + "09:00:00", quantity.No},
		{"2026-11-04", d + "09:00", quantity.Unsure},
		{d + "09:00", "2026-11-04", quantity.Unsure},
		{"2026-11-04", "2026-11-04", quantity.Unsure},
		{"2026-11-03", "2026-11-04", quantity.Yes},
		{"2026-11-04", "2026-11-03", quantity.No},
		{"2026-11-03 23:59", d + "00:01", quantity.Yes}, // of two days the earlier, whatever the clocks say
		{d + "00:01", "2026-11-03 23:59", quantity.No},
		{"", d + "09:00", quantity.Unsure},
		{d + "09:00", "", quantity.Unsure},
	} {
		clock := Clock{quantity.Quantity{Value: 5, Unit: quantity.Minute}}
		assert.Equal(t, c.want, clock.Before(moment(t, c.a), moment(t, c.b)), "%q before %q", c.a, c.b)
	}
	assert.Equal(t, quantity.Yes, Clock{}.Before(moment(t, d+"09:00"), moment(t, d+"09:01")), "without a tolerance")
}

// A control of the same lot beside each spore test, incubated with it, is a
// recommendation of CDC 2008, read second hand; that a test is read after the time its
// maker gives, and used before its date, is common practice, no source. What each is
// worth here is the battery's rule.
func TestAssayOf(t *testing.T) {
	for _, c := range []struct {
		row            string
		want           Worth
		against, lacks string
	}{
		{"control=growth", Strict, "", ""},
		{"control=growth result=fail", Nothing, "", ""},
		{"control=growth result=pending", Nothing, "", ""},
		{"control=growth result=-", Nothing, "", ""},
		{"", Lenient, "", "control"},
		{"control=not-run", Lenient, "control", ""},
		{"control=no-growth", Nothing, "control", ""},
		{"control=growth lot=A1 control_lot=A1", Strict, "", ""},
		{"control=growth lot=A1 control_lot=a1", Strict, "", ""},
		{"control=growth lot=A1 control_lot=A2", Nothing, "control_lot", ""},
		{"control=growth lot=A1", Strict, "", ""},
		{"control=growth lot_expires_on=4", Strict, "", ""},
		{"control=growth lot_expires_on=3", Lenient, "lot_expires_on", ""},
		{"control=growth incubated_at=4_12:00 read_after=24_h read_at=5_12:00", Strict, "", ""},
		{"control=growth incubated_at=4_12:00 read_after=24_h read_at=5_11:00", Nothing, "read_at", ""},
		{"control=growth incubated_at=4_12:00 read_after=24.0_h read_at=5_11:56", Nothing, "read_at", ""},
		{"control=growth incubated_at=4_12:00 read_after=24_h read_at=5", Strict, "", ""},
		{"control=growth incubated_at=4_12:00 read_after=48_h read_at=5", Nothing, "read_at", ""},
		{"control=growth read_after=7_d read_at=11_09:00", Strict, "", ""},
		{"control=growth read_after=7_d read_at=10", Strict, "", ""}, // seven as written may be six and a half
		{"control=growth read_after=7_d read_at=9", Nothing, "read_at", ""},
		{"reported_on=9", Strict, "", ""}, // a laboratory has its own control
		{"reported_on=9 read_at=6", Lenient, "", "control"},
		{"reported_on=9 control=no-growth", Nothing, "control", ""},
		{"control=not-run lot=A1 control_lot=A2", Nothing, "control control_lot", ""},
	} {
		p := bookOf("sterilizer id=S1 method=steam", "spore equipment=S1 run_at=4_09:00 "+c.row).read(t, t.TempDir())
		a := AssayOf(&p.Tests[0])
		fields := func(doubts []Doubt) string {
			var all []string
			for _, d := range doubts {
				require.NotEmpty(t, d.Why)
				all = append(all, d.Field)
			}
			return strings.Join(all, " ")
		}
		assert.Equal(t, c.want, a.Worth, c.row)
		assert.Equal(t, c.against, fields(a.Against), c.row)
		assert.Equal(t, c.lacks, fields(a.Lacking), c.row)
	}
	assert.Equal(t, Nothing, AssayOf(&practice.Test{Type: "leak", Result: "pass", Control: "growth"}).Worth)
}

func TestKnown(t *testing.T) {
	p := bookOf("sterilizer id=S1 method=steam", "spore run_at=4 read_at=6 reported_on=8", "spore run_at=4 reported_on=8", "spore run_at=4").read(t, t.TempDir())
	for i, want := range []string{"2026-11-06", "2026-11-08", ""} {
		assert.Equal(t, want, Known(&p.Tests[i]).String())
	}
}

func TestFateOf(t *testing.T) {
	p := bookOf("sterilizer id=S1 method=steam", "load id=A started=5",
		"pack id=K1 load=A", "pack id=K2 load=A counted_on=7", "pack id=K3 load=A discarded_on=8 counted_on=7", "pack id=K4 load=A opened_at=9_10:00 discarded_on=9",
		"pack id=K5 load=A opened_at=9_10:00", "pack id=K6 load=A", "pack id=K7 load=A", "pack id=K7 load=A counted_on=7", "pack load=A",
		"visit id=U client=C1 started=9_09:00 packs=K6;K5", "visit id=V client=C2 started=8 packs=K6", "visit id=W client=C3 started=8 packs=K1 status=missed", "visit id=X client=C3 started=9 packs=K7").read(t, t.TempDir())
	for i, want := range []struct {
		where      Whereabouts
		visits, at string
		shared     bool
	}{
		{NotWritten, "", "", false}, {OnShelf, "", "", false}, {Discarded, "", "", false}, {Opened, "", "2026-11-09 10:00", false},
		{Used, "U", "2026-11-09 10:00", false}, {Used, "V U", "2026-11-08", false}, {Used, "X", "2026-11-09", true}, {Used, "X", "2026-11-09", true},
		{NotWritten, "", "", false},
	} {
		f := FateOf(p, &p.Packs[i])
		assert.Equal(t, want.where, f.Where, i)
		assert.Equal(t, want.visits, visitIDs(f.Visits), i)
		assert.Equal(t, want.at, f.At.String(), i)
		assert.Equal(t, want.shared, f.Shared, i)
		assert.Same(t, &p.Packs[i], f.Pack)
	}
}
