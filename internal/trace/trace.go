// Package trace reads one data-logger file, streamed: what its columns are, what
// its readings did, what could not be read and where, and a few points to draw.
package trace

import (
	"math"
	"time"

	"footing/internal/quantity"
	"footing/internal/steam"
)

// Trace is one data-logger file, read. Lines = Heading + Readings + Aside.
type Trace struct {
	Name   string // path below traces/, forward slashes
	SHA256 string
	Bytes  int64

	Lines    int // all lines, blank ones too
	Heading  int // lines that are no part of the table of readings: header, headings, units, blank lines
	Readings int // lines that gave a temperature at a time
	Aside    int // lines of the table that gave none

	Header
	Problems []Problem // by line
	Cycle    steam.Cycle
	Phases   []Phase // as the file names them, in order; none where it does not
	Points   []Point // at most Options.Points
	Sketch   Sketch

	// Unusable says why the readings cannot be judged at all, "" where they can.
	Unusable string
}

// Header is what is known before the first reading is used.
type Header struct {
	Sterilizer, Program string          // as the header lines say, "" where they do not
	Counter             int64           // of the header lines; -1 where none
	NameCounters        []int64         // numbers in the file's name, last first
	Start               quantity.Moment // of the first reading; zero where no date is known
	Clock               Clock
	Delimiter           string // "comma", "semicolon", "tab", "bar"
	DecimalComma        bool
	Columns             []Column // in the order of the file
	Interval            float64  // s: the usual time between the first readings
	Layout              string   // what of layout.yaml was used: "entry 2", "" for none
}

// Clock says how times are written.
type Clock uint8

// The ways: seconds or a stop watch, the time of day, day and time.
const (
	Elapsed Clock = iota + 1
	OfDay
	Dated
)

// Role is what a column holds.
type Role uint8

// The roles.
const (
	Other Role = iota
	Time
	Date
	Temperature
	Pressure
	PhaseName
)

// Column is one column of the table.
type Column struct {
	Heading string // as written, "" where there is none
	Role    Role
	Unit    quantity.Unit
	Ref     quantity.Reference
	Half    float64 // half of the last digit shown, in K or kPa
	Ignored string  // for a temperature or pressure that is not judged: why ("jacket")
}

// TemperatureHalf is half of the last digit of the coarsest temperature column, in K.
func (h *Header) TemperatureHalf() float64 { return h.half(Temperature) }

// PressureHalf is half of the last digit of the pressure column, in kPa.
func (h *Header) PressureHalf() float64 { return h.half(Pressure) }

func (h *Header) half(r Role) (most float64) {
	for _, c := range h.Columns {
		if c.Role == r && c.Ignored == "" {
			most = math.Max(most, c.Half)
		}
	}
	return most
}

// PressureRef is what the pressure counts from; Unsaid where it does not say, or there is none.
func (h *Header) PressureRef() quantity.Reference {
	for _, c := range h.Columns {
		if c.Role == Pressure && c.Ignored == "" {
			return c.Ref
		}
	}
	return quantity.Unsaid
}

// HasPressure reports whether a pressure column is used.
func (h *Header) HasPressure() bool {
	for _, c := range h.Columns {
		if c.Role == Pressure && c.Ignored == "" {
			return true
		}
	}
	return false
}

// Problem is one cause of trouble in a file, where it was first met and how often.
type Problem struct {
	Cause    string // short and fixed: "gap", "blank", "torn" …
	Line     int    // first met, from 1; 0 for the whole file
	Count    int
	Sentence string // for a person: what is there, with line; no file name
	Todo     string
	Grave    bool // the file, or what is judged of it, cannot be relied on as whole
}

// Phase is a stretch of readings under one name.
type Phase struct {
	Name        string
	From, Until float64 // s
}

// Point is one reading kept for a chart; Pressure is NaN where there is none.
type Point struct{ At, Coldest, Warmest, Pressure float64 }

// Options of one reading.
type Options struct {
	Name    string // path below traces/
	Layouts *Layouts
	// Sterilizer is the one whose load names the file, for layouts that are chosen by it; "" where none.
	Sterilizer string
	Order      quantity.DateOrder
	// Zone is the practice's: a time with its offset from Greenwich ("Z", "+02:00") is
	// brought to the clock on its wall. Nil: such times stay as written.
	Zone *time.Location
	// What practice.units gives to bare numbers; zero where not written.
	Temperature quantity.Unit
	Pressure    quantity.Unit
	Reference   quantity.Reference
	// Look is asked once, when the header is known, what to look for. Nil: nothing but what needs no setting.
	Look   func(*Header) Look
	Points int           // keep at most so many for a chart
	Buffer []byte        // to read into, at least 64 KiB; nil makes one
	Series *steam.Series // to sum up with, and to be used again when the file is read; nil makes one
}

// Look is what to look for, and the air outside that turns gauge into absolute.
type Look struct {
	steam.Setting
	Altitude      float64 // m
	AltitudeKnown bool
}
