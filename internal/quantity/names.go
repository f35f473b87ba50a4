package quantity

import "bytes"

func temperatureUnit(key []byte) (Unit, bool) {
	k := key
	degree := false
	for _, p := range [...]string{"degrees", "degree", "degs", "deg", "*"} {
		if len(k) >= len(p) && string(k[:len(p)]) == p {
			k, degree = k[len(p):], true
			break
		}
	}
	switch string(k) {
	case "c", "celsius", "centigrade":
		return Celsius, true
	case "f", "fahrenheit":
		return Fahrenheit, true
	case "k", "kelvin", "kelvins":
		return KelvinT, true
	case "":
		return NoUnit, degree
	}
	return 0, false
}

var pressureNames = [...]struct {
	name string
	unit Unit
}{
	{"psi", Psi}, {"kpa", KPa}, {"mbar", Mbar}, {"bar", Bar}, {"hpa", Hpa}, {"mpa", MPa}, {"pa", Pa}, {"atm", Atm},
	{"millibars", Mbar}, {"millibar", Mbar}, {"kilopascals", KPa}, {"kilopascal", KPa}, {"hectopascals", Hpa}, {"hectopascal", Hpa},
	{"megapascals", MPa}, {"megapascal", MPa}, {"lb/sqin", Psi}, {"lbs/sqin", Psi}, {"poundspersquareinch", Psi},
}

// pressureUnit needs the text as written too: "mPa" is no megapascal.
func pressureUnit(key []byte, s string) (Unit, Reference, bool) {
	if r, ok := reference(key); ok && r != Unsaid {
		return NoUnit, r, true
	}
	// The long names first share a start with a short one ("bar" and "bars"), so
	// every name is tried until what follows it makes sense too.
	for _, p := range &pressureNames {
		if len(key) < len(p.name) || string(key[:len(p.name)]) != p.name {
			continue
		}
		if r, ok := reference(key[len(p.name):]); ok {
			return p.unit, r, p.name != "mpa" || s[0] == 'M'
		}
	}
	return 0, 0, false
}

func reference(key []byte) (Reference, bool) {
	switch string(key) {
	case "", "s": // "bars"
		return Unsaid, true
	case "g", "ga", "gauge", "gage", "gaugepressure":
		return Gauge, true
	case "a", "abs", "absolute", "absolutepressure":
		return Absolute, true
	}
	return 0, false
}

func rateUnit(key []byte, s string) (Unit, bool) {
	before, after, ok := bytes.Cut(key, []byte("/"))
	if !ok {
		if before, after, ok = bytes.Cut(key, []byte("per")); !ok {
			return 0, false
		}
	}
	p, r, ok := pressureUnit(before, s)
	if !ok || r != Unsaid || p == NoUnit {
		return 0, false
	}
	switch t, _ := spanUnit(after); t {
	case Second:
		return rate(p, 0), true
	case Minute:
		return rate(p, 1), true
	case Hour:
		return rate(p, 2), true
	}
	return 0, false
}

func spanUnit(key []byte) (Unit, bool) {
	switch string(key) {
	case "s", "sec", "secs", "second", "seconds", `"`, "''":
		return Second, true
	case "min", "mins", "minute", "minutes", "mn", "'":
		return Minute, true
	case "h", "hr", "hrs", "hour", "hours":
		return Hour, true
	case "d", "day", "days":
		return DayU, true
	case "w", "wk", "wks", "week", "weeks":
		return Week, true
	case "mo", "mos", "mth", "mths", "month", "months":
		return Month, true
	case "y", "yr", "yrs", "year", "years":
		return Year, true
	}
	return 0, false
}

func lengthUnit(key []byte) (Unit, bool) {
	key = bytes.TrimSuffix(bytes.TrimSuffix(key, []byte("asl")), []byte("abovesealevel"))
	switch string(key) {
	case "m", "metre", "metres", "meter", "meters":
		return Metre, true
	case "ft", "foot", "feet", "'":
		return Foot, true
	case "km", "kilometre", "kilometres", "kilometer", "kilometers":
		return Kilometre, true
	}
	return 0, false
}
