package checks

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// Letters and numbers are two scales of glove sizes with no fixed step from one to
// the other: common practice, no source.
func TestGearSize(t *testing.T) {
	for written, want := range map[string][2]string{
		"S": {"S", "letters"}, " small ": {"S", "letters"}, "Size M": {"M", "letters"}, "med": {"M", "letters"}, "X-Large": {"XL", "letters"}, "2xl": {"XXL", "letters"},
		"7.5": {"7.5", "numbers"}, "7,5": {"7.5", "numbers"}, "7½": {"7.5", "numbers"}, "8.0": {"8", "numbers"}, "size 8": {"8", "numbers"},
		"": {"", ""}, "one size": {"ONE SIZE", ""}, "S/M": {"S/M", ""},
	} {
		size := gearSize(written)
		assert.Equal(t, want, [2]string{size, gearScale(size)}, written)
	}
}
