package cli

import (
	"fmt"
	"strings"
	"unicode/utf8"

	"footing/schemas"
)

// headingWords are the headings of fields whose own name is not what a log book says.
// Each is a word that the schema reads for that field.
var headingWords = map[string]string{
	"sites.id": "site", "people.id": "initials", "credentials.id": "certificate id", "credentials.kind": "certificate",
	"clients.id": "client", "sterilizers.id": "sterilizer", "equipment.id": "machine", "programs.id": "program id", "programs.name": "program name",
	"instruments.id": "instrument", "instruments.kind": "type", "loads.id": "load id", "packs.id": "pack", "tests.id": "test id", "visits.id": "visit id",
	"products.id": "product id", "baths.id": "bath", "complaints.id": "complaint id", "stock.id": "stock id", "upkeep.id": "job no",
	"programs.exposure": "hold time", "programs.drying": "drying time", "loads.exposure": "hold time", "loads.drying": "drying time",
	"loads.counter": "cycle no", "loads.packs_made": "number of packs", "loads.sets": "contents", "loads.trace": "logger file",
	"tests.kind": "test", "tests.equipment": "machine", "tests.counter": "cycle no", "tests.read_after": "incubation time", "tests.reported_on": "report date",
	"upkeep.equipment": "machine", "upkeep.task": "work done", "upkeep.done_on": "date done", "upkeep.next_due_on": "next due", "upkeep.counter_after": "cycle counter after",
	"stock.on": "date", "stock.each": "pieces per box", "sterilizers.counter_start": "counter at start", "sterilizers.logger": "data logger", "sterilizers.most_packs": "most packs",
	"instruments.reuse": "reusable or single use", "instruments.touches": "touches what",
}

// headingWord is the heading of a field, without its unit.
func headingWord(f *schemas.Field) string {
	if w, ok := headingWords[f.Kind+"."+f.Name]; ok {
		return w
	}
	return strings.ReplaceAll(f.Name, "_", " ")
}

// longNote is how many characters a note has at most, but for what is said of how to
// write the value.
const longNote = 150

// noteOf says what to write in a column, and how.
func noteOf(f *schemas.Field, unit string) string {
	if f.Form == schemas.ID {
		example := ""
		if len(f.Examples) > 0 {
			example = fmt.Sprintf(", such as %v", f.Examples[0])
		}
		return "A short name of your own" + example + ". No person's name. Other rows point to it."
	}
	return strings.TrimSpace(shortened(f.Description) + " " + writing(f, unit))
}

// shortened is as many whole sentences as a note has room for: one at least.
func shortened(text string) string {
	kept := ""
	for sentence := range strings.SplitAfterSeq(text, ". ") {
		if kept != "" && utf8.RuneCountInString(kept+sentence) > longNote {
			break
		}
		kept += sentence
	}
	return strings.ReplaceAll(strings.TrimSpace(kept), "`", "")
}

// writing says how a value is written, where that is not plain.
func writing(f *schemas.Field, unit string) string {
	switch f.Form {
	case schemas.Moment:
		return "Day and hour; the day alone will do."
	case schemas.List:
		if f.All && !strings.Contains(f.Description, "all") {
			return "Several: a; b. Or all."
		}
		return "Several: a; b."
	case schemas.CountOrList:
		return "How many, or which: a; b."
	case schemas.Pressure:
		if unit == "" {
			return "With its unit, and gauge or absolute as the dial shows: 15 psi gauge."
		}
	case schemas.PressureRate, schemas.Length:
		if len(f.Examples) > 0 {
			return fmt.Sprintf("With its unit: %v.", f.Examples[0])
		}
	}
	return ""
}
