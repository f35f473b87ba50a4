package quantity

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

func TestParseYesNo(t *testing.T) {
	for in, want := range map[string]YesNo{
		"yes": IsYes, "Yes": IsYes, "Y": IsYes, "TRUE": IsYes, " yes ": IsYes, "✓": IsYes, "✔": IsYes, "✔\ufe0f": IsYes, "☑": IsYes,
		"no": IsNo, "N": IsNo, "False": IsNo, "NO": IsNo,
	} {
		y, err := ParseYesNo(in)
		assert.NoError(t, err, in)
		assert.Equal(t, want, y, in)
	}
	for in, words := range map[string]string{
		"": "is empty", "x": "a tick or a cross; write yes or no", "X": "a tick or a cross", "✗": "a tick or a cross",
		"ja": "neither yes nor no", "1": "neither", "unsure": "neither", "yes and no": "neither", "-": "neither",
	} {
		y, err := ParseYesNo(in)
		assert.Equal(t, NotWritten, y, in)
		assert.ErrorContains(t, err, words, in)
	}
	assert.Equal(t, "yes no ", IsYes.String()+" "+IsNo.String()+" "+NotWritten.String())
}

func TestLists(t *testing.T) {
	l := List{Items: []string{"a"}, Written: true}
	assert.True(t, l.Has("a"))
	assert.False(t, l.Has("b"))
	assert.True(t, List{Written: true, All: true}.Has("b"))
	assert.False(t, List{}.Has(""))
	assert.Equal(t, Number{1, true}, CountOrList{List: l}.Number())
	assert.Equal(t, Number{0, true}, CountOrList{List: List{Written: true}}.Number(), "none is a count")
	assert.Equal(t, Number{6, true}, CountOrList{Count: Number{6, true}}.Number())
	assert.Equal(t, Number{}, CountOrList{}.Number())
	assert.Equal(t, Number{}, CountOrList{List: List{Written: true, All: true}}.Number())
}

func TestTicked(t *testing.T) {
	for in, want := range map[string]string{"pass ✓": "pass", "✓ pass": "pass", "☑ OK.": "OK", "✔\ufe0f pass ✓": "pass", "✗ fail": "✗ fail", "OK ✔\ufe0f.": "OK", "yes.": "yes", "✓": "✓", "✓ ✓": "✓", ".": ".", "no": "no", "": "", "a.b": "a.b"} {
		assert.Equal(t, want, Ticked(in), in)
	}
	y, err := ParseYesNo("No ✓")
	assert.NoError(t, err)
	assert.Equal(t, IsNo, y)
}
