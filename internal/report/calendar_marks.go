package report

// shape draws the mark of a test: a diamond for spores, a square for air removal, a
// triangle for a leak.
func shape(p *pen, test int, x, y float64) {
	h := float64(markHalf)
	switch test {
	case 0:
		h += 0.6
		loop(p, x, y-h, x+h, y, x, y+h, x-h, y)
	case 1:
		loop(p, x-h, y-h, x+h, y-h, x+h, y+h, x-h, y+h)
	default:
		loop(p, x, y-h-0.4, x+h+0.4, y+h, x-h-0.4, y+h)
	}
}

// cross draws the mark of a failed test.
func cross(p *pen, x, y float64) {
	h := markHalf + 0.6
	p.move(x-h, y-h)
	p.line(x+h, y+h)
	p.move(x-h, y+h)
	p.line(x+h, y-h)
}

func box4(p *pen, x, y, w, h float64) { loop(p, x, y, x+w, y, x+w, y+h, x, y+h) }

// loop draws a closed line through places given as x, y, x, y, ….
func loop(p *pen, places ...float64) {
	p.move(places[0], places[1])
	for i := 2; i < len(places); i += 2 {
		p.line(places[i], places[i+1])
	}
	p.line(places[0], places[1])
}
