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
	r.Findings = nil
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
	require.Less(t, len(many), 4_000_000)
	checkPage(t, many)
}

// Twice the findings take at most three times the time: nothing in the making of
// a page looks at each finding for each finding. Ratios of one run, best of three.
func TestTimeGrowsWithSize(t *testing.T) {
	if testing.Short() {
		t.Skip("timing is left out of a short run")
	}
	best := func(r *result.Result) time.Duration {
		least := time.Hour
		for range 3 {
			start := time.Now()
			_, err := HTML(r)
			require.NoError(t, err)
			least = min(least, time.Since(start))
		}
		return least
	}
	small, double := large(400, 5), large(800, 5)
	require.Less(t, float64(best(double))/float64(best(small)), 3.0)
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
