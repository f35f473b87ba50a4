package trace

import "footing/internal/quantity"

// decideOrder tells in which order dates in figures stand: as the layout or the
// practice says, else by a figure above twelve.
func (r *reader) decideOrder() {
	t := r.table
	if l := r.layout; l != nil && l.hasOrder {
		r.form.order = l.order
		return
	}
	r.form.order = r.opt.Order
	if r.form.order != quantity.ISO {
		return
	}
	column := t.date
	if column < 0 {
		column = t.time
	}
	if column < 0 {
		return
	}
	for _, k := range r.kept {
		cells := split(r.cells[:0], r.keptText[k.from:k.until], t.delimiter)
		if column < len(cells) {
			if o := orderOf(cells[column]); o != quantity.ISO {
				r.form.order = o
				return
			}
		}
	}
	r.form.order = orderOf([]byte(r.facts.date + " "))
	if r.form.order == quantity.ISO {
		r.form.order = orderOf([]byte(r.facts.start + " "))
	}
}

// orderOf tells the order that one date proves by itself, ISO where it proves none.
func orderOf(b []byte) quantity.DateOrder {
	b = trim(b)
	var f [2]int
	i := 0
	for k := range f {
		from := i
		for i < len(b) && b[i]-'0' < 10 && i-from < 3 {
			f[k] = f[k]*10 + int(b[i]-'0')
			i++
		}
		if i == from || i-from > 2 || i == len(b) || b[i] != '/' && b[i] != '.' && b[i] != '-' {
			return quantity.ISO
		}
		i++
	}
	switch {
	case f[0] > 12 && f[0] <= 31 && f[1] >= 1 && f[1] <= 12:
		return quantity.DMY
	case f[1] > 12 && f[1] <= 31 && f[0] >= 1 && f[0] <= 12:
		return quantity.MDY
	}
	return quantity.ISO
}
