package report

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"footing/internal/result"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"
)

var update = flag.Bool("update", false, "write the golden reports anew")

// The reports of the two samples, as people get them. After a change of wording:
// go test ./internal/report -update, then read the difference.
func TestGoldenReports(t *testing.T) {
	for name, r := range map[string]*result.Result{"full": full(), "thin": thin()} {
		page, err := HTML(r)
		require.NoError(t, err)
		golden(t, name+".md", Markdown(r))
		golden(t, name+".html", page)
		golden(t, name+".txt", []byte(summarised(t, r, SummaryOptions{ReportPath: "records-audit/report.html"})))
	}
}

func golden(t *testing.T, name string, got []byte) {
	t.Helper()
	path := filepath.Join("testdata", name)
	if *update {
		require.NoError(t, os.WriteFile(path, got, 0o644))
	}
	want, err := os.ReadFile(path)
	require.NoError(t, err)
	if d := cmp.Diff(strings.Split(string(want), "\n"), strings.Split(string(got), "\n")); d != "" {
		t.Errorf("%s (go test ./internal/report -update writes it anew):\n%s", name, d)
	}
}

func TestSameResultSameBytes(t *testing.T) {
	for _, make := range []func() *result.Result{full, thin, hostileResult} {
		first, err := HTML(make())
		require.NoError(t, err)
		for range 5 {
			again, err := HTML(make())
			require.NoError(t, err)
			require.True(t, bytes.Equal(first, again))
			require.Equal(t, Markdown(make()), Markdown(make()))
		}
	}
}

// A report made from audit.json is the report that was made at once.
func TestReportFromAuditJSON(t *testing.T) {
	for _, r := range []*result.Result{full(), thin()} {
		var b bytes.Buffer
		require.NoError(t, result.Write(&b, r))
		back, err := result.Read(&b)
		require.NoError(t, err)
		require.Equal(t, string(Markdown(r)), string(Markdown(back)))
	}
}

// The page is made from the Markdown and nothing else: without the fences whose
// rows the result holds, it has the same words in the same order.
func TestPageHasTheWordsOfTheMarkdown(t *testing.T) {
	r := full()
	page, err := HTML(r)
	require.NoError(t, err)
	text := pageWords(t, page)
	at := 0
	fence := false
	for line := range strings.Lines(string(Markdown(r))) {
		line = strings.TrimSpace(line)
		if strings.HasPrefix(line, "```") {
			fence = !fence
			continue
		}
		if fence || line == "" || strings.HasPrefix(line, "|") {
			continue
		}
		words := asRead(line)
		next := strings.Index(text[at:], words)
		require.GreaterOrEqual(t, next, 0, "%q is not on the page after what stood before it", words)
		at += next + len(words)
	}
	require.Greater(t, at, 3000)
}

var (
	linkMark = regexp.MustCompile(`\[([^\]]*)\]\(#[^)]*\)`)
	listMark = regexp.MustCompile(`^(#+|-|[0-9]+\.) `)
	backed   = regexp.MustCompile(`\\([[:punct:]])`)
)

// asRead takes the signs of Markdown off one line.
func asRead(line string) string {
	line = listMark.ReplaceAllString(line, "")
	line = linkMark.ReplaceAllString(line, "$1")
	line = strings.NewReplacer("**", "", "`", "").Replace(line)
	return backed.ReplaceAllString(line, "$1")
}

// Words that a reading of records can never give.
var never = regexp.MustCompile(`(?i)\b(sterile|safe|safely|compliant|compliance|guarantee[ds]?|will pass|pass rate|score)\b`)

func TestReportNeverPromises(t *testing.T) {
	for _, r := range []*result.Result{full(), thin(), {}} {
		for _, text := range []string{string(Markdown(r)), summarised(t, r, SummaryOptions{})} {
			require.Empty(t, never.FindAllString(text, -1))
		}
	}
}
