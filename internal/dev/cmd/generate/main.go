// Command generate makes a practice of any size for tests and timing.
//
//	go run ./internal/dev/cmd/generate --years 10 --format mixed DIR
package main

import (
	"flag"
	"fmt"
	"os"
	"time"

	"footing/internal/dev"
)

func main() {
	plan := dev.DefaultPlan()
	flag.Int64Var(&plan.Seed, "seed", plan.Seed, "the same seed makes the same bytes")
	flag.IntVar(&plan.Years, "years", plan.Years, "length of the records in years")
	flag.IntVar(&plan.Days, "days", 0, "length in days, in place of years")
	flag.Float64Var(&plan.VisitsPerDay, "visits", plan.VisitsPerDay, "mean visits a working day")
	flag.IntVar(&plan.SecondsBetweenReadings, "seconds", plan.SecondsBetweenReadings, "between two readings of a trace")
	flag.StringVar(&plan.Format, "format", plan.Format, "csv, json, jsonl, yaml or mixed")
	start := flag.String("start", "", "first day, YYYY-MM-DD (default: so that the records end on "+dev.LastDay.Format(time.DateOnly)+")")
	noTraces := flag.Bool("no-traces", false, "leave data-logger files out")
	faults := flag.Bool("faults", false, "plant faults in about one row in a hundred, and in one data-logger file in twenty")
	chain := flag.Bool("chain-faults", false, "break the chain from clients to spore tests in places, and plant nothing else; leaves data-logger files out")
	flag.Usage = func() {
		fmt.Fprintln(flag.CommandLine.Output(), "generate [flags] DIR: makes a practice in the new folder DIR")
		flag.PrintDefaults()
	}
	flag.Parse()
	plan.Traces, plan.Clean, plan.Chain = !*noTraces && !*chain, !*faults && !*chain, *chain
	if err := run(plan, *start, flag.Args()); err != nil {
		fmt.Fprintln(os.Stderr, "generate:", err)
		os.Exit(2)
	}
}

func run(plan dev.Plan, start string, args []string) (err error) {
	if len(args) != 1 {
		return fmt.Errorf("name one new folder, for example: generate --years 1 ./one-year")
	}
	if start != "" {
		if plan.Start, err = time.Parse(time.DateOnly, start); err != nil {
			return err
		}
	}
	return dev.Generate(args[0], plan)
}
