package record

import (
	"context"
	"encoding/csv"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"reflect"
	"runtime"
	"strings"
	"sync"
	"testing"
	"time"
)

// tenYears makes the record files of a practice of about ten years: 83,000 rows of the
// kinds that have most rows, in the format given or, for "mixed", in three.
func tenYears(form string) map[string]string {
	r := rand.New(rand.NewPCG(1, 2))
	pick := func(list string) string { words := strings.Fields(list); return words[r.IntN(len(words))] }
	some := func(list string) []any {
		var items []any
		for _, w := range strings.Fields(list) {
			if r.IntN(3) == 0 {
				items = append(items, w)
			}
		}
		return append(items, strings.Fields(list)[0])
	}
	start := time.Date(2016, 11, 28, 9, 0, 0, 0, time.UTC)
	at := func(i, of int) time.Time {
		return start.Add(time.Duration(i) * 87600 * time.Hour / time.Duration(of)).Truncate(time.Minute)
	}
	moment := func(t time.Time) string { return t.Format("2006-01-02 15:04") }
	day := func(t time.Time) string { return t.Format("2006-01-02") }
	kinds := map[string][]map[string]any{}
	add := func(kind string, row map[string]any) { kinds[kind] = append(kinds[kind], row) }
	for i := range 18000 {
		t := at(i, 18000)
		add("visits", map[string]any{"id": fmt.Sprintf("V-%06d", i), "client": fmt.Sprintf("C-%04d", r.IntN(900)), "started": moment(t), "person": pick("P-01 P-02 P-03"),
			"ended": moment(t.Add(time.Duration(30+r.IntN(30)) * time.Minute)), "site": pick("clinic mobile-bag"), "status": "done",
			"procedures": some("nail-trim nail-debridement callus-reduction rotary-sanding padding"), "gloves": "nitrile", "glove_size": pick("S M L"),
			"gear": some("gown mask eye-protection hair-cover"), "instruments": []any{"I-001a", fmt.Sprintf("I-%03d", r.IntN(90))}, "packs": []any{fmt.Sprintf("K-%06d", i)},
			"single_use": some("emery-board sanding-cap"), "products": []any{fmt.Sprintf("PR-%04d", i/90)}, "dust_extraction": true, "bleeding": pick("none none none minor"),
			"advice": some("daily-check footwear whom-to-call"), "signed_on": day(t)})
		add("packs", map[string]any{"id": fmt.Sprintf("K-%06d", i), "load": fmt.Sprintf("L-%05d", i/7), "set": "nail", "instruments": []any{"I-001a", fmt.Sprintf("I-%03d", r.IntN(90))},
			"packaging": "pouch", "use_by": day(t.AddDate(0, 6, 0)), "stored_at": pick("clinic mobile-bag"), "opened_at": moment(t), "outside_indicator": "pass",
			"inside_indicator": pick("pass pass pass none"), "condition": "intact", "label": []any{"sterilizer", "load", "date", "initials", "contents"}})
		add("housekeeping", map[string]any{"done_at": moment(t.Add(50 * time.Minute)), "task": pick("between-clients end-of-day"), "site": "clinic", "person": pick("P-01 P-02"), "product": "PR-0001"})
	}
	for i := range 2600 {
		t := at(i, 2600)
		add("loads", map[string]any{"id": fmt.Sprintf("L-%05d", i), "started": moment(t), "sterilizer": "S1", "counter": i + 1, "program": "PG-1", "ended": moment(t.Add(70 * time.Minute)),
			"temperature": fmt.Sprintf("%.1f °C", 121+r.Float64()*2), "pressure": "205 kPa absolute", "exposure": pick("30 31 32") + " min", "drying": "30 min", "wrapped": true, "packs_made": 7,
			"inside_indicator": "pass", "released_by": "P-01", "released_at": moment(t.Add(2 * time.Hour)), "decision": "released", "trace": fmt.Sprintf("traces/%05d.csv", i)})
		add("cleanings", map[string]any{"started": moment(t), "ended": moment(t.Add(20 * time.Minute)), "method": "ultrasonic", "loads": []any{fmt.Sprintf("L-%05d", i)}, "product": "PR-0002", "inspected": true})
	}
	for i := range 8000 {
		t := at(i, 8000)
		add("screens", map[string]any{"id": fmt.Sprintf("AS-%05d", i), "client": fmt.Sprintf("C-%04d", i%900), "asked_on": day(t), "asked_by": "P-01", "any_known": pick("no no no yes"), "latex": pick("no no yes"),
			"adhesive": "no", "colophony": "no", "chlorhexidine": "no", "iodine": "no", "nickel": "no", "fragrance": "no", "nut_oil": "no"})
		add("histories", map[string]any{"id": fmt.Sprintf("H-%05d", i), "client": fmt.Sprintf("C-%04d", i%900), "taken_on": day(t), "diabetes": pick("yes no"), "neuropathy": "no", "risk": pick("0 1 2 3"),
			"next_review_on": day(t.AddDate(0, 6, 0))})
	}
	files := map[string]string{}
	for kind, rows := range kinds {
		f := form
		if form == "mixed" {
			f = map[string]string{"visits": "json", "screens": "jsonl", "histories": "json"}[kind]
			if f == "" {
				f = "csv"
			}
		}
		files[kind+"."+f] = plainRows(f, rows)
	}
	return files
}

// plainRows writes rows in a format, YAML by hand in the way people write it.
func plainRows(form string, rows []map[string]any) string {
	var b strings.Builder
	names := map[string]int{}
	var order []string
	for _, row := range rows {
		for name := range row {
			if names[name]++; names[name] == 1 {
				order = append(order, name)
			}
		}
	}
	switch form {
	case "json":
		text, _ := json.MarshalIndent(rows, "", " ")
		return string(text)
	case "jsonl":
		for _, row := range rows {
			text, _ := json.Marshal(row)
			b.Write(append(text, '\n'))
		}
	case "yaml":
		for _, row := range rows {
			mark := "- "
			for _, name := range order {
				if v, ok := row[name]; ok {
					text, _ := json.Marshal(v)
					b.WriteString(mark + name + ": " + string(text) + "\n")
					mark = "  "
				}
			}
		}
	case "csv":
		w := csv.NewWriter(&b)
		w.Write(order)
		for _, row := range rows {
			var cells []string
			for _, name := range order {
				cells = append(cells, cell(row[name]))
			}
			w.Write(cells)
		}
		w.Flush()
	}
	return b.String()
}

// plainDecode only decodes the files, on all processors.
func plainDecode(dir string, names []string) error {
	queue := make(chan string, len(names))
	for _, n := range names {
		queue <- n
	}
	close(queue)
	var wait sync.WaitGroup
	var mu sync.Mutex
	var failed error
	for range runtime.GOMAXPROCS(0) {
		wait.Go(func() {
			for n := range queue {
				if err := plainFile(filepath.Join(dir, n)); err != nil {
					mu.Lock()
					failed = errors.Join(failed, err)
					mu.Unlock()
				}
			}
		})
	}
	wait.Wait()
	return failed
}

func plainFile(name string) error {
	f, err := os.Open(name)
	if err != nil {
		return err
	}
	defer f.Close()
	if filepath.Ext(name) == ".csv" {
		r := csv.NewReader(f)
		r.ReuseRecord = true
		for {
			if _, err := r.Read(); err == io.EOF {
				return nil
			} else if err != nil {
				return err
			}
		}
	}
	d := json.NewDecoder(f)
	for {
		var v any
		if err := d.Decode(&v); err == io.EOF {
			return nil
		} else if err != nil {
			return err
		}
	}
}

// BenchmarkFill reads ten years of records, in turns with a program that only decodes
// the same files; "ratio" is the time of the first to that of the second in one run.
func BenchmarkFill(b *testing.B) {
	for _, form := range []string{"mixed", "csv", "json", "jsonl", "yaml"} {
		b.Run(form, func(b *testing.B) {
			files := tenYears(form)
			dir := folderOf(b, files)
			var names []string
			size := int64(0)
			for n, text := range files {
				names = append(names, n)
				size += int64(len(text))
			}
			target := reflect.New(allKinds())
			var ours, plain time.Duration
			rows := 0
			b.ReportAllocs()
			b.SetBytes(size)
			for b.Loop() {
				start := time.Now()
				in, err := Fill(context.Background(), dir, target.Interface(), Options{})
				ours += time.Since(start)
				if err != nil || len(in.Problems) > 0 {
					b.Fatal(err, sentences(in))
				}
				rows = 0
				for _, f := range in.Files {
					rows += f.Accepted
				}
				if form == "yaml" {
					continue
				}
				b.StopTimer()
				start = time.Now()
				if err := plainDecode(dir, names); err != nil {
					b.Fatal(err)
				}
				plain += time.Since(start)
				b.StartTimer()
			}
			if plain > 0 {
				b.ReportMetric(ours.Seconds()/plain.Seconds(), "ratio")
			}
			b.ReportMetric(float64(rows), "rows")
		})
	}
}
