package trace

import (
	"math"
	"slices"
)

// thinner keeps a few readings of a series of any length for a chart, in one pass.
// It cuts the series into buckets and keeps of each the readings with the lowest
// coldest, the highest warmest, the lowest and the highest pressure, and always the
// first and the last of all. When too many are kept, it makes one bucket of two.
type thinner struct {
	most        int
	seen        int
	first, last Point
	kept        []Point // of the closed buckets
	sizes       []uint8 // how many of kept each closed bucket has
	open        bucket
	width       int // readings that a bucket takes
}

// newThinner makes one that keeps at most so many readings. Below six only the
// first and the last are kept, and of most 1 the first.
func newThinner(most int) *thinner {
	t := &thinner{most: most, width: 1}
	if most < 2*(ends+sides)-ends {
		t.width = math.MaxInt
	} else {
		t.kept, t.sizes = make([]Point, 0, most), make([]uint8, 0, most)
	}
	return t
}

const (
	ends  = 2 // the first and the last, which are in no bucket
	sides = 4 // the most that a bucket keeps
)

// add takes the next reading: seconds, °C, °C, kPa. Pressure is NaN where there is none.
func (t *thinner) add(at, coldest, warmest, pressure float64) {
	switch t.seen++; t.seen {
	case 1:
		t.first = Point{at, coldest, warmest, pressure}
		return
	case 2:
	default:
		if t.open.n == t.width {
			t.shut()
		}
		t.open.take(&t.last)
	}
	t.last = Point{at, coldest, warmest, pressure}
}

// shut closes the open bucket, and joins buckets until there is room for the next.
func (t *thinner) shut() {
	var own [sides]Point
	few := t.open.distinct(own[:0])
	t.kept, t.sizes = append(t.kept, few...), append(t.sizes, uint8(len(few)))
	t.open = bucket{}
	for len(t.kept)+sides+ends > t.most {
		t.halve()
	}
}

// halve makes one bucket of each two. What is kept only moves to the front.
func (t *thinner) halve() {
	points, sizes := t.kept, t.sizes
	t.kept, t.sizes, t.width = t.kept[:0], t.sizes[:0], 2*t.width
	for from := 0; len(sizes) > 0; {
		pair := min(2, len(sizes))
		until := from
		for _, n := range sizes[:pair] {
			until += int(n)
		}
		var b bucket
		for i := from; i < until; i++ {
			b.take(&points[i])
		}
		var own [sides]Point
		few := b.distinct(own[:0])
		t.kept, t.sizes = append(t.kept, few...), append(t.sizes, uint8(len(few)))
		from, sizes = until, sizes[pair:]
	}
}

// points gives the readings kept, in the order in which they came.
func (t *thinner) points() []Point {
	n := min(t.seen, ends, max(t.most, 0))
	list := make([]Point, 0, n+len(t.kept)+sides)
	if n > 0 {
		list = append(list, t.first)
	}
	if t.most >= ends+sides {
		list = t.open.distinct(append(list, t.kept...))
	}
	if n > 1 {
		list = append(list, t.last)
	}
	return slices.Clip(list)
}

// bucket holds the outermost readings of a stretch: lowest coldest, highest warmest,
// lowest and highest pressure; of equal ones the earliest.
type bucket struct {
	n       int
	number  [sides]int // of the reading in the bucket, from 1; 0 for none
	extreme [sides]Point
}

func (b *bucket) take(p *Point) {
	b.n++
	if b.number[0] == 0 || p.Coldest < b.extreme[0].Coldest {
		b.number[0], b.extreme[0] = b.n, *p
	}
	if b.number[1] == 0 || p.Warmest > b.extreme[1].Warmest {
		b.number[1], b.extreme[1] = b.n, *p
	}
	if math.IsNaN(p.Pressure) {
		return
	}
	if b.number[2] == 0 || p.Pressure < b.extreme[2].Pressure {
		b.number[2], b.extreme[2] = b.n, *p
	}
	if b.number[3] == 0 || p.Pressure > b.extreme[3].Pressure {
		b.number[3], b.extreme[3] = b.n, *p
	}
}

// distinct appends each reading of the bucket once, in order.
func (b *bucket) distinct(list []Point) []Point {
	for before := 0; ; {
		next := -1
		for i, n := range b.number {
			if n > before && (next < 0 || n < b.number[next]) {
				next = i
			}
		}
		if next < 0 {
			return list
		}
		before = b.number[next]
		list = append(list, b.extreme[next])
	}
}
