package trace

import (
	"bytes"
	"encoding/binary"
	"math"
)

// quickClock knows the time of the line before: its start up to the last colon, what
// that is worth, and what follows the last two digits.
type quickClock struct {
	ready    bool
	daily    bool    // a time of day without its date
	start    []byte  // "14:05:", "2026-03-03 14:05:", "5:"
	word     uint64  // the first eight bytes of start
	worth    float64 // of start, in s
	each     float64 // s in one of the last two digits
	end      []byte  // " pm", "Z"
	midnight float64 // what stands before hh:mm:ss is worth so much
	before   int     // bytes before hh:mm:ss; -1 where the time is not written so
}

// read reads a time at b[i] and returns where it ends.
func (q *quickClock) read(b []byte, i int) (int, float64, bool) {
	n := len(q.start)
	if !q.ready || len(b)-i < n+2 {
		return i, 0, false
	}
	if n <= 6 && len(b)-i >= 8 {
		if (binary.LittleEndian.Uint64(b[i:])^q.word)<<(8*uint(8-n)) != 0 && !q.minute(b[i:]) {
			return i, 0, false
		}
	} else if string(b[i:i+n]) != string(q.start) && !q.minute(b[i:]) {
		return i, 0, false
	}
	i += n
	hi, lo := b[i]-'0', b[i+1]-'0'
	if hi > 5 || lo > 9 {
		return i, 0, false
	}
	sec := q.worth + float64(hi*10+lo)*q.each
	i += 2
	if b[i] == '.' && q.each == 1 {
		from := i
		for i++; b[i]-'0' < 10; i++ {
		}
		part, ok := fraction(b[from:i])
		if !ok {
			return i, 0, false
		}
		sec += part
	}
	if len(q.end) > 0 {
		if !bytes.HasPrefix(b[i:], q.end) {
			return i, 0, false
		}
		i += len(q.end)
	}
	return i, sec, true
}

const colonsApart = 0x30303a30303a3030 // "00:00:00"

func firstWord(b []byte) uint64 {
	var w [8]byte
	copy(w[:], b)
	return binary.LittleEndian.Uint64(w[:])
}

// minute takes hh:mm: of another minute at its place, after the same date.
func (q *quickClock) minute(b []byte) bool {
	if q.before < 0 || len(b) < q.before+8 || string(b[:q.before]) != string(q.start[:q.before]) {
		return false
	}
	x := binary.LittleEndian.Uint64(b[q.before:])
	x ^= colonsApart
	if (x|(x+0x0606060606060606))&0xf0f0f0f0f0f0f0f0 != 0 || x&0x0000ff0000ff0000 != 0 {
		return false
	}
	hour, minute := x&15*10+x>>8&15, x>>24&15*10+x>>32&15
	if minute > 59 || hour > 23 && q.daily {
		return false
	}
	copy(q.start[q.before:], b[q.before:q.before+6])
	q.word = firstWord(q.start)
	q.worth = q.midnight + float64(hour*3600+minute*60)
	return true
}

// remember keeps what a time read the long way was worth, for the lines that follow.
func (r *reader) remember(c []byte, s *stamp, w *row) {
	q := &r.quick.quickClock
	q.ready = false
	if s.parts < 2 || s.lost || r.form.clock == Dated && w.daily {
		return
	}
	colon := bytes.LastIndexByte(c, ':')
	if s.parts == 3 && s.broken && bytes.Count(c, []byte(":")) == 3 || colon < 0 {
		return
	}
	if i := bytes.IndexByte(c, '+'); i >= 0 && i < colon { // an offset has a colon too
		colon = bytes.LastIndexByte(c[:i], ':')
	}
	if colon < 0 || len(c) < colon+3 || c[colon+1]-'0' > 9 || c[colon+2]-'0' > 9 {
		return
	}
	last := float64(c[colon+1]-'0')*10 + float64(c[colon+2]-'0')
	q.each = 1
	if s.parts == 2 && (s.dated || r.form.two == 60) {
		q.each = 60
	}
	rest := c[colon+3:]
	part := 0.0
	if len(rest) > 1 && rest[0] == '.' && rest[1]-'0' < 10 && q.each == 1 {
		i := 1
		for i < len(rest) && rest[i]-'0' < 10 {
			i++
		}
		part, _ = fraction(rest[:i])
		rest = rest[i:]
	}
	if bytes.IndexByte(rest, '"') >= 0 || len(rest) > 0 && (rest[0] == ',' || rest[0] == '.') {
		return
	}
	q.start = append(q.start[:0], c[:colon+1]...)
	q.end = append(q.end[:0], rest...)
	q.word = firstWord(q.start)
	q.worth = math.Round(w.sec - part - last*q.each)
	q.daily = w.daily
	q.before = -1
	if s.parts == 3 && len(rest) == 0 && colon >= 5 && c[colon-3] == ':' && (colon == 5 || c[colon-6]-'0' > 9) && c[colon-4]-'0' < 10 && c[colon-5]-'0' < 10 {
		q.before = colon - 5
		hour, minute := float64(c[colon-5]-'0')*10+float64(c[colon-4]-'0'), float64(c[colon-2]-'0')*10+float64(c[colon-1]-'0')
		q.midnight = q.worth - hour*3600 - minute*60
	}
	q.ready = true
}
