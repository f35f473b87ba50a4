package cli

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"footing/internal/practice"
	"footing/internal/record"
)

func TestUpperFirst(t *testing.T) {
	for s, want := range map[string]string{"": "", "a": "A", "nothing changed": "Nothing changed", "éclair": "Éclair", "3 new": "3 new"} {
		assert.Equal(t, want, upperFirst(s))
	}
}

func TestCount(t *testing.T) {
	for n, want := range map[int]string{0: "0 rows", 1: "1 row", 2: "2 rows", 999: "999 rows", 1000: "1,000 rows", 1234567: "1,234,567 rows"} {
		assert.Equal(t, want, count(n, "row", "rows"))
	}
}

func TestListed(t *testing.T) {
	words := []string{"a", "b", "c", "d"}
	for n, want := range []string{"", "a", "a and b", "a, b and c", "a, b, c and d"} {
		assert.Equal(t, want, listed(words[:n]))
	}
	for n, want := range []string{"", "a", "a, b", "a, b, c", "a, b, c …"} {
		assert.Equal(t, want, someOf(words[:n]))
	}
	assert.Equal(t, []string{"a", "b", "c", "d"}, words)
}

func TestFilesThatAreNoRecords(t *testing.T) {
	p := &practice.Practice{Intake: &record.Intake{}}
	for _, want := range []string{"; it is empty", "; 1 other file is there: a.txt (why)", "; 2 other files are there: a.txt (why), a.txt (why)",
		"; 3 other files are there: a.txt (why), a.txt (why), a.txt (why)", "; 4 other files are there, such as a.txt (why), a.txt (why), a.txt (why)"} {
		assert.Equal(t, want, nameSome(p))
		p.Intake.NotRead = append(p.Intake.NotRead, record.NotRead{Name: "a.txt", Why: "why"})
	}
}

// Every command says what it does and shows how it is typed; what comes first on the
// first evening stands first in the help.
func TestEveryCommandShowsHow(t *testing.T) {
	root := (&app{out: &printed{}, pace: ordinary}).root()
	for _, cmd := range root.Commands() {
		if cmd.Name() != "completion" && cmd.Name() != "version" {
			assert.Contains(t, cmd.Example, "footing "+strings.TrimPrefix(cmd.Name(), "footing "), cmd.Name())
			assert.NotEmpty(t, cmd.Long, cmd.Name())
		}
		assert.NotEmpty(t, cmd.Short, cmd.Name())
		assert.Equal(t, strings.ToLower(cmd.Short[:1]), cmd.Short[:1], cmd.Name())
	}
	got := call(t.Context())
	at := -1
	for _, words := range []string{"footing new records", "footing proofread records", "footing audit records", "footing demo", "footing watch records --open", "footing cycle", "footing lookback", "\n  new ", "\n  proofread ", "\n  audit "} {
		next := strings.Index(got.out, words)
		assert.Greater(t, next, at, words)
		at = next
	}
}
