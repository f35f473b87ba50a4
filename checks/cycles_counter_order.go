package checks

import (
	"cmp"
	"slices"
	"sort"

	"footing/internal/chain"
	"footing/internal/quantity"
)

// cyclesCounterOrder puts rows in the order of time. Within a day in which an hour is
// not written, and among hours that clocks may show in the wrong order, the numbers
// themselves say what came first.
func cyclesCounterOrder(rows []cyclesCounterRow, clock chain.Clock) {
	slices.SortStableFunc(rows, func(a, b cyclesCounterRow) int {
		return cmp.Or(cmp.Compare(a.on, b.on), cmp.Compare(a.at.First(), b.at.First()), cmp.Compare(a.number, b.number))
	})
	for start := 0; start < len(rows); {
		end, clocks := start, true
		for end < len(rows) && rows[end].on == rows[start].on {
			clocks = clocks && rows[end].at.HasClock()
			end++
		}
		day := rows[start:end]
		for i := 1; i < len(day); i++ {
			for j := i; j > 0 && day[j].number < day[j-1].number && !(clocks && clock.Before(day[j-1].at, day[j].at) == quantity.Yes); j-- {
				day[j], day[j-1] = day[j-1], day[j]
			}
		}
		start = end
	}
}

// anew reports whether the counter begins anew each day: on more than half of the days,
// and not for work on the sterilizer, the numbers do not begin above where they ended the
// day of use before. One such day alone says so only if it begins with the first number.
func (c *cyclesCounter) anew() bool {
	steps, falls, least := 0, 0, 0
	var before cyclesCounterRow
	for i := 0; i < len(c.rows); {
		first, last := c.rows[i], c.rows[i]
		for ; i < len(c.rows) && c.rows[i].on == first.on; i++ {
			if c.rows[i].number < first.number {
				first = c.rows[i]
			}
			if c.rows[i].number > last.number {
				last = c.rows[i]
			}
		}
		if before.here.Row != nil {
			steps++
			if first.number <= before.number && !c.upkept(before, first) {
				falls++
			}
		}
		least, before = first.number, last
	}
	return falls > steps-falls && (steps > 1 || least <= 1)
}

// cyclesCounterSettle marks the rows of one count that keep their place: those of the
// longest rising series, so that as few as can be are out of place. Rows beside it that
// follow each other, no fewer than a run of them, are a count of their own; so are those at
// an end where a count begins with one of the first numbers.
func cyclesCounterSettle(rows []cyclesCounterRow, run float64) {
	kept := cyclesCounterRising(rows)
	for i := range rows {
		rows[i].kept = kept[i]
	}
	for i := 0; i < len(rows); i++ {
		end := i
		for end < len(rows) && !kept[end] {
			end++
		}
		if end == i {
			continue
		}
		tail := end == len(rows) && float64(rows[i].number) <= run
		head := i == 0 && end < len(rows) && float64(rows[end].number) <= run && rows[end-1].number > rows[end].number
		if float64(end-i) >= run || tail || head {
			cyclesCounterSettle(rows[i:end], run)
		}
		i = end
	}
}

// cyclesCounterRising marks a longest series of rows whose numbers rise, the one that
// ends lowest of those equally long.
func cyclesCounterRising(rows []cyclesCounterRow) []bool {
	kept := make([]bool, len(rows))
	var ends []int // ends[k]: the row with the least number that ends a series of k+1
	before := make([]int, len(rows))
	for i := range rows {
		k := sort.Search(len(ends), func(k int) bool { return rows[ends[k]].number >= rows[i].number })
		before[i] = -1
		if k > 0 {
			before[i] = ends[k-1]
		}
		if k == len(ends) {
			ends = append(ends, i)
		} else {
			ends[k] = i
		}
	}
	if len(ends) == 0 {
		return kept
	}
	for i := ends[len(ends)-1]; i >= 0; i = before[i] {
		kept[i] = true
	}
	return kept
}
