package cli

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"footing/internal/audit"
	"footing/internal/quantity"
	"footing/internal/steam"
)

// The words of a verdict.
const (
	met       = "met"
	notMet    = "not met"
	notToTell = "cannot be told"
)

// plateau is the hold at the set temperature: the one given; else at the hottest
// of the usual ones at which it was held for the shortest time that a table asks there, else
// the hottest that was reached at all. How says which, for a person.
func (q *question) plateau(c *steam.Cycle) (hold *steam.Hold, how string) {
	if q.set.Written() {
		if len(c.Holds) == 0 {
			return nil, ""
		}
		how = q.set.String()
		if u := q.set.Unit; u != quantity.Celsius {
			how += fmt.Sprintf(" (%.1f °C)", q.set.In(quantity.Celsius))
		}
		return &c.Holds[0], how
	}
	at := func(level float64) (seconds float64, ok bool) {
		i := slices.IndexFunc(q.usual, func(u usual) bool { return u.celsius == level })
		if i < 0 {
			return 0, false
		}
		return q.usual[i].seconds, true
	}
	hold, enough := c.Concluded(at)
	switch {
	case hold == nil:
	case enough && (hold.OpenStart || hold.OpenEnd):
		how = fmt.Sprintf("%s, concluded: the hottest of the usual ones (%s) at which the file begins or ends; --set says another", degrees(hold.Level), q.temperatures())
	case enough:
		seconds, _ := at(hold.Level)
		how = fmt.Sprintf("%s, concluded: the hottest of the usual ones (%s) at which it was held for the shortest time that a table asks there, %s; --set says another",
			degrees(hold.Level), q.temperatures(), audit.Lasted(seconds))
	default:
		how = fmt.Sprintf("%s, concluded: the hottest of the usual ones (%s) that was reached; at none was it held for as long as a table asks; --set says another", degrees(hold.Level), q.temperatures())
	}
	if hold == nil {
		how = "not known; --set says which it was"
		if len(q.usual) > 0 {
			how = "none of the usual ones (" + q.temperatures() + ") was reached; --set says another"
		}
	}
	return hold, how
}

func degrees(celsius float64) string { return strconv.FormatFloat(celsius, 'f', -1, 64) + " °C" }

func (q *question) temperatures() string {
	var list []string
	for _, u := range q.usual {
		list = append(list, strconv.FormatFloat(u.celsius, 'f', -1, 64))
	}
	return strings.Join(list, ", ") + " °C"
}

// verdict says whether the hold was as long as asked, and by what.
func (q *question) verdict(h *steam.Hold) (word, why string) {
	need := q.hold.In(quantity.Second)
	asked := q.hold.String()
	switch {
	case h == nil:
		return notToTell, "no set temperature is known; --set says which it was"
	case atLeast(h.Least, need):
		return met, fmt.Sprintf("held for %s at least; %s was asked", fine(h.Least), asked)
	case !atLeast(h.Most, need) && h.Leapt:
		return notToTell, fmt.Sprintf("held for %s in the file, where the sensor leapt from one reading to the next as no chamber does, as of a loose plug; %s was asked", fine(h.Most), asked)
	case !atLeast(h.Most, need) && open(h) != "":
		return notToTell, fmt.Sprintf("held for %s in the file, which %s at temperature; %s was asked", fine(h.Most), open(h), asked)
	case h.Most <= 0:
		return notMet, fmt.Sprintf("never at %s or above; %s was asked", degrees(math.Round(h.Level*10)/10), asked)
	case !atLeast(h.Most, need):
		return notMet, fmt.Sprintf("held for %s at most; %s was asked", fine(h.Most), asked)
	}
	left := "the readings' distance, the sensor and the last digit leave"
	if h.Gaps > 0 {
		left = "a gap in the readings leaves"
	}
	return notToTell, fmt.Sprintf("held for %s to %s, and %s was asked; it hangs on less than %s, which is what %s open",
		fine(h.Least), fine(h.Most), asked, audit.AtMostLasted(h.Most-h.Least), left)
}

// open says which end of the file lies in a hold; "" for none.
func open(h *steam.Hold) string {
	switch {
	case h.OpenStart && h.OpenEnd:
		return "begins and ends"
	case h.OpenStart:
		return "begins"
	case h.OpenEnd:
		return "ends"
	}
	return ""
}

// cutOff says in which end of the file a hold lies; "" for neither.
func cutOff(c *steam.Cycle, h *steam.Hold) string {
	return open(&steam.Hold{OpenStart: h.Reached && h.From <= c.From, OpenEnd: h.Reached && h.Until >= c.Until})
}

// atLeast compares seconds; a millionth bridges what sums of readings round away.
func atLeast(seconds, need float64) bool { return seconds >= need-1e-6 }

// fine is a time in words to a tenth of a second, where it is no whole second: so
// that "2 min 59.6 s" is not told as the three minutes that it is not.
func fine(seconds float64) string {
	tenth := math.Floor(seconds*10+1e-6) / 10
	if whole := math.Floor(tenth); tenth > whole && seconds >= 60 {
		return audit.Lasted(whole-math.Mod(whole, 60)) + fmt.Sprintf(" %.1f s", math.Mod(tenth, 60))
	} else if tenth > whole {
		return fmt.Sprintf("%.1f s", tenth)
	}
	return audit.Lasted(tenth)
}
