package practice

import (
	"testing"

	"github.com/stretchr/testify/assert"

	"footing/internal/quantity"
)

// The rules of records.md for answers: each question takes its latest answer, a
// yes ends only by a later no; "not asked" takes nothing away.
func TestAnswerOf(t *testing.T) {
	s := func(day quantity.Day, latex, any string) *Screen {
		return &Screen{AskedOn: day, Latex: latex, AnyKnown: any}
	}
	for _, c := range []struct {
		name    string
		screens []*Screen
		until   quantity.Day
		want    Standing
	}{
		{"nothing typed", nil, 9, Standing{}},
		{"asked later", []*Screen{s(5, "no", "")}, 4, Standing{}},
		{"on the day", []*Screen{s(5, "no", "")}, 5, Standing{Answer: "no", Since: 5, On: 5, Field: "latex"}},
		{"blank beside an answer", []*Screen{s(5, "no", ""), s(6, "", "yes")}, 9, Standing{Answer: "no", Since: 5, On: 5, Field: "latex"}},
		{"the latest", []*Screen{s(5, "no", ""), s(7, "unsure", "")}, 9, Standing{Answer: "unsure", Since: 7, On: 7, Field: "latex", Before: "no"}},
		{"the same again", []*Screen{s(5, "no", ""), s(7, "no", "")}, 9, Standing{Answer: "no", Since: 5, On: 7, Field: "latex"}},
		{"not asked first", []*Screen{s(5, "not-asked", "")}, 9, Standing{Answer: "not-asked", Since: 5, On: 5, Field: "latex"}},
		{"not asked after a no", []*Screen{s(5, "no", ""), s(7, "not-asked", "")}, 9, Standing{Answer: "no", Since: 5, On: 5, Field: "latex"}},
		{"yes, then unsure", []*Screen{s(5, "yes", ""), s(7, "unsure", "")}, 9, Standing{Answer: "yes", Since: 5, On: 7, Field: "latex"}},
		{"yes, then a general no", []*Screen{s(5, "yes", ""), s(7, "", "no")}, 9, Standing{Answer: "yes", Since: 5, On: 5, Field: "latex"}},
		{"yes, then no", []*Screen{s(5, "yes", ""), s(7, "no", "")}, 9, Standing{Answer: "no", Since: 7, On: 7, Field: "latex", Before: "yes"}},
		{"yes and no on one day", []*Screen{s(5, "yes", ""), s(5, "no", "")}, 9, Standing{Answer: "yes", Since: 5, On: 5, Field: "latex"}},
		{"no and yes on one day", []*Screen{s(5, "no", ""), s(5, "yes", "")}, 9, Standing{Answer: "yes", Since: 5, On: 5, Field: "latex"}},
		{"a general no", []*Screen{s(5, "", "no")}, 9, Standing{Answer: "no", Since: 5, On: 5, Field: "any_known"}},
		{"a general no beside a yes", []*Screen{s(5, "yes", "no")}, 9, Standing{Answer: "yes", Since: 5, On: 5, Field: "latex"}},
		{"a general yes", []*Screen{s(5, "", "yes")}, 9, Standing{}},
	} {
		p := &Practice{}
		p.screensOf = map[string][]*Screen{"C-1": c.screens}
		got := p.AnswerOf("C-1", "latex", c.until)
		got.Screen = nil
		assert.Equal(t, c.want, got, c.name)
	}
}
