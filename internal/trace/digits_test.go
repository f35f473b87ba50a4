package trace

import (
	"encoding/binary"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// TestDigits: eight bytes at once give the same as one by one, and as strconv.
func TestDigits(t *testing.T) {
	one := func(t require.TestingT, s string, mark byte) {
		n, places, width := manyDigits([]byte(s), mark)
		var word [8]byte
		copy(word[:], s)
		m, p, w := fewDigits(binary.LittleEndian.Uint64(word[:]), mark)
		if w > 0 || width > 0 && width < 7 {
			require.Equal(t, []any{n, places, width}, []any{m, p, w}, "%q", s)
		}
		if width > 0 {
			want, err := strconv.ParseFloat(strings.ReplaceAll(s[:width], ",", "."), 64)
			require.NoError(t, err)
			require.Equal(t, want, float64(n)/powers[places], "%q", s)
		}
	}
	for _, s := range []string{"0,", "7\n", "134.20,", "24.10\r", "1013.25;", "9999999,", "12345678,", ".5,", "5.,", "1..2,", "-1,", "1.2.3,", "00.00,", "99.999,", "1234567.8,",
		"\x8a1,", "1\xff2.3,", "12\xbf.3,", "9:59:59,", "1/2,", "1e5,", "9.9\x00,"} {
		for _, mark := range []byte{'.', ',', '0'} {
			one(t, s+"       ;", mark)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		s := rapid.StringOfN(rapid.RuneFrom([]rune("0123456789.,;:/-\n ")), 1, 20, -1).Draw(t, "text")
		one(t, s+"\n", rapid.SampledFrom([]byte{'.', ','}).Draw(t, "mark"))
	})
}
