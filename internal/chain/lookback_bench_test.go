package chain

import (
	"fmt"
	"testing"

	"footing/internal/practice"
	"footing/internal/quantity"
)

// tenYears is a practice of ten years, about 83,000 rows; of its weekly tests none
// says whether its control grew where lenient is true.
func tenYears(t testing.TB, lenient bool) *practice.Practice {
	r := book{"sterilizers": {{"id": "S1", "method": "steam"}}}
	control := map[bool]string{false: "growth"}[lenient]
	n := 0
	for d := auditDay.AddDays(-3650); d <= auditDay; d++ {
		if d.Weekday() == 0 || d.Weekday() == 6 {
			continue
		}
		if d.Weekday() == 1 {
			r["tests"] = append(r["tests"], map[string]string{"kind": "spore", "equipment": "S1", "run_at": d.String() + " 08:00", "control": control, "result": "pass"})
		}
		for i := range 4 {
			id := fmt.Sprint("L", n, "-", i)
			r["loads"] = append(r["loads"], map[string]string{"id": id, "sterilizer": "S1", "started": fmt.Sprintf("%v %02d:30", d, 8+2*i), "packs_made": "4", "inside_indicator": "pass"})
			for k := range 4 {
				r["packs"] = append(r["packs"], map[string]string{"id": fmt.Sprint(id, "-", k), "load": id})
			}
		}
		for i := range 11 {
			v := map[string]string{"client": fmt.Sprint("C", (n*7+i)%600), "started": fmt.Sprintf("%v %02d:45", d, 8+i)}
			if i%2 == 0 {
				v["packs"] = fmt.Sprint("L", n, "-", i%4, "-", i%3)
			}
			r["visits"] = append(r["visits"], v)
		}
		n++
	}
	return r.read(t, t.TempDir())
}

func BenchmarkLookback(b *testing.B) {
	for _, lenient := range []bool{false, true} {
		p := tenYears(b, lenient)
		s, terms := &p.Sterilizers[0], testTerms(5, 3)
		name := map[bool]string{false: "weekly", true: "unbounded"}[lenient]
		b.Run(name+"/HistoryOf", func(b *testing.B) {
			for b.Loop() {
				HistoryOf(p, s, terms)
			}
		})
		h := HistoryOf(p, s, terms)
		b.Run(name+"/On each day", func(b *testing.B) {
			for b.Loop() {
				for d := quantity.Day(0); d <= 3650; d++ {
					h.On(auditDay - d)
				}
			}
		})
		wide, _ := h.Around(Event{})
		b.Run(fmt.Sprint(name, "/ReachOf ", len(wide.Loads)), func(b *testing.B) {
			for b.Loop() {
				ReachOf(p, terms, wide.Loads)
			}
		})
		b.Run(name+"/Narrowings", func(b *testing.B) {
			for b.Loop() {
				h.Narrowings(Event{})
			}
		})
	}
}
