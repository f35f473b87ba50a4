package record

import (
	"strconv"
	"strings"
)

// numberText brings a number as people type it to the form that JSON has: no plus
// sign, no zeros in front, a point. It refuses what could mean thousands.
func numberText(s string) (string, bool) {
	sign := ""
	if s != "" && (s[0] == '-' || s[0] == '+') {
		if s[0] == '-' {
			sign = "-"
		}
		s = s[1:]
	}
	whole, decimals, cut := strings.Cut(s, ".")
	if !cut {
		whole, decimals, cut = strings.Cut(s, ",")
		if cut && thousands(s) {
			return "", false
		}
	}
	if whole == "" || len(s) > 40 || !digits(whole) || cut && (decimals == "" || !digits(decimals)) {
		return "", false
	}
	if whole = strings.TrimLeft(whole, "0"); whole == "" {
		whole = "0"
	}
	if cut {
		whole += "." + decimals
	}
	return sign + whole, true
}

// thousands is true for "1,500" and "12.500.000": commas, or several points, before groups of three digits.
func thousands(s string) bool {
	for _, mark := range []string{",", ".", " ", "\u00a0", "\u202f", "'"} {
		groups := strings.Split(s, mark)
		if len(groups) < 2 || mark == "." && len(groups) == 2 || len(groups[0]) > 3 || !digits(groups[0]) || groups[0][0] == '0' {
			continue
		}
		all := true
		for _, g := range groups[1:] {
			all = all && len(g) == 3 && digits(g)
		}
		if all {
			return true
		}
	}
	return false
}

func digits(s string) bool {
	for i := range len(s) {
		if s[i] < '0' || s[i] > '9' {
			return false
		}
	}
	return s != ""
}

// sensibleNumber keeps numbers that would take long to compare, such as 1e999999999, from the schemas.
func sensibleNumber(s string) bool {
	if len(s) > 40 {
		return false
	}
	i := strings.IndexAny(s, "eE")
	if i < 0 {
		return true
	}
	e, err := strconv.Atoi(strings.TrimPrefix(s[i+1:], "+"))
	return err == nil && -300 <= e && e <= 300
}
