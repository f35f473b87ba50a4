package result

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Series is numbers, one a point; NaN stands for one that is not known. In
// audit.json it is one string, "0 1.5 ? 3", so that a chart takes a line and not a page.
type Series []float64

// MarshalText writes the numbers with a space between, rounded to three decimals.
func (s Series) MarshalText() ([]byte, error) {
	b := make([]byte, 0, 8*len(s))
	for i, v := range s {
		if i > 0 {
			b = append(b, ' ')
		}
		switch {
		case math.IsNaN(v):
			b = append(b, '?')
		case math.IsInf(v, 0):
			return nil, fmt.Errorf("a number of a chart is not finite")
		default:
			b = strconv.AppendFloat(b, Rounded(v), 'f', -1, 64)
		}
	}
	return b, nil
}

// Rounded is a number as a Series is written: to three decimals; a minus before nought
// goes. Above a million million a number has no three decimals to round to. A chart of
// such numbers is drawn alike before it is written and after.
func Rounded(v float64) float64 {
	if math.Abs(v) >= 1e12 {
		return v
	}
	return math.Round(v*1000)/1000 + 0
}

// UnmarshalText reads what MarshalText wrote.
func (s *Series) UnmarshalText(b []byte) error {
	*s = Series{}
	for _, f := range strings.Fields(string(b)) {
		if f == "?" {
			*s = append(*s, math.NaN())
			continue
		}
		v, err := strconv.ParseFloat(f, 64)
		if err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
			return fmt.Errorf("%q is no number of a chart", f)
		}
		*s = append(*s, v)
	}
	return nil
}
