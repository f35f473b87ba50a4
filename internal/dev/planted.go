package dev

import (
	"encoding/csv"
	"os"
	"path/filepath"
)

// Planted is one thing that is wrong with a made practice: with a data-logger file, or
// what the log says of it; or with the chain, at one row.
type Planted struct {
	Fault string // of the chain: see chainFlaws; of traces: hold-short, hold-hot, air, superheat, no-pulses, drying-short, copied, stuck, torn, blank, gap, clock-ahead, miscounted, no-load, shifted; misread: the log's hold is two minutes short
	Trace string // path below traces/
	Load  string // id of the load; "" where there is none
	Kind  string // of the record at which the chain is broken; "" for a data-logger file
	ID    string // of that record
}

// plantedFile begins with an underscore, so that it counts as no record.
const plantedFile = "_planted.csv"

// PlantedIn is what Generate planted in the practice in dir, in the
// order of days; none of a clean one.
func PlantedIn(dir string) (list []Planted, err error) {
	f, err := os.Open(filepath.Join(dir, plantedFile))
	if os.IsNotExist(err) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		return nil, err
	}
	for _, r := range rows[1:] {
		list = append(list, Planted{Fault: r[0], Trace: r[1], Load: r[2], Kind: r[3], ID: r[4]})
	}
	return list, nil
}

func writePlanted(dir string, list []Planted) error {
	f, err := os.Create(filepath.Join(dir, plantedFile))
	if err != nil {
		return err
	}
	out := csv.NewWriter(f)
	rows := [][]string{{"fault", "trace", "load", "kind", "id"}}
	for _, p := range list {
		rows = append(rows, []string{p.Fault, p.Trace, p.Load, p.Kind, p.ID})
	}
	err = out.WriteAll(rows)
	if e := f.Close(); err == nil {
		err = e
	}
	return err
}
