package report

import (
	"fmt"
	"testing"
	"time"

	"footing/internal/result"

	"github.com/stretchr/testify/require"
)

// large has n findings of m places each.
func large(n, m int) *result.Result {
	r := full()
	f := r.Findings[0]
	r.Findings, r.Exhibits, r.Days = nil, nil, nil
	for i := range n {
		one := f
		one.Fingerprint = fmt.Sprintf("%012x", i)
		one.Subject.ID = fmt.Sprintf("S%d", i)
		one.Evidence = nil
		for j := range m {
			e := f.Evidence[0]
			e.Row, e.Line = j+1, j+2
			one.Evidence = append(one.Evidence, e)
		}
		r.Findings = append(r.Findings, one)
	}
	return r
}

func TestManyRows(t *testing.T) {
	one, err := HTML(large(1, 10_000))
	require.NoError(t, err)
	require.Less(t, len(one), 60_000, "ten thousand rows of one finding are twenty and a count")
	many, err := HTML(large(1_000, 10))
	require.NoError(t, err)
	require.Less(t, len(many), 4_400_000)
	checkPage(t, many)
}

// BenchmarkTwiceTheFindings gives the ratio of twice the findings to once, turn and
// turn about: about two where nothing looks at each finding for each finding.
func BenchmarkTwiceTheFindings(b *testing.B) {
	small, double := large(400, 5), large(800, 5)
	var once, twice time.Duration
	timed := func(r *result.Result) time.Duration {
		start := time.Now()
		_, err := HTML(r)
		require.NoError(b, err)
		return time.Since(start)
	}
	for b.Loop() {
		once += timed(small)
		twice += timed(double)
	}
	b.ReportMetric(float64(twice)/float64(once), "twice/once")
}

func BenchmarkMarkdown(b *testing.B) {
	r := large(1_000, 10)
	for b.Loop() {
		b.SetBytes(int64(len(Markdown(r))))
	}
}

func BenchmarkHTML(b *testing.B) {
	r := large(1_000, 10)
	for b.Loop() {
		page, err := HTML(r)
		require.NoError(b, err)
		b.SetBytes(int64(len(page)))
	}
}
