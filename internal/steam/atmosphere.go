package steam

import "math"

// The lowest layer of the standard atmosphere: ISO 2533:1975, the same as ICAO
// Doc 7488 and the US Standard Atmosphere 1976.
const (
	seaLevel    = 101.325   // kPa
	seaLevelK   = 288.15    // K
	lapse       = 0.0065    // K/m
	gravity     = 9.80665   // m/s²
	gasConstant = 287.05287 // J/(kg·K), of dry air
	deepest     = -500.0    // m
	tropopause  = 11000.0   // m
)

// Atmosphere returns the pressure of the air, in kPa absolute, that the standard
// atmosphere has at an altitude in metres above the sea. It holds from −500 to
// 11,000 m; the error outside is a *RangeError. Source: ISO 2533:1975.
//
// The standard counts geopotential altitude; the altitude given is taken as that.
// A map's height differs by 1.4 m at 3,000 m, which is 0.013 kPa: far less than the
// weather moves a barometer in a day. The weather itself, some kilopascals either way,
// is in no formula.
func Atmosphere(altitude float64) (float64, error) {
	if !(altitude >= deepest && altitude <= tropopause) {
		return 0, &RangeError{"an altitude", altitude, deepest, tropopause, "m"}
	}
	return seaLevel * math.Pow(1-lapse*altitude/seaLevelK, gravity/(gasConstant*lapse)), nil
}
