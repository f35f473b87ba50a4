package report

import (
	"math"
	"regexp"
	"strconv"
	"testing"

	"github.com/stretchr/testify/require"
)

// Outside measure: WCAG 2.2, success criterion 1.4.3, text at least 4.5 to 1,
// with relative luminance as WCAG defines it (from memory).
func TestTextStandsOutFromItsGround(t *testing.T) {
	colours := map[string]string{}
	for _, m := range regexp.MustCompile(`--([a-z]+): (#[0-9a-f]{6});`).FindAllStringSubmatch(styleText, -1) {
		colours[m[1]] = m[2]
	}
	require.InDelta(t, 21, contrast("#000000", "#ffffff"), 0.01)
	for _, text := range []string{"ink", "soft", "link", "critical", "major", "minor", "observation"} {
		for _, ground := range []string{colours["paper"], colours["desk"], "#f8f5ea"} {
			require.Contains(t, styleText, ground)
			require.GreaterOrEqual(t, contrast(colours[text], ground), 4.5, "%s on %s", text, ground)
		}
	}
}

func contrast(a, b string) float64 {
	x, y := luminance(a), luminance(b)
	return (max(x, y) + 0.05) / (min(x, y) + 0.05)
}

func luminance(hex string) float64 {
	part := func(at int) float64 {
		n, _ := strconv.ParseUint(hex[at:at+2], 16, 8)
		v := float64(n) / 255
		if v <= 0.04045 {
			return v / 12.92
		}
		return math.Pow((v+0.055)/1.055, 2.4)
	}
	return 0.2126*part(1) + 0.7152*part(3) + 0.0722*part(5)
}

// The page fetches nothing, and its style asks for nothing either.
func TestStyleFetchesNothing(t *testing.T) {
	require.NotRegexp(t, `(?i)url\(|@import|@font-face|expression\(`, styleText)
	require.NotRegexp(t, `(?i)<script|https?:|src=|\son[a-z]+=`, pageText)
}

// Outside measure: WCAG 2.2, success criterion 1.4.11, what must be seen to
// understand a drawing at least 3 to 1 (from memory). And no two lines of a panel
// differ by colour alone.
func TestLinesOfAChartStandOut(t *testing.T) {
	require.Contains(t, chartText, "#ebe2c6")
	lines := []stroke{coldestLine, warmestLine, steamLine, setLine, bandLine, pressLine}
	for i, a := range lines {
		for _, ground := range []string{"#fffdf7", "#ebe2c6"} {
			require.GreaterOrEqual(t, contrast(a.Colour, ground), 3.0, a)
		}
		for _, b := range lines[:i] {
			require.NotEqual(t, a.Weight+" "+a.Dash, b.Weight+" "+b.Dash)
		}
	}
}
