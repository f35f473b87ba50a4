package workbook

import "strconv"

// mostDigits is what a spreadsheet keeps of a number; what goes beyond is noise of
// binary arithmetic: 134.29999999999998.
const mostDigits = 15

// decimal is a number as digits, read without loss: 0.DIGITS × 10^point.
type decimal struct {
	below  bool // nought
	digits []byte
	point  int
}

// readDecimal reads a number as XML has it: -12.5, 1.2E-3.
func readDecimal(b, room []byte) (d decimal, ok bool) {
	d.digits = room[:0]
	i, seen, fraction := 0, false, false
	if i < len(b) && (b[i] == '-' || b[i] == '+') {
		d.below = b[i] == '-'
		i++
	}
	for ; i < len(b); i++ {
		switch c := b[i]; {
		case c == '.' && !fraction:
			fraction = true
			continue
		case c < '0' || c > '9':
			if c != 'e' && c != 'E' || !seen {
				return d, false
			}
			n, err := strconv.ParseInt(string(b[i+1:]), 10, 32)
			if err != nil || n > 308 || n < -400 {
				return d, false
			}
			d.point += int(n)
			return d.rounded(), d.point <= 309
		case c == '0' && len(d.digits) == 0: // before the first that counts
			if fraction {
				d.point--
			}
		default:
			d.digits = append(d.digits, c)
			if !fraction {
				d.point++
			}
		}
		seen = true
	}
	return d.rounded(), seen && d.point <= 309 && d.point >= -400
}

// rounded keeps 15 digits, without noughts at the end.
func (d decimal) rounded() decimal {
	if len(d.digits) > mostDigits {
		up := d.digits[mostDigits] >= '5'
		d.digits = d.digits[:mostDigits]
		for i := mostDigits - 1; up && i >= 0; i-- {
			if up = d.digits[i] == '9'; up {
				d.digits[i] = '0'
			} else {
				d.digits[i]++
			}
		}
		if up {
			d.digits[0] = '1'
			d.point++
		}
	}
	n := len(d.digits)
	for n > 0 && d.digits[n-1] == '0' {
		n--
	}
	if d.digits = d.digits[:n]; n == 0 {
		return decimal{}
	}
	return d
}

// append writes the number times 10^shift, never with an exponent.
func (d decimal) append(b []byte, shift int) []byte {
	if len(d.digits) == 0 {
		return append(b, '0')
	}
	if d.below {
		b = append(b, '-')
	}
	point := d.point + shift
	if point <= 0 {
		b = append(b, "0."...)
	}
	for i := min(point, 0); i < max(point, len(d.digits)); i++ {
		if i == point && point > 0 {
			b = append(b, '.')
		}
		c := byte('0')
		if i >= 0 && i < len(d.digits) {
			c = d.digits[i]
		}
		b = append(b, c)
	}
	return b
}
