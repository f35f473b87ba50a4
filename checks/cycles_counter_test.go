package checks

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"footing/internal/audit"
	"footing/internal/practice"
	"footing/internal/quantity"
	"footing/internal/record"
)

// Few numbers can be tried in every way: no choice of rows that rise is longer.
func TestCountersRisingAgainstBruteForce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		numbers := rapid.SliceOfN(rapid.IntRange(1, 9), 0, 11).Draw(t, "numbers")
		var rows []cyclesCounterRow
		for _, n := range numbers {
			rows = append(rows, cyclesCounterRow{number: n})
		}
		longest := 0
		for choice := range 1 << len(numbers) {
			last, n := 0, 0
			for i, number := range numbers {
				if choice>>i&1 == 0 {
					continue
				}
				if number <= last {
					n = -1
					break
				}
				last, n = number, n+1
			}
			longest = max(longest, n)
		}
		last, n := 0, 0
		for i, kept := range cyclesCounterRising(rows) {
			if kept {
				require.Greater(t, numbers[i], last)
				last, n = numbers[i], n+1
			}
		}
		require.Equal(t, longest, n)
	})
}

// counterCycle is one cycle that ran, and what was typed of it.
type counterCycle struct {
	day, number, epoch int
	test, typed, blank bool
}

// Cycles run, some are not typed, some without their number, and once the counter may be
// set at a service. What is missing is found by going through the numbers one by one.
func TestCounterHolesAgainstBruteForce(t *testing.T) {
	criteria, err := Criteria()
	require.NoError(t, err)
	check := battery(t, "cycles/counter")
	rapid.Check(t, func(t *rapid.T) {
		number, epoch, service, after := rapid.IntRange(300, 400).Draw(t, "start"), 0, 0, 0
		days := rapid.IntRange(1, 12).Draw(t, "days")
		if rapid.Bool().Draw(t, "serviced") {
			service, after = rapid.IntRange(1, days).Draw(t, "service"), rapid.IntRange(0, 5).Draw(t, "after")
		}
		cycles := []counterCycle{{day: 0, number: number, test: true, typed: true}}
		for d := 1; d <= days; d++ {
			if d == service {
				epoch, number = 1, after
				continue
			}
			for range rapid.IntRange(0, 5).Draw(t, "cycles") {
				number++
				c := counterCycle{day: d, number: number, epoch: epoch, test: rapid.IntRange(0, 3).Draw(t, "test") == 0}
				c.typed = rapid.IntRange(0, 2).Draw(t, "typed") > 0
				c.blank = rapid.IntRange(0, 9).Draw(t, "blank") == 0
				cycles = append(cycles, c)
			}
		}
		loads, tests := "id,started,counter,decision\n", "kind,run_at,counter,result\n"
		judged := false
		for i, c := range cycles {
			n := fmt.Sprint(c.number)
			if c.blank {
				n = ""
			}
			day := fmt.Sprintf("2026-03-%02d", c.day+1)
			switch {
			case !c.typed:
			case c.test:
				tests += fmt.Sprintf("leak,%s,%s,pass\n", day, n)
			default:
				loads += fmt.Sprintf("L-%d,%s,%s,released\n", i, day, n)
				judged = judged || !c.blank
			}
		}
		files := map[string]string{"loads.csv": loads, "tests.csv": tests, "sterilizers.csv": "id,method\nS1,steam\n",
			"practice.yaml": defaultSelf + "coverage:\n  - {kind: loads, from: 2026-03-01, until: 2026-03-31, share: all}\n  - {kind: tests, from: 2026-03-01, until: 2026-03-31, share: all}\n"}
		if service > 0 {
			files["upkeep.csv"] = fmt.Sprintf("equipment,task,done_on,counter_after\nS1,service,2026-03-%02d,%d\n", service+1, after)
		}
		majors, minors := 0, 0
		if judged {
			majors, minors = counterHoles(cycles, service, after)
		}
		p := counterPractice(t, files)
		r, err := audit.Run(context.Background(), p, check, criteria, audit.Options{Workers: 1})
		require.NoError(t, err)
		got := map[string]int{}
		for _, f := range r.Findings {
			got[f.Grade+" "+f.Matter] += f.Extent.N
		}
		require.Equal(t, majors, got["major run"], "%s\n%s", loads, tests)
		require.Equal(t, minors, got["minor hole"], "%s\n%s", loads, tests)
		require.Zero(t, got["minor back"]+got["minor repeat"])
	})
}

// counterHoles goes through the numbers of each count one by one.
func counterHoles(cycles []counterCycle, service, after int) (majors, minors int) {
	for epoch := range 2 {
		has := map[int]int{} // the day of each number that is typed
		last := 0
		for _, c := range cycles {
			if c.epoch == epoch && c.typed && !c.blank {
				has[c.number] = c.day
				last = max(last, c.number)
			}
		}
		if epoch == 1 && service > 0 && last > 0 {
			has[after] = service
		}
		from := last
		for n := range has {
			from = min(from, n)
		}
		missing := 0
		for n := from; n <= last; n++ {
			day, typed := has[n]
			if !typed {
				missing++
				continue
			}
			if missing > 0 {
				blanks := 0
				for _, c := range cycles {
					if c.typed && c.blank && c.day >= has[n-missing-1] && c.day <= day {
						blanks++
					}
				}
				switch sure := missing - blanks; {
				case sure > 3:
					majors++
				case sure > 0:
					minors++
				}
			}
			missing = 0
		}
	}
	return majors, minors
}

func counterPractice(t *rapid.T, files map[string]string) *practice.Practice {
	dir, err := os.MkdirTemp("", "counter")
	require.NoError(t, err)
	defer os.RemoveAll(dir)
	for name, text := range files {
		if strings.Count(text, "\n") > 1 {
			require.NoError(t, os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644))
		}
	}
	day, err := quantity.ParseDay(defaultAsOf, quantity.ISO)
	require.NoError(t, err)
	p, err := practice.Read(context.Background(), dir, day, record.Options{})
	require.NoError(t, err)
	return p
}
