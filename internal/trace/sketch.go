package trace

import (
	"encoding/binary"
	"math"
	"math/bits"
	"slices"
)

// Sketch tells near-copies by the way the readings move, whatever clock and offset they have.
type Sketch struct {
	Hash  [32]byte // of all readings, without times and header; zero where there are none
	Marks []uint64 // the least of the hashes of short runs of changes, at most 48, rising; none where they would say nothing
}

const (
	mostMarks  = 48
	runLength  = 6 // changes in a run
	runVariety = 5 // of them different and not nought, or lines and coarse displays would count
	runTurns   = 2 // changes of direction in a run, or smooth curves that every cycle repeats would count

	// The marks of a trace say nothing where it has fewer changes than these: a
	// thermostat's ripple, read once a minute, may be the same in any two cycles.
	leastChanges = 200
	leastAlone   = 1000 // without pressure
	richShare    = 4    // nor where not one run in so many is rich: what moves at all is what every cycle does
	againShare   = 8    // nor where more than one rich run in so many comes again: what repeats itself, repeats others
)

// sketcher makes a sketch in one pass and a fixed space. Its zero value is ready.
//
// It sees the changes from one reading to the next, in steps of 0.01 K and 0.01 kPa;
// the first reading is a change from nought. The hash is of all changes. The marks are of
// runs of six: a constant offset, another clock, an end cut off or a few readings
// altered leave most of them.
type sketcher struct {
	coldest, pressure float64 // last known
	// The last changes that were looked at, then those that wait: temperature above, pressure below.
	changes [runLength + 64]uint64
	waiting int
	n       uint // changes looked at
	lanes   [2]uint64

	run    [8]uint64 // hashes of the last changes, in a ring
	rolled uint64

	pressed      int // changes with a pressure
	looked, rich int // runs that were looked at closely, and those of them that were rich
	marks        [mostMarks]uint64
	times        [mostMarks]int // that each mark was met
	kept         int
}

// add takes the next reading: °C and kPa. Pressure is NaN where there is none.
func (s *sketcher) add(coldest, pressure float64) {
	if runLength+s.waiting == len(s.changes) {
		s.look()
	}
	s.changes[runLength+s.waiting] = uint64(steps(coldest, &s.coldest))<<32 | uint64(steps(pressure, &s.pressure))
	s.waiting++
}

const absent = 1 << 31 // for what is no number: no change comes to it

// steps is the change from the last value known, rounded to hundredths. A number of
// the size of 1.5 × 2^52 has no room for fractions, so that the sum is rounded and its
// last 32 bits are the steps. The little more that is added first sends all that stand in
// the middle of two steps one way. (Without the conversion, some machines would make
// one operation of the multiplication and the addition, and round otherwise.)
func steps(v float64, last *float64) uint32 {
	if v-v != 0 { // NaN or without end
		return absent
	}
	by := v - *last
	*last = v
	return uint32(math.Float64bits(float64(by*100) + 1e-6 + 0x1.8p52))
}

// look takes the changes that wait. Of each run there is only its hash, until one is
// so low that it could be a mark: then it is looked at whether the run is rich. Hashes go by
// chance, so that the share of rich ones among those tells the share among all.
func (s *sketcher) look() {
	n, rolled, lanes, run := s.n, s.rolled, s.lanes, s.run
	limit := s.limit()
	for i, c := range s.changes[runLength : runLength+s.waiting] {
		h := mix(c)
		lanes[0], lanes[1] = fold(lanes[0]^c), (lanes[1]+h)*factor
		rolled = bits.RotateLeft64(rolled, 1) ^ h ^ bits.RotateLeft64(run[(n-runLength)%8], runLength)
		run[n%8] = h
		n++
		if uint32(c) != absent {
			s.pressed++
		}
		if rolled > limit || n <= runLength { // the first is no change
			continue
		}
		s.looked++
		if rich((*[runLength]uint64)(s.changes[i+1:])) {
			s.rich++
			s.mark(rolled)
			limit = s.limit()
		}
	}
	copy(s.changes[:runLength], s.changes[s.waiting:])
	s.n, s.rolled, s.lanes, s.run, s.waiting = n, rolled, lanes, run, 0
}

// rich reports whether a run moves enough to be told from others.
func rich(run *[runLength]uint64) bool {
	variety := 0
	for i, c := range run {
		if c != 0 && c != absent && !slices.Contains(run[:i], c) {
			variety++
		}
	}
	return variety >= runVariety && (turns(run, 32) >= runTurns || turns(run, 0) >= runTurns)
}

// turns counts the changes of direction in the temperatures or, with no shift, the
// pressures of a run. They go by chance, so that no branch hangs on them: a processor
// that guesses branches would guess wrong.
func turns(run *[runLength]uint64, shift int) (n int) {
	before := int64(0)
	for i := 1; i < runLength; i++ {
		by := int64(int32(run[i]>>shift)) - int64(int32(run[i-1]>>shift))
		way := by>>63 | int64(uint64(-by)>>63) // −1, 0 or 1
		n -= int(way * before >> 63)
		before = way
	}
	return n
}

// factor is odd, with about half of its bits set, and otherwise of no meaning.
const factor = 0x9f4d2b8b1c6e35a7

// fold multiplies to 128 bits and lays the halves over each other. With the sum of
// powers beside it, it tells apart readings that differ by chance or by a person's hand.
// Together they are no cryptographic hash; nobody gains by two traces taken for copies.
func fold(x uint64) uint64 {
	high, low := bits.Mul64(x+factor, factor)
	return high ^ low
}

// mix spreads 64 bits over 64 bits, one to one: the last steps of SplitMix64 (Steele,
// Lea and Flood, "Fast splittable pseudorandom number generators", 2014; from memory).
func mix(x uint64) uint64 {
	x = (x ^ x>>30) * 0xbf58476d1ce4e5b9
	x = (x ^ x>>27) * 0x94d049bb133111eb
	return x ^ x>>31
}

// mark puts m among the least.
func (s *sketcher) mark(m uint64) {
	at, again := slices.BinarySearch(s.marks[:s.kept], m)
	if again {
		s.times[at]++
		return
	}
	s.kept = min(s.kept+1, mostMarks)
	copy(s.marks[at+1:s.kept], s.marks[at:])
	copy(s.times[at+1:s.kept], s.times[at:])
	s.marks[at], s.times[at] = m, 1
}

// limit is the highest hash that is still of interest.
func (s *sketcher) limit() uint64 {
	if s.kept < mostMarks {
		return math.MaxUint64
	}
	return s.marks[mostMarks-1]
}

// telling reports whether the marks say something: there are enough readings, enough
// runs are rich, and few come again.
func (s *sketcher) telling() bool {
	met, least := 0, leastAlone
	for _, n := range s.times[:s.kept] {
		met += n
	}
	if 2*s.pressed >= int(s.n) {
		least = leastChanges
	}
	return int(s.n) > least && s.rich*richShare >= s.looked && (met-s.kept)*againShare <= met
}

// sketch gives what the readings so far come to.
func (s *sketcher) sketch() Sketch {
	s.look()
	if s.n == 0 {
		return Sketch{}
	}
	k := Sketch{}
	for i, x := range [4]uint64{s.lanes[0], s.lanes[1], uint64(s.n), s.lanes[0] ^ bits.ReverseBytes64(s.lanes[1])} {
		binary.LittleEndian.PutUint64(k.Hash[8*i:], mix(x))
	}
	if s.telling() {
		k.Marks = slices.Clone(s.marks[:s.kept])
	}
	return k
}
