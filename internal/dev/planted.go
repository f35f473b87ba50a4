package dev

import (
	"encoding/csv"
	"os"
	"path/filepath"
)

// Planted is one thing that is wrong with a data-logger file of a made practice, or
// with what the log says of it.
type Planted struct {
	Fault string // hold-short, hold-hot, air, superheat, no-pulses, drying-short, copied, stuck, torn, blank, gap, clock-ahead, miscounted, no-load, shifted; misread: the log's hold is two minutes short
	Trace string // path below traces/
	Load  string // id of the load; "" where there is none
}

// plantedFile begins with an underscore, so that it counts as no record.
const plantedFile = "_planted.csv"

// PlantedIn is what Generate planted in the traces of the practice in dir, in the
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
		list = append(list, Planted{Fault: r[0], Trace: r[1], Load: r[2]})
	}
	return list, nil
}

func writePlanted(dir string, list []Planted) error {
	f, err := os.Create(filepath.Join(dir, plantedFile))
	if err != nil {
		return err
	}
	out := csv.NewWriter(f)
	rows := [][]string{{"fault", "trace", "load"}}
	for _, p := range list {
		rows = append(rows, []string{p.Fault, p.Trace, p.Load})
	}
	err = out.WriteAll(rows)
	if e := f.Close(); err == nil {
		err = e
	}
	return err
}
