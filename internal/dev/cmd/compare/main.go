//go:build unix

// Command compare runs an audit and its yardsticks in turn, each as a process of
// its own, and prints the ratio of their times and the most memory that each held.
// Seconds differ from machine to machine, ratios hardly. The ten-year comparison:
//
//	go run ./internal/dev/cmd/generate --years 10 --format mixed ../ten   # about 190 MB
//	go run ./internal/dev/cmd/compare -rounds 5 ../ten
//
// What is compared:
//
//   - "footing audit" of the whole folder, reports written, against a program that
//     only reads the same files (encoding/csv, encoding/json, yaml);
//   - all checks of the data-logger files, on a folder that holds these and the
//     log alone, against a program that only takes the same files apart by
//     encoding/csv and turns their cells into numbers by strconv.
//
// The same by hand, with Linux's time command for the memory:
//
//	go build -o ../bin/ ./cmd/footing ./internal/dev/cmd/plain
//	/usr/bin/time -v ../bin/plain ../ten
//	/usr/bin/time -v ../bin/plain -only-traces ../ten
//	/usr/bin/time -v ../bin/footing audit --as-of 2026-11-24 --out ../ten-audit ../ten
//
// Let nothing else run meanwhile, and let one round go by first: it brings the
// files into memory, so that no program waits for the disk.
package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"syscall"
	"time"

	"footing/checks"
	"footing/internal/audit"
	"footing/internal/cli"
	"footing/internal/dev"
	"footing/internal/practice"
	"footing/internal/quantity"
	"footing/internal/record"
)

// pairs are what is compared: a program, and its yardstick.
var pairs = []struct {
	what, program, yardstick string
	cyclesOnly               bool
}{
	{"the whole audit, and only reading", "audit", "plain", false},
	{"the same, and only reading with ReuseRecord", "audit", "thrift", false},
	{"the data-logger files judged, and only taken apart", "judge", "plain-traces", true},
	{"the same, and only taken apart with ReuseRecord", "judge", "thrift-traces", true},
}

// programs run in a process of their own, so that the system counts their memory.
var programs = map[string]func(dir string) error{
	"audit":         runAudit,
	"judge":         judge,
	"plain":         func(dir string) error { _, _, err := dev.Plain(dir, true, false); return err },
	"thrift":        func(dir string) error { _, _, err := dev.Plain(dir, true, true); return err },
	"plain-traces":  func(dir string) error { _, _, err := dev.PlainTraces(dir, false); return err },
	"thrift-traces": func(dir string) error { _, _, err := dev.PlainTraces(dir, true); return err },
}

func main() {
	rounds := flag.Int("rounds", 5, "how often each program runs; the median counts")
	as := flag.String("as", "", "only run this program, as compare itself does")
	flag.Parse()
	err := errors.New("name one folder of records")
	if flag.NArg() == 1 && *rounds > 0 {
		if program, ok := programs[*as]; ok {
			err = program(flag.Arg(0))
		} else {
			err = compare(os.Stdout, flag.Arg(0), *rounds)
		}
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, "compare:", err)
		os.Exit(2)
	}
}

func compare(out io.Writer, dir string, rounds int) error {
	aside, err := os.MkdirTemp(filepath.Dir(filepath.Clean(dir)), ".compare-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(aside)
	small := filepath.Join(aside, "cycles")
	if err := dev.CyclesOnly(dir, small); err != nil {
		return err
	}
	for _, p := range pairs {
		folder := dir
		if p.cyclesOnly {
			folder = small
		}
		one, two, err := inTurn(p.program, p.yardstick, folder, rounds)
		if err != nil {
			return err
		}
		fmt.Fprintf(out, "%s\n  %-14s%s\n  %-14s%s\n  %-14s%7.2f    %7.2f\n", p.what, p.program, one, p.yardstick, two, "ratio", one.seconds/two.seconds, one.busy/two.busy)
	}
	return nil
}

// cost is the median of some runs: the time by the clock, the time that the
// processors worked in all; and the most memory that any run held.
type cost struct{ seconds, busy, mebibytes float64 }

func (c cost) String() string {
	return fmt.Sprintf("%7.2f s  %7.2f s of processors  %5.0f MiB", c.seconds, c.busy, c.mebibytes)
}

func inTurn(a, b, dir string, rounds int) (one, two cost, err error) {
	var as, bs []cost
	for i := range rounds + 1 {
		x, e := measured(a, dir)
		y, f := measured(b, dir)
		if err = errors.Join(e, f); err != nil {
			return one, two, err
		}
		if i > 0 { // the first round brings the files into memory
			as, bs = append(as, x), append(bs, y)
		}
	}
	return summed(as), summed(bs), nil
}

func summed(runs []cost) (c cost) {
	var seconds, busy []float64
	for _, r := range runs {
		seconds, busy = append(seconds, r.seconds), append(busy, r.busy)
		c.mebibytes = max(c.mebibytes, r.mebibytes)
	}
	c.seconds, c.busy = median(seconds), median(busy)
	return c
}

func median(list []float64) float64 { slices.Sort(list); return list[len(list)/2] }

// measured runs one program. This process stays small: a child's count of memory
// begins with its parent's.
func measured(program, dir string) (cost, error) {
	self, err := os.Executable()
	if err != nil {
		return cost{}, err
	}
	cmd := exec.Command(self, "-as", program, dir)
	cmd.Stderr = os.Stderr
	began := time.Now()
	if err := cmd.Run(); err != nil {
		return cost{}, fmt.Errorf("%s: %w", program, err)
	}
	c := cost{seconds: time.Since(began).Seconds()}
	c.busy = (cmd.ProcessState.UserTime() + cmd.ProcessState.SystemTime()).Seconds()
	if used, ok := cmd.ProcessState.SysUsage().(*syscall.Rusage); ok {
		unit := 1 << 10
		if runtime.GOOS == "darwin" { // which counts bytes
			unit = 1
		}
		c.mebibytes = float64(int(used.Maxrss)*unit) / (1 << 20)
	}
	return c, nil
}

// runAudit is the command line's audit.
func runAudit(dir string) error {
	out, err := os.MkdirTemp("", "compare-")
	if err != nil {
		return err
	}
	defer os.RemoveAll(out)
	args := []string{"audit", "--as-of", dev.LastDay.Format(time.DateOnly), "--out", filepath.Join(out, "report"), dir}
	if status := cli.Main(args, strings.NewReader(""), io.Discard, os.Stderr); status == cli.CouldNot {
		return errors.New("the audit could not be done")
	}
	return nil
}

// judge puts the checks of the data-logger files to a folder.
func judge(dir string) error {
	p, err := practice.Read(context.Background(), dir, quantity.NewDay(dev.LastDay.Date()), record.Options{})
	if err != nil {
		return err
	}
	criteria, err := checks.Criteria()
	if err != nil {
		return err
	}
	_, err = audit.Run(context.Background(), p, dev.TraceChecks(), criteria, audit.Options{})
	return err
}
