// Package record reads a folder of records: it finds the files of each kind, reads CSV,
// JSON, JSON Lines, YAML and the sheets of workbooks alike, judges every value by the
// schema of its kind, and fills the accepted rows into the caller's structs. Every row
// found is accepted or set aside, and what was set aside, dropped or not read is told in
// sentences for the person who typed it.
package record

import (
	"strconv"
	"time"

	"footing/internal/quantity"
)

// Row says where a row of records stands. It is embedded in the struct of every kind.
type Row struct {
	ID     string // as typed; "" if not written
	source *source
	start  uint32 // offset of the row in the text of its file
	number uint32
}

// Kind is the name of the row's record kind: "loads".
func (r *Row) Kind() string {
	if r.source == nil {
		return ""
	}
	return r.source.plan.kind.Name
}

// File is the name of the row's file, relative to the folder, with forward slashes; of a
// row in a workbook, with its sheet: "records.xlsx, sheet loads".
func (r *Row) File() string {
	if r.source == nil {
		return ""
	}
	return r.source.name
}

// Number counts the rows of the file as a person does, from 1: in a CSV file the
// first row under the heading is row 1, and blank rows are not counted. In a workbook
// it is the number that the spreadsheet shows beside the row.
func (r *Row) Number() int { return int(r.number) }

// Label is the row's id, or where there is none its place: "loads.csv row 12".
func (r *Row) Label() string {
	switch {
	case r.ID != "":
		return r.ID
	case r.source == nil:
		return ""
	case r.source.plan.kind.Single:
		return r.source.name
	}
	if r.source.grid != nil {
		return r.source.name + ", row " + strconv.Itoa(int(r.number))
	}
	return r.source.name + " row " + strconv.Itoa(int(r.number))
}

// Place is where something is written. Lines and characters count from 1 in the
// file as decoded; EndColumn is one past the last character of the value on its first line.
type Place struct {
	File                    string
	Row                     int // 0 for a place in no row
	Line, Column, EndColumn int
	Sheet, Cell             string // of a workbook, which has no lines: "loads", "F17" ("" for a whole row)
	Heading                 string // the column or field name as written, "" for a whole row
}

// Options of a reading. The zero value will do.
type Options struct {
	MaxBytes int64                   // of one record file; 0 means 64 MiB
	Workers  int                     // files read at once; 0 means one a processor
	Progress func(done, total int64) // bytes read so far and in all; calls never overlap
	Rules    string                  // path of a rules file to read instead of the folder's own; "" for the folder's
	Keep     bool                    // keep what Export needs
}

// DefaultMaxBytes is the largest record file that is read unless Options says otherwise.
const DefaultMaxBytes = 64 << 20

// Intake is what a reading found besides the rows.
type Intake struct {
	Files    []File       // record files read, by name; of a workbook, in the order of its sheets
	NotRead  []NotRead    // every other file and folder, by name
	Traces   []Trace      // data-logger files, by name: see Opener
	Layout   *TraceLayout // traces/layout.yaml; nil where there is none that can be read
	Problems []Problem    // by file, then by first place

	// How practice says that values are written.
	Order quantity.DateOrder
	Zone  *time.Location // UTC where practice names none
	Units Units

	dir  string
	ids  map[string]*IDs
	kept *kept // what Export needs; nil where it was not asked for
}

// Units are those that practice.units gives to bare numbers; zero where not written.
type Units struct {
	Temperature quantity.Unit
	Pressure    quantity.Unit
	Reference   quantity.Reference
}

// File is one record file, or one table in a sheet of a workbook, whose Name is then
// "records.xlsx, sheet loads". Rows is always Accepted + SetAside.
type File struct {
	Name, SHA256, Kind       string
	Encoding                 string // "UTF-8", "UTF-16", "Windows-1252", or "workbook"
	Delimiter                string // of a CSV file: "comma", "semicolon", "tab", "bar"
	Rows, Accepted, SetAside int
	Headings                 []Heading
}

// Heading is a column heading or field name as written, with the field it was taken for.
type Heading struct {
	Written string
	Field   string // "" if it is not one of the kind's
	Near    string // then the field that it may have meant; "" if none is near
}

// NotRead is a file or folder that was not read as records, and why.
type NotRead struct{ Name, Why string }

// Trace is one file under traces/, as it was when the folder was listed.
type Trace struct {
	Name  string
	Bytes int64
	entry *entry
}

// TraceLayout is the text of traces/layout.yaml, which says what the columns of
// data-logger files are.
type TraceLayout struct {
	Name, SHA256 string
	Text         []byte
}

// Effect says what a problem did.
type Effect uint8

// The effects, gravest first.
const (
	FileRefused Effect = iota // a file, or the rest of one, was not read
	SetAside                  // rows were set aside
	Dropped                   // values count as not written
	Noted                     // nothing was lost
)

// Problem is one cause in one file, with every place it was met.
type Problem struct {
	File, Kind, Field, Heading string
	Cause                      string // a short name: "no-unit", "choice", "blank" …
	Effect                     Effect
	Sentence                   string // for the person who typed the records
	Found, Allowed, Todo       string
	Required                   bool // the field is one without which a row is set aside
	Any                        bool // with FileRefused and no Kind: rows of any kind may stand there, as in a workbook
	Places                     []Place
	Values                     []string // what is written at each place, shortened; "" where nothing is, or where it lies deeper in a value
	IDs                        []string // of the rows concerned, where written; file order
}

// IDState says what is known of an id.
type IDState uint8

// The states of an id within its kind.
const (
	IDUnknown  IDState = iota // on no row
	IDOne                     // on exactly one accepted row
	IDShared                  // on several rows: a reference to it could mean any
	IDSetAside                // on a row set aside, or perhaps on one whose id could not be read
)
