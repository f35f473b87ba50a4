package cli

import (
	"fmt"
	"strings"
	"unicode/utf8"
)

// count is a number with its noun: "1 row", "1,200 rows".
func count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return thousands(n) + " " + many
}

// thousands writes a whole number with a comma at each thousand.
func thousands(n int) string {
	digits := fmt.Sprint(n)
	for i := len(digits) - 3; i > 0; i -= 3 {
		digits = digits[:i] + "," + digits[i:]
	}
	return digits
}

// listed joins words as a sentence does: "a, b and c".
func listed(words []string) string {
	if len(words) < 2 {
		return strings.Join(words, "")
	}
	last := len(words) - 1
	return strings.Join(words[:last], ", ") + " and " + words[last]
}

// someOf names the first three of some words.
func someOf(words []string) string {
	if len(words) <= 3 {
		return strings.Join(words, ", ")
	}
	return strings.Join(words[:3], ", ") + " …"
}

// upperFirst writes the first letter of a sentence large.
func upperFirst(s string) string {
	_, n := utf8.DecodeRuneInString(s)
	return strings.ToUpper(s[:n]) + s[n:]
}
