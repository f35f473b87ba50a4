package trace

import (
	"bytes"
	"io"

	"footing/internal/steam"
)

// longest is how many bytes a line may have. A table of readings has some dozens.
const longest = 1<<16 - 64

const leastBuffer = 1 << 16

// state is what the next line is expected to be.
type state uint8

const (
	seeking  state = iota // a line of the header, or the headings
	sampling              // one of the first readings
	inTable               // a reading
	over                  // after a table that started anew
	spoilt                // a line of a table that cannot be judged
	noTable               // anything: the file is no text
)

// reader reads one file.
type reader struct {
	opt      Options
	t        *Trace
	problems problems
	state    state
	line     int // the number of the line at hand

	layout    *layout
	facts     facts
	forced    byte // the delimiter that a line "sep=;" gives
	table     *table
	headLine  int
	headText  []byte // the line of headings, to know it again
	refused   *table // headings below which no line had a time
	refusedAt int
	numbers   int // the first line of figures where no headings were found yet
	kept      []sampleLine
	keptText  []byte
	cells     [][]byte
	now       row  // of the line at hand
	timed     bool // a line of the sample had a time

	form       form
	decimal    byte // '.', ',' or 0: not known
	interval   float64
	resolution float64
	listed     bool    // the first times lie too far apart for readings of a cycle
	lift       float64 // kPa added to gauge pressure
	floor      float64 // kPa: below it a pressure goes the long way
	noQuick    bool    // for tests: every line goes the long way
	series     *steam.Series
	thin       *thinner
	sketch     sketcher
	timeline
	misleading
	quick
	phases phases
}

func newReader(opt Options) *reader {
	r := &reader{opt: opt, t: &Trace{Name: opt.Name}, cells: make([][]byte, 0, 8)}
	r.facts.counter, r.cool = -1, -1
	r.t.Counter = -1
	r.t.NameCounters = nameCounters(opt.Name)
	if opt.Layouts != nil {
		r.layout = opt.Layouts.find(opt.Name, opt.Sterilizer)
	}
	return r
}

// Read reads one file to its end. The error is the reader's own; all that is wrong
// with the text stands in Problems, and Unusable where nothing can be judged.
//
// Times of the Cycle, of Phases and of Points are seconds from the first reading.
// Header.Start is day and clock as written, in no zone (quantity.ParseMoment with no
// place); it is read again with a place from its String. A time with its offset is that
// of Options.Zone, where one is given.
func Read(r io.Reader, opt Options) (*Trace, error) {
	return newReader(opt).read(r)
}

func (r *reader) read(from io.Reader) (*Trace, error) {
	s := newSource(from)
	err := r.run(s)
	r.finish()
	r.t.SHA256, r.t.Bytes = s.hex(), s.bytes
	return r.t, err
}

// run takes the file buffer by buffer; what is left of a line goes to the front.
func (r *reader) run(s *source) error {
	buf := r.opt.Buffer
	if len(buf) < leastBuffer {
		buf = make([]byte, leastBuffer)
	}
	var from io.Reader = s
	n, end, err := fill(from, buf)
	if w := wide(buf[:n], s); w != nil && err == nil {
		from = w
		n, end, err = fill(from, buf)
	}
	skip := 0
	if bytes.HasPrefix(buf[:n], mark) {
		skip = len(mark)
	}
	if what := noText(buf[skip:min(n, 4096)]); what != "" {
		r.state = noTable
		r.unusable("The file seems to be "+what+", not a table of readings as text.", "Export the cycle as CSV from the sterilizer or its logger.")
	}
	long := false
	for at := skip; ; {
		used := r.lines(buf[at:n], end, &long)
		at += used
		if end {
			return err
		}
		n = copy(buf, buf[at:n])
		at = 0
		var m int
		m, end, err = fill(from, buf[n:])
		n += m
	}
}

// lines takes the whole lines of b and returns how many bytes that were. long says
// that the line at hand is too long, and dropped up to its end.
func (r *reader) lines(b []byte, end bool, long *bool) int {
	feed := -1 // where the next line feed is
	at := 0
	for at < len(b) {
		if r.quick.on && !*long {
			if n := r.fast(b[at:]); n > 0 {
				at += n
				continue
			}
		}
		if feed < at {
			if feed = bytes.IndexByte(b[at:], '\n'); feed < 0 {
				feed = len(b)
			} else {
				feed += at
			}
		}
		until, next := feed, feed+1
		if i := bytes.IndexByte(b[at:feed], '\r'); i >= 0 {
			until, next = at+i, at+i+1
			if next == len(b) && !end {
				break
			}
			if next == feed && feed < len(b) {
				next++
			}
		}
		if until == len(b) {
			if !end {
				if len(b)-at > longest {
					*long = true
					at = len(b)
				}
				break
			}
			next = len(b)
		}
		r.one(b[at:until], until < len(b), *long)
		*long = false
		at = next
	}
	if end && *long && at == len(b) && (len(b) == 0 || b[len(b)-1] != '\n' && b[len(b)-1] != '\r') {
		r.one(nil, false, true)
	}
	return at
}
