package trace

import (
	"path"
	"slices"
	"strconv"
	"strings"
)

// nameCounters gives the numbers in a file's name, last first: runs of one to nine
// digits, without those that look like a date, or like a clock beside a date.
func nameCounters(name string) []int64 {
	base := path.Base(name)
	if ext := path.Ext(base); strings.Trim(ext, ".0123456789") != "" {
		base = base[:len(base)-len(ext)]
	}
	runs := digitRuns(base)
	dated := false
	for i := range runs {
		if n := dateAt(base, runs[i:]); n > 0 {
			dated = true
			for j := range n {
				runs[i+j].used = true
			}
		}
	}
	var list []int64
	after := false // a date stands somewhere before
	for i := 0; i < len(runs); i++ {
		if runs[i].used {
			after = true
			continue
		}
		s := base[runs[i].from:runs[i].until]
		if dated && after {
			if n := clockAt(base, runs[i:]); n > 0 {
				i += n - 1
				continue
			}
		}
		if n, err := strconv.ParseInt(s, 10, 64); err == nil && len(s) <= 9 {
			list = append(list, n)
		}
	}
	slices.Reverse(list)
	return list
}

type digitRun struct {
	from, until int
	used        bool
}

func digitRuns(s string) (runs []digitRun) {
	for i := 0; i < len(s); {
		j := i
		for j < len(s) && s[j]-'0' < 10 {
			j++
		}
		if j > i {
			runs = append(runs, digitRun{from: i, until: j})
		}
		i = max(j, i+1)
	}
	return runs
}

// dateAt returns how many runs, from the first, make a date: one of eight or
// fourteen digits, or three parted by one mark each, year first or year last. 0 for none.
func dateAt(s string, runs []digitRun) int {
	if runs[0].used {
		return 0
	}
	a := s[runs[0].from:runs[0].until]
	if len(a) == 8 || len(a) == 12 || len(a) == 14 {
		if day(a[:4], a[4:6], a[6:8]) || len(a) == 8 && (day(a[4:], a[2:4], a[:2]) || day(a[4:], a[:2], a[2:4])) {
			return 1
		}
	}
	if len(runs) < 3 || runs[1].from != runs[0].until+1 || runs[2].from != runs[1].until+1 {
		return 0
	}
	b, c := s[runs[1].from:runs[1].until], s[runs[2].from:runs[2].until]
	if len(b) == 2 && (len(a) == 4 && len(c) == 2 && day(a, b, c) || len(a) == 2 && len(c) == 4 && (day(c, b, a) || day(c, a, b))) {
		return 3
	}
	return 0
}

func day(y, m, d string) bool {
	yy, _ := strconv.Atoi(y)
	mm, _ := strconv.Atoi(m)
	dd, _ := strconv.Atoi(d)
	return yy >= 1970 && yy <= 2199 && mm >= 1 && mm <= 12 && dd >= 1 && dd <= 31
}

// clockAt returns how many runs, from the first, make a clock: 1405, 140507, 14-05,
// 14-05-07. 0 for none.
func clockAt(s string, runs []digitRun) int {
	a := s[runs[0].from:runs[0].until]
	if (len(a) == 4 || len(a) == 6) && twoDigitClock(a) {
		return 1
	}
	n, all := 0, ""
	for n < 3 && n < len(runs) && !runs[n].used && runs[n].until == runs[n].from+2 && (n == 0 || runs[n].from == runs[n-1].until+1) {
		all += s[runs[n].from:runs[n].until]
		n++
	}
	if n < 2 || !twoDigitClock(all) {
		return 0
	}
	return n
}

func twoDigitClock(s string) bool {
	for i := 0; i < len(s); i += 2 {
		if n, err := strconv.Atoi(s[i : i+2]); err != nil || n > 59 || i == 0 && n > 23 {
			return false
		}
	}
	return true
}
