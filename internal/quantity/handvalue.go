package quantity

import (
	"cmp"
	"errors"
	"strings"
)

// Read reads a value as it stands in a cell or on paper: all that Parse reads, and what
// has one meaning only, though it is written in another way: "½ h", "1h30", "3m30s",
// "0:03:30", "134 oC", "15 lb/in²", "¾ full", with a tick after it. Roughly given values,
// limits and ranges are refused in words of their own.
func Read(s string, d Dimension, fallback Fallback) (Quantity, error) {
	q, err := Parse(s, d, fallback)
	if err == nil || len(s) > longestHand {
		return q, err
	}
	t := Tidy(s)
	plain := plainText(t, d)
	q, again := Parse(plain, d, fallback)
	var e *Error
	if again == nil {
		return q, nil
	} else if plain != t && errors.As(again, &e) {
		e.Found, err = s, e
	}
	switch {
	case d == Percent && percents[t] != "":
		return Quantity{}, &Error{Found: s, Why: "does not say of what it is a part", Allowed: allowed[d], Todo: "write " + percents[t] + " if it was so full"}
	case rough.MatchString(t):
		return Quantity{}, &Error{Found: s, Why: "does not give one exact value", Allowed: allowed[d],
			Todo: "write the number that the record shows; if it shows none, leave this blank and put these words under note"}
	case ranged.MatchString(t):
		return Quantity{}, &Error{Found: s, Why: "gives more than one value", Allowed: allowed[d],
			Todo: "write the one value that this column asks for, and put the other under note"}
	}
	return Quantity{}, err
}

var (
	rough  = when(`(?i)^(?:ca?\.?|circa|about|approx\.?|approximately|around|nearly|over|under|above|below|up to|at least|at most|more than|less than|min\.?|max\.?|[~≈<>≤≥±]+=?) *[\d.,½¼¾]`)
	ranged = when(`(?i)\d *[°'′%a-z]{0,8} *(?:-|–|—|to|or|and|\.\.\.?|…|\() *[-−+]?\d`)

	fraction     = when(`^(?:(\d{1,4}) ?)?(½|¼|¾)(.*)$`)
	fractionBar  = when(`^(?:(\d{1,4}) )?(1/2|1/4|3/4)([^\d/].*)$`)
	full         = when(`(?i)^(½|¼|¾|1/2|1/4|3/4|half) ?full$`)
	percentFull  = when(`(?i)^(\d+(?:[.,]\d+)? ?(?:%|percent|per cent)) full$`)
	letterDegree = when(`(?i)^(.*\d) ?[o'’′] ?([cf])$`)
	poundsSquare = when(`(?i)^(.*\d) ?lbs?\.? ?(?:/|per) ?(?:in²|in2|in\^2|sq\.? ?in\.?|sq\.? ?inch|square inch)(.*)$`)
	hourMinutes  = when(`(?i)^(\d+) ?(?:h|hrs?|hours?)\.? ?([0-5]\d)$`)
	minuteSecond = when(`(?i)^(\d+) ?(?:min|mins|minutes?|'|’|′)\.? ?([0-5]\d)$`)
	hourM        = when(`(?i)^(\d+ ?(?:h|hrs?|hours?)\.?,? ?(?:and )?\d+) ?m$`)
	mSecond      = when(`(?i)^(.*\d) ?m ?(\d+(?:[.,]\d+)? ?s(?:ecs?|econds?)?)$`)
	clockSpan    = when(`^(\d{1,3}):([0-5]\d):([0-5]\d)$`)
)

var decimals = map[string]string{"½": ".5", "1/2": ".5", "¼": ".25", "1/4": ".25", "¾": ".75", "3/4": ".75"}
var percents = map[string]string{"½": "50 %", "1/2": "50 %", "half": "50 %", "¼": "25 %", "1/4": "25 %", "¾": "75 %", "3/4": "75 %"}

// plainText brings a value of dimension d to a form that Parse reads, if it is one of
// those above. "0:03:00" stays as it is: a spreadsheet makes it of "0:03" too, which can
// be minutes or seconds.
func plainText(t string, d Dimension) string {
	switch d {
	case Temperature, Difference:
		t = letterDegree.ReplaceAllString(t, "$1 °$2")
	case Pressure:
		t = poundsSquare.ReplaceAllString(t, "$1 psi$2")
	case Percent:
		if p := full.FindStringSubmatch(t); p != nil {
			return percents[strings.ToLower(p[1])]
		}
		t = percentFull.ReplaceAllString(t, "$1")
	case Span:
		t = plainSpan(t)
	case Plain:
		return t
	}
	for _, form := range [...]*pattern{fraction, fractionBar} {
		if p := form.FindStringSubmatch(t); p != nil {
			return cmp.Or(p[1], "0") + decimals[p[2]] + p[3]
		}
	}
	return t
}

func plainSpan(t string) string {
	t = hourMinutes.ReplaceAllString(t, "$1 h $2 min")
	t = minuteSecond.ReplaceAllString(t, "$1 min $2 s")
	t = hourM.ReplaceAllString(t, "$1 min")
	t = mSecond.ReplaceAllString(t, "$1 min $2")
	p := clockSpan.FindStringSubmatch(t)
	if p == nil || p[3] == "00" {
		return t
	}
	parts := []string{p[1] + " h", p[2] + " min", p[3] + " s"}
	for len(parts) > 1 && strings.TrimLeft(parts[0], "0")[0] == ' ' {
		parts = parts[1:]
	}
	return strings.Join(parts, " ")
}
