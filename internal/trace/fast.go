package trace

import (
	"bytes"
	"encoding/binary"
	"math"

	"footing/internal/quantity"
)

// quick is the short way for the common line: known columns, plain decimals, a time
// whose beginning is that of the line before. What it cannot read goes the long way,
// which alone knows all forms and all problems.
type quick struct {
	on         bool
	fields     []quickField
	delimiter  byte
	decimal    byte
	taken      int   // lines that went this way
	tail       int   // characters of the last field of the line before
	width      int   // fields of the line before
	evenPlaces []int // by column: the digits after the mark where all have as many, else -1
	quickClock

	dateText []byte // of the date's own column, as it stood last, and its day
	date     quantity.Day
}

type quickField struct {
	do   quickDo
	unit quantity.Unit // where it is not °C or kPa
}

type quickDo uint8

const (
	pass quickDo = iota
	takeClock
	takeSeconds
	takeDate
	takeTemperature
	takePressure
	takePhase
)

// prepare lays out the short way, once columns and forms are known.
func (r *reader) prepare() {
	t, q := r.table, &r.quick
	q.on, q.delimiter, q.decimal = true, t.delimiter, r.decimal
	if q.decimal == 0 { // not known yet: what no number can have there
		q.decimal = '0'
	}
	q.fields = make([]quickField, len(t.headings))
	for i := range t.headings {
		f := &q.fields[i]
		switch h := &t.headings[i]; {
		case i == t.time && r.form.clock == Elapsed && r.form.plain:
			f.do = takeSeconds
		case i == t.time:
			f.do = takeClock
		case i == t.date && r.form.clock == Dated:
			f.do = takeDate
		case i == t.phase:
			f.do = takePhase
		case i == t.pressure:
			f.do = takePressure
			if h.Unit != quantity.KPa {
				f.unit = h.Unit
			}
		case h.Role == Temperature && h.Ignored == "":
			f.do = takeTemperature
			if h.Unit != quantity.Celsius {
				f.unit = h.Unit
			}
		}
	}
	if r.noQuick {
		q.on = false
	}
}

// fast reads lines until one needs the long way, and returns how many bytes it took.
func (r *reader) fast(b []byte) int {
	q, t := &r.quick, &r.timeline
	b = b[:bytes.LastIndexByte(b, '\n')+1] // now every field ends before b does
	at := 0
lines:
	for at < len(b) && !t.held && !t.again && t.any {
		i, from := at, at
		sec, pressure := 0.0, math.NaN()
		coldest, warmest := math.Inf(1), math.Inf(-1)
		for k := range q.fields {
			if k > 0 {
				if b[i] != q.delimiter {
					break lines
				}
				i++
			}
			from = i
			f := &q.fields[k]
			switch f.do {
			case takeClock:
				var ok bool
				if i, sec, ok = q.read(b, i); !ok {
					break lines
				}
				continue
			case pass, takeDate, takePhase:
				for c := b[i]; c != q.delimiter && c >= ' '; c = b[i] {
					if c == '"' {
						break lines
					}
					i++
				}
				if f.do == takeDate && string(b[from:i]) != string(q.dateText) ||
					f.do == takePhase && i > from && string(b[from:i]) != string(r.phases.now) {
					break lines
				}
				continue
			}
			for b[i] == ' ' {
				i++
			}
			negative := b[i] == '-'
			if negative {
				i++
			}
			n, places, width := uint64(0), 0, 0
			if len(b)-i >= 8 {
				n, places, width = fewDigits(binary.LittleEndian.Uint64(b[i:]), q.decimal)
			}
			if width == 0 {
				if n, places, width = manyDigits(b[i:], q.decimal); width == 0 {
					break lines
				}
			}
			i += width
			v := float64(n) / powers[places]
			if negative {
				v = -v
			}
			if f.unit != quantity.NoUnit {
				v = quantity.Exact(v, f.unit).In(f.do.unit())
			}
			switch f.do {
			case takeTemperature:
				if !(v >= leastCelsius && v <= mostCelsius) {
					break lines
				}
				coldest, warmest = min(coldest, v), max(warmest, v)
			case takePressure:
				if !(v >= r.floor && v <= mostKPa) {
					break lines
				}
				pressure = v + r.lift
			default:
				sec = v * r.form.each
			}
		}
		if coldest <= room && (coldest <= 0 || warmest >= hot && r.cool < 0) { // it may mislead
			break
		}
		tail := i - from
		if b[i] == q.delimiter { // one more at the end, with nothing behind it
			tail = 0
			i++
		}
		if b[i] == '\r' {
			i++
		}
		if b[i] != '\n' || i-at > longest {
			break
		}
		i++
		if q.daily {
			sec += t.day
		}
		if step := sec - t.last; !(step > t.near && step <= t.far) {
			break
		}
		q.tail, q.width = tail, len(q.fields)
		q.taken++
		r.t.Lines++
		r.use(sec, coldest, warmest, pressure, nil)
		at = i
	}
	r.line = r.t.Lines
	return at
}

func (d quickDo) unit() quantity.Unit {
	if d == takePressure {
		return quantity.KPa
	}
	return quantity.Celsius
}
