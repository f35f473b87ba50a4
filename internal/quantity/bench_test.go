package quantity

import "testing"

func BenchmarkParse(b *testing.B) {
	for _, c := range []struct {
		s string
		d Dimension
	}{{"121 °C", Temperature}, {"30 min", Span}, {"15 psi gauge", Pressure}, {"2 h 30 min", Span}} {
		b.Run(c.s, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := Parse(c.s, c.d, Fallback{}); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func BenchmarkParseMoment(b *testing.B) {
	loc := zone(b, "Europe/Oslo")
	for _, s := range []string{"2026-03-31 14:05", "2026-03-31", "2026-03-31T14:05:00+02:00", "31/03/2026 2:05 pm"} {
		b.Run(s, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := ParseMoment(s, DMY, loc); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func BenchmarkString(b *testing.B) {
	q := Quantity{121, 0.5, Celsius, 0}
	b.ReportAllocs()
	for b.Loop() {
		_ = q.String()
	}
}

// A reading costs no memory: ten years of records hold half a million of them.
func TestParsingAllocatesNothing(t *testing.T) {
	loc := zone(t, "Europe/Oslo")
	for name, f := range map[string]func() error{
		"temperature": func() error { _, err := Parse("121 °C", Temperature, Fallback{}); return err },
		"pressure":    func() error { _, err := Parse("15 psi gauge", Pressure, Fallback{}); return err },
		"span":        func() error { _, err := Parse("30 min", Span, Fallback{}); return err },
		"moment":      func() error { _, err := ParseMoment("2026-03-31 14:05", ISO, loc); return err },
		"day":         func() error { _, err := ParseDay("31/03/2026", DMY); return err },
		"answer":      func() error { _, err := ParseYesNo("Yes"); return err },
	} {
		if n := testing.AllocsPerRun(100, func() {
			if err := f(); err != nil {
				t.Fatal(err)
			}
		}); n > 0 {
			t.Errorf("%s: %v allocations", name, n)
		}
	}
}
