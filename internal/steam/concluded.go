package steam

// Concluded is the hold at the set temperature that a cycle of which it is not
// written was run at: the hottest level at which it was held for as long as asks says
// in seconds, or at which the record begins or ends, so that it may have been; enough
// is true then. Else it is the hottest that was reached, nil where none was. A level
// for which asks is false is none that could be meant.
func (c *Cycle) Concluded(asks func(level float64) (seconds float64, ok bool)) (hold *Hold, enough bool) {
	for i := len(c.Holds) - 1; i >= 0; i-- {
		h := &c.Holds[i]
		seconds, ok := asks(h.Level)
		if !ok || !h.Reached {
			continue
		}
		if h.Most >= seconds || h.OpenStart || h.OpenEnd {
			return h, true
		}
		if hold == nil {
			hold = h
		}
	}
	return hold, false
}
