package trace

// When a time without a reading is a gap: as internal/steam counts them.
const (
	gapTimes = 5.0
	gapLeast = 10.0 // s
	oddSteps = 5    // steps of another length in a row that make a new pace
)

// pace is the usual step between readings, and what follows from it, in s.
type pace struct {
	usual     float64
	near, far float64 // steps below and above are looked at
	gap       float64 // a longer one is a gap, unless the pace has changed
	odd       int     // steps of another length in a row
	oddAt     int     // how many readings there were at the last of them
}

func (r *reader) setPace(usual float64) {
	p := &r.timeline.pace
	p.usual, p.odd = usual, 0
	p.near, p.far, p.gap = 0.4*usual, max(2.5*usual, usual+2, 2*r.resolution), max(gapTimes*usual, gapLeast)
	switch {
	case usual == 0: // not known: every step is looked at
		p.far = max(gapLeast, 2*r.resolution)
		p.near = p.far
	case r.resolution > 0:
		p.near = -1 // a step of nought is as usual as any
	}
}

// see takes a step of another length than usual: several in a row are another pace.
func (r *reader) see(step float64) {
	p := &r.timeline.pace
	if step <= 0 || r.resolution > 0 {
		return
	}
	if p.oddAt+1 != r.t.Readings {
		p.odd = 0
	}
	p.oddAt = r.t.Readings
	if p.odd++; p.odd >= oddSteps || p.usual == 0 {
		r.setPace(step)
	}
}
