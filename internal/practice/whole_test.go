package practice

import (
	"testing"

	"footing/internal/record"
)

// Where a workbook was refused, what seems to be missing of any kind may stand in it; what
// is only noted hides nothing.
func TestUnreadWorkbook(t *testing.T) {
	for _, c := range []struct {
		problem record.Problem
		want    bool
	}{
		{record.Problem{Effect: record.FileRefused, Any: true}, true},
		{record.Problem{Effect: record.FileRefused}, false},
		{record.Problem{Effect: record.Noted, Any: true}, false},
		{record.Problem{Effect: record.FileRefused, Kind: "tests"}, false},
		{record.Problem{Effect: record.Noted, Kind: "loads"}, false},
		{record.Problem{Effect: record.FileRefused, Kind: "loads"}, true},
	} {
		p := &Practice{Intake: &record.Intake{Problems: []record.Problem{c.problem}}}
		if got := p.Unread("loads"); got != c.want {
			t.Errorf("%+v: %v", c.problem, got)
		}
	}
}
