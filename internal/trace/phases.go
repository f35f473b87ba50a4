package trace

// mostPhases is how many stretches are kept; a cycle has about a dozen.
const mostPhases = 64

// phases joins readings under one name.
type phases struct {
	list []Phase
	now  []byte // the name at hand, as written
	more bool   // there were more than are kept
}

// add takes the name of a reading; nil, or the same, goes on. A stretch ends where the
// next begins. It reports whether there was room.
func (p *phases) add(at float64, name []byte) bool {
	if n := len(p.list); n > 0 && !p.more {
		p.list[n-1].Until = at
	}
	if len(name) == 0 || string(name) == string(p.now) {
		return true
	}
	p.now = append(p.now[:0], name...)
	if len(p.list) == mostPhases {
		first := !p.more
		p.more = true
		return !first
	}
	p.list = append(p.list, Phase{Name: excerpt(name), From: at, Until: at})
	return true
}
