package record

import (
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"

	"footing/internal/quantity"
)

// numberIn gives the number of a text as JSON writes it: the number alone; with unbroken
// blanks or apostrophes between its thousands; or with the words that can only say what is
// counted. "2 398" may be sterilizer 2 and cycle 398, "1.000" a thousand.
func (l *lane) numberIn(text string) (string, bool) {
	if maybeThousand(text) {
		return "", false
	}
	if n, ok := numberText(text); ok || len(text) > longestChoice {
		return n, ok
	}
	if bare := trim(text); gapped.MatchString(bare) {
		return numberText(noGaps.Replace(bare))
	}
	t := quantity.Tidy(text)
	if n := slices.Index(numberNames, strings.ToLower(t)); n >= 0 {
		return strconv.Itoa(n), true
	}
	if whole, ok := strings.CutSuffix(t, "½"); ok && (whole == "" || digits(trim(whole))) {
		return numberText("0" + trim(whole) + ".5")
	}
	if p := countWords()[l.col.field.Name].find(t); p != "" {
		t = p
	}
	if maybeThousand(t) {
		return "", false
	}
	return numberText(t)
}

var numberNames = []string{"zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"}

var (
	gapped = regexp.MustCompile(`^\d{1,3}(?:[\x{a0}\x{202f}\x{2009}]\d{3})+$|^\d{1,3}(?:['’]\d{3})+$`)
	noGaps = strings.NewReplacer("\u00a0", "", "\u202f", "", "\u2009", "", "'", "", "’", "")
	// No program prints a nought at the end of decimals, so that a number of a record that
	// was converted is never one of these.
	pointed = regexp.MustCompile(`^[1-9]\d{0,2}\.\d\d0$`)
)

// maybeThousand is true for "1.000", which may be a thousand. It is asked of every number, and
// looks at the text before the pattern does.
func maybeThousand(s string) bool {
	return len(s) >= len("1.000") && s[len(s)-1] == '0' && s[len(s)-4] == '.' && pointed.MatchString(s)
}

// counts are the ways to write a number of one kind of thing.
type counts []*regexp.Regexp

// find gives the number that stands in s in one of the ways, or "".
func (c counts) find(s string) string {
	for _, way := range c {
		if p := way.FindStringSubmatch(s); p != nil {
			return p[1]
		}
	}
	return ""
}

func ways(patterns ...string) (c counts) {
	for _, p := range patterns {
		c = append(c, regexp.MustCompile(`(?i)^`+p+`$`))
	}
	return c
}

// countWords are the words that stand beside the number of a field and cannot change
// what it says. A quantity in stock has none: its pieces and its boxes are counted apart.
var countWords = sync.OnceValue(func() map[string]counts {
	packs := ways(`(\d+) ?(?:packs?|pouch|pouches|packets?|packages?)`, `(\d+) sterile (?:packs?|pouches)`)
	number := ways(`(?:cycle|load|run)? ?(?:no\.?|nr\.?|number|#|№)? ?(\d+)`)
	cycles := ways(`(\d+) ?(?:cycles?|times|uses|x)`)
	return map[string]counts{
		"packs_made": packs, "packs_used": packs, "most_packs": packs, "packs_out": packs, "packs_back": packs, "packs_spoiled": packs,
		"counter": number, "counter_after": number, "counter_start": number,
		"most_cycles": cycles, "cycles_before": cycles, "pulses": ways(`(\d+) ?(?:pulses?|x|times)`),
		"hours": ways(`(\d+(?:[.,]\d{1,2})?) ?(?:h|hrs?|hours?)\.?`),
		"each": ways(`(?:box|pack|packet|bag|carton)(?:es|s)? of (\d+)`, `(\d+) ?(?:/|per|a|to a|in a) ?(?:box|pack|packet|bag|carton)`,
			`(\d+) ?(?:pcs?\.?|pieces?)`),
	}
})

var numberFirst = regexp.MustCompile(`^(\d+) ?[^\d.,;|/:%+-]*$`)

// noNumber is the fault of a text that holds no number which can be read.
func (l *lane) noNumber(text string) *fault {
	switch p := numberFirst.FindStringSubmatch(text); {
	case thousands(text), maybeThousand(text):
		return l.fault("thousands", text, "could be read two ways").do("write it without a comma, point or blank between the thousands")
	case l.col.field.Name == "quantity" && p != nil:
		return l.fault("count", text, "is not a number alone").do("write the number alone, " + p[1] + "; how many pieces are in one box goes under each")
	case p != nil:
		return l.fault("count", text, "is not a number alone").do("if it is " + p[1] + ", write that alone")
	case strings.EqualFold(text, "none"), strings.EqualFold(text, "nil"):
		return l.fault("nil", text, "is not a number").do("write 0 if there were none, and nothing if it is not known")
	}
	return l.refused(text, text)
}

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
