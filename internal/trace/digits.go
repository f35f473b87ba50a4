package trace

import "math/bits"

const (
	noughts = 0x3030303030303030 // "00000000"
	sevens  = 0x7f7f7f7f7f7f7f7f
	overs   = 0x7676767676767676 // added to a byte of ten or more it sets its highest bit
	tops    = 0x8080808080808080
)

// fewDigits reads a plain decimal at the start of eight bytes of text, the first in
// the lowest: its digits as one number, how many stand after the mark, and how many
// bytes it takes. The width is 0 where it is none, or too long to be read in one go.
//
// All bytes are worked on at once: a byte that is no digit is found by a sum that sets
// its highest bit; the digits are then joined in pairs, fours and eights.
func fewDigits(x uint64, mark byte) (n uint64, places, width int) {
	x ^= noughts
	others := ((x&sevens + overs) | x) & tops
	first := bits.TrailingZeros64(others) // 8 × whole digits + 7
	if first < 15 || first > 63 {
		return 0, 0, 0
	}
	whole := uint(first - 7)
	if byte(x>>whole) != mark^'0' {
		width = int(whole / 8)
		return join(x << (64 - whole)), 0, width
	}
	second := bits.TrailingZeros64(others & (others - 1))
	if second > 63 || uint(second) < whole+23 {
		return 0, 0, 0
	}
	until := uint(second-7) - 8 // bits of digits without the mark
	low := uint64(1)<<whole - 1
	x = x&low | x>>8&^low
	return join(x << (64 - until)), int((until - whole) / 8), int(until/8) + 1
}

// join makes one number of eight digits, the first in the lowest byte.
func join(x uint64) uint64 {
	x = x*10 + x>>8
	x = (x&0x000000ff000000ff)*(100+1000000<<32) + (x>>16&0x000000ff000000ff)*(1+10000<<32)
	return x >> 32
}

// manyDigits is fewDigits for a number of any length: up to fifteen digits.
func manyDigits(b []byte, mark byte) (n uint64, places, width int) {
	i := 0
	for ; b[i]-'0' < 10; i++ {
		n = n*10 + uint64(b[i]-'0')
	}
	digits := i
	if i > 0 && b[i] == mark {
		for i++; b[i]-'0' < 10; i++ {
			n = n*10 + uint64(b[i]-'0')
			places++
		}
		if digits += places; places == 0 {
			return 0, 0, 0
		}
	}
	if digits == 0 || digits > mostDigits {
		return 0, 0, 0
	}
	return n, places, i
}
