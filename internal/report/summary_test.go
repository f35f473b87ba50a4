package report

import (
	"bytes"
	"errors"
	"regexp"
	"strings"
	"testing"

	"footing/internal/result"

	terminal "github.com/jedib0t/go-pretty/v6/text"
	"github.com/stretchr/testify/require"
)

func summarised(t testing.TB, r *result.Result, opt SummaryOptions) string {
	var b bytes.Buffer
	require.NoError(t, Summary(&b, r, opt))
	return b.String()
}

func TestSummaryFitsTheTerminal(t *testing.T) {
	for _, r := range []*result.Result{full(), thin(), {}} {
		for _, width := range []int{0, 40, 80, 132} {
			for _, color := range []bool{false, true} {
				out := summarised(t, r, SummaryOptions{Width: width, Color: color})
				for l := range strings.Lines(out) {
					want := width
					if want == 0 {
						want = 80
					}
					require.LessOrEqual(t, terminal.StringWidthWithoutEscSequences(strings.TrimSuffix(l, "\n")), want, l)
				}
			}
		}
	}
}

// A name of any length or script is broken rather than let run over the edge, and none of it is lost.
func TestSummaryBreaksWhatHasNoSpaces(t *testing.T) {
	r := thin()
	long, script := strings.Repeat("Fußpflege", 40), strings.Repeat("足の手入れ", 50)
	r.Practice.Name, r.Practice.Regulator = long, script
	for _, width := range []int{41, 80} {
		out := summarised(t, r, SummaryOptions{Width: width})
		for l := range strings.Lines(out) {
			require.LessOrEqual(t, terminal.StringWidth(strings.TrimSuffix(l, "\n")), width, l)
		}
		joined := strings.ReplaceAll(out, "\n", "")
		require.Contains(t, joined, long)
		require.Contains(t, joined, script)
	}
}

func TestSummaryAsksNoRowsOfASingleDocument(t *testing.T) {
	r := thin()
	r.NextField = &result.NextField{Kind: "practice", Field: "altitude", Why: "with altitude written"}
	require.Contains(t, summarised(t, r, SummaryOptions{}), "never backwards: write “altitude” in practice.")
}

var escape = regexp.MustCompile("\x1b\\[[0-9;]*m")

func TestSummaryHasColourOnlyWhereAsked(t *testing.T) {
	t.Setenv("NO_COLOR", "1") // whoever calls decides; go-pretty's own switch must not
	plainText := summarised(t, full(), SummaryOptions{})
	coloured := summarised(t, full(), SummaryOptions{Color: true})
	require.NotContains(t, plainText, "\x1b")
	require.Contains(t, coloured, "\x1b[")
	require.Equal(t, plainText, escape.ReplaceAllString(coloured, ""))
}

func TestSummaryLetsNothingSteerTheTerminal(t *testing.T) {
	r := full()
	r.Conclusion.Sentence = "stop\x1b[2J\r\u202e here"
	r.Findings[0].Steps[0] = "\x07look\x9b31m"
	out := summarised(t, r, SummaryOptions{ReportPath: "/tmp/a\x1b[0m b/report.html"})
	require.NotContains(t, out, "\x1b")
	require.NotContains(t, out, "\u009b")
	require.NotContains(t, out, "\u202e")
	require.NotContains(t, out, "\x07")
	require.Contains(t, out, "Report: /tmp/a[0m b/report.html\n")
}

func TestSummarySaysWhatCountsFirst(t *testing.T) {
	out := summarised(t, thin(), SummaryOptions{})
	at := 0
	for _, part := range []string{"Alder Lane Foot Care", "not an inspection", "Nothing typed here says stop.", "could not look", "Before you open", "1. ○ Look up which rule", "From today on, never backwards"} {
		next := strings.Index(out[at:], part)
		require.GreaterOrEqual(t, next, 0, "%q in\n%s", part, out)
		at += next
	}
}

type fullDisk struct{}

func (fullDisk) Write([]byte) (int, error) { return 0, errors.New("no space left on device") }

func TestSummaryTellsThatItCouldNotWrite(t *testing.T) {
	require.Error(t, Summary(fullDisk{}, thin(), SummaryOptions{}))
}
