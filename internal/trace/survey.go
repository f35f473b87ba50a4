package trace

import "footing/internal/quantity"

// survey is what the lines of the sample have in their fields.
type survey struct {
	times         []sampled
	places        []int  // digits after the mark, the most, by column
	even          []bool // whether all have as many
	points, marks int    // numbers with a point, and with a comma, that can only be a decimal one
	thousands     int    // with a point that could part thousands
	down          int    // times that lie before the one above
	crowded       int    // lines with more fields than headings
	lines         int    // that are not blank
	first         int    // the line of the first time
}

// survey reads the lines of the sample.
func (r *reader) survey() *survey {
	t := r.table
	r.findTime()
	r.decideOrder()
	s := &survey{times: make([]sampled, 0, len(r.kept)), places: make([]int, len(t.headings)), even: make([]bool, len(t.headings))}
	seen := make([]bool, len(t.headings))
	for _, k := range r.kept {
		line := r.keptText[k.from:k.until]
		if blankLine(line) {
			continue
		}
		s.lines++
		cells := split(r.cells[:0], line, t.delimiter)
		r.cells = cells
		if crowded(cells, len(t.headings)) {
			s.crowded++
		}
		if t.time < 0 || t.time >= len(cells) {
			continue
		}
		st, ok := readStamp(trim(cells[t.time]), r.form.order)
		if !ok {
			continue
		}
		one := sampled{stamp: st, text: text(trim(cells[t.time]))}
		if t.date >= 0 && t.date < len(cells) {
			one.day, _ = quantity.ParseDay(text(cells[t.date]), r.form.order)
		}
		if len(s.times) == 0 {
			s.first = k.number
		}
		s.times = append(s.times, one)
		for i := range min(len(cells), len(t.headings)) {
			h := &t.headings[i]
			if h.Ignored != "" || h.Role != Temperature && h.Role != Pressure {
				continue
			}
			d, ok := number(cells[i])
			if !ok || !k.ended {
				continue
			}
			switch {
			case d.mark == '.' && d.thrice && h.Role != Temperature:
				s.thousands++
			case d.mark == '.':
				s.points++
			case d.mark == ',' && (!d.thrice || h.Role == Temperature):
				s.marks++
			}
			s.even[i] = !seen[i] || s.even[i] && d.places == s.places[i]
			seen[i] = true
			s.places[i] = max(s.places[i], d.places)
		}
	}
	return s
}

// unclear reports whether the first lines leave open what more lines would tell:
// times that stand still or have two parts, temperatures without decimals.
func (s *survey) unclear(temperatures []int) bool {
	if len(s.times) < fewLines/2 {
		return true
	}
	for i := range s.times {
		if s.times[i].parts == 2 || i > 0 && s.times[i].seconds == s.times[i-1].seconds {
			return true
		}
	}
	for _, c := range temperatures {
		if s.places[c] == 0 || !s.even[c] {
			return true
		}
	}
	return false
}

// crowded reports whether a line has fields with something in them past the headings.
func crowded(cells [][]byte, columns int) bool {
	for i := columns; i < len(cells); i++ {
		if len(trim(cells[i])) > 0 {
			return true
		}
	}
	return false
}
