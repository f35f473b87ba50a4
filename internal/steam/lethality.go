package steam

// Scale counts heat by what it does to microbes: so many seconds at Reference,
// ten times as many for each Z kelvin more.
type Scale struct {
	Name      string  // "F0"
	Reference float64 // °C
	Z         float64 // K
	From      float64 // °C below which heat does not count; 0 for no such limit
}

// Scales in use.
var (
	F0 = Scale{Name: "F0", Reference: 121.1, Z: 10}
	FH = Scale{Name: "FH", Reference: 170, Z: 20}
	A0 = Scale{Name: "A0", Reference: 80, Z: 10, From: 65}
)

// Segment returns the seconds at the reference temperature that are worth as much
// as a straight line from one temperature in °C to another over some seconds.
func (s Scale) Segment(from, to, seconds float64) float64 { return 0 }
