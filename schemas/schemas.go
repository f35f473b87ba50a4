// Package schemas holds the shape of every kind of record as JSON Schema
// (draft 2020-12), and lists the kinds and their fields. The schema of a kind
// describes one row; forms of values are shared in common.json. Keywords of our
// own begin with x-: they name synonyms, references, dates and private fields.
package schemas

import (
	"embed"
	"encoding/json"
	"strings"
)

//go:embed *.json
var files embed.FS

// Form says how the values of a field are written; each but choice, list,
// objects and object is a definition of the same name in common.json.
type Form string

// The forms of values.
const (
	Text         Form = "text"
	ID           Form = "id"
	Ref          Form = "ref"
	Day          Form = "day"
	Moment       Form = "moment"
	YesNo        Form = "yes-no"
	Number       Form = "number"
	Choice       Form = "choice"
	List         Form = "list"
	Temperature  Form = "temperature"
	Difference   Form = "difference"
	Pressure     Form = "pressure"
	PressureRate Form = "pressure-rate"
	Span         Form = "span"
	Length       Form = "length"
	Percent      Form = "percent"
	CountOrList  Form = "count-or-list"
	Objects      Form = "objects"
	Object       Form = "object"
	Value        Form = "value"      // of a criterion: text, number, yes or no, or a list of these
	Conditions   Form = "conditions" // of a criterion: text, or names with texts
)

// DateMark says how a date that lies after the audit date is read: an event is
// not seen yet, a deadline may honestly lie ahead. Fields that hold no date have
// an empty mark.
type DateMark string

// The marks of dates.
const (
	Event    DateMark = "event"
	Deadline DateMark = "deadline"
)

// Kind is one kind of record, and what its schema says of a row.
type Kind struct {
	Name, Title, Description string
	Synonyms                 []string          // other names of the sheet or file
	When                     string            // the field that dates a row; empty if none does
	Single                   bool              // one document, not rows
	Required                 []string          // fields without which a row is set aside
	Fields                   []*Field          // in the order of the schema
	Examples                 []json.RawMessage // whole rows that validate
	headings                 map[string]*Field // by folded name or synonym
	names                    map[string]*Field // by exact name
}

// Field is one field of a kind, or of the objects that such a field holds.
type Field struct {
	Kind, Name     string
	Form           Form
	Item           Form              // of each item, where Form is List
	Choices        []string          // in the order of the schema
	ChoiceSynonyms map[string]string // trade word to choice, as written in the schema
	Open           string            // prefix that a choice of one's own has ("other:"); empty if there is none
	All            bool              // "all" may stand for the list
	Required       bool
	Description    string
	Synonyms       []string
	Date           DateMark
	Refers         []string // kinds in which the id is looked for, in this order
	Private        bool     // may identify a person, or is about health
	Examples       []any    // as encoding/json reads them
	Fields         []*Field // of each object, where Form is Objects or Object
	Pointer        string   // of its schema in the kind's: "/properties/started"
	choices        map[string]string
	headings       map[string]*Field
	names          map[string]*Field
}

// order is the order in which kinds are listed everywhere: that of the guide.
var order = strings.Fields(`practice rules people credentials observations policies
	sites clients histories screens consents visits referrals instruments cleanings
	sterilizers equipment programs loads packs tests baths soaks upkeep stock products
	housekeeping waste trips incidents complaints actions`)
