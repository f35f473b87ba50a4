package chain

import "slices"

// same reports whether two openings leave the same loads and days in a window.
func (o *opening) same(p *opening) bool {
	return (o.best == nil) == (p.best == nil) && o.day == p.day && o.own == p.own && o.other == p.other && slices.Equal(o.ran, p.ran)
}

// same reports whether two closings do.
func (c *closing) same(d *closing) bool {
	return (c.best == nil) == (d.best == nil) && c.day == d.day && c.own == d.own && c.other == d.other && slices.Equal(c.ran, d.ran)
}
