package audit

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"footing/internal/steam"
)

// Lasted is a number of seconds in words, cut to whole seconds: "4 min 50 s",
// "1 h 2 min 3 s", "0 s"; below ten seconds with one decimal where there is one.
func Lasted(seconds float64) string {
	if bad(seconds) || seconds < 0 {
		return "a time not known"
	}
	if seconds < 9.95 {
		return strconv.FormatFloat(math.Round(seconds*10)/10, 'f', -1, 64) + " s"
	}
	// What a sum of readings rounds away must not cost a second.
	n := int64(math.Floor(seconds + 1e-6))
	var parts []string
	for _, u := range []struct {
		size int64
		name string
	}{{3600, "h"}, {60, "min"}, {1, "s"}} {
		if v := n / u.size; v > 0 {
			parts = append(parts, strconv.FormatInt(v, 10)+" "+u.name)
		}
		n %= u.size
	}
	return strings.Join(parts, " ")
}

// AtMostLasted is the same of a time that was not exceeded: up to the next whole second.
func AtMostLasted(seconds float64) string {
	if seconds < 9.95 {
		return Lasted(max(math.Ceil(seconds*10-1e-6), 0) / 10)
	}
	return Lasted(math.Ceil(seconds - 1e-6))
}

// HeldFor is how long a hold has lasted, and its bounds: "4 min 50 s (4 min 48 s to 4 min 52 s)".
func HeldFor(h *steam.Hold) string {
	switch {
	case !h.Reached && h.Most > 0:
		return "none as written; " + AtMostLasted(h.Most) + " at most, within what the sensor may be off"
	case !h.Reached:
		return "none"
	}
	held, least, most := Lasted(h.Seconds()), Lasted(h.Least), AtMostLasted(h.Most)
	text := held
	if least != held || most != held {
		text += " (" + least + " to " + most + ")"
	}
	if h.Gaps > 0 {
		text += ", with " + many(h.Gaps, "gap") + " in it"
	}
	return text
}

// ScaleOf is the scale by which a cycle's lethality was counted.
func ScaleOf(c *steam.Cycle) steam.Scale {
	if c.Setting.Scale == (steam.Scale{}) {
		return steam.F0
	}
	return c.Setting.Scale
}

// Lethality is a number of seconds at the reference: A0 in seconds, as it is
// told by custom, the others in minutes.
func Lethality(s steam.Scale, seconds float64) string {
	if bad(seconds) {
		return "not known"
	}
	if s.Name == steam.A0.Name {
		return counted(int(math.Floor(min(seconds, math.MaxInt32)+1e-6))) + " s"
	}
	return tenths(seconds/60) + " min"
}

func between(low, high float64, unit string) string {
	if bad(low) || bad(high) {
		return "not known"
	}
	return tenths(low) + " to " + tenths(high) + " " + unit
}

// tenths is a number with one decimal; never "-0.0".
func tenths(v float64) string {
	if bad(v) {
		return "?"
	}
	return strings.Replace(strconv.FormatFloat(math.Round(v*10)/10+0, 'f', 1, 64), "-", "−", 1)
}

// signed is the same with its sign before it.
func signed(v float64) string {
	text := tenths(v)
	if math.Round(v*10) > 0 {
		text = "+" + text
	}
	return text
}

// counted is a whole number with commas between thousands.
func counted(n int) string {
	text := strconv.Itoa(n)
	for i := len(text) - 3; i > 0; i -= 3 {
		text = text[:i] + "," + text[i:]
	}
	return text
}

func many(n int, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return fmt.Sprintf("%s %ss", counted(n), thing)
}

func orElse(text, otherwise string) string {
	if text == "" {
		return otherwise
	}
	return text
}
