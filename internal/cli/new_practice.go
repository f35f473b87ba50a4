package cli

import (
	"fmt"
	"strings"

	text "github.com/jedib0t/go-pretty/v6/text"

	"footing/schemas"
)

// practiceOrder is the order of practice.yaml: what is worth filling in on the first
// evening stands first. What is not named here follows as the schema has it.
var practiceOrder = []string{"name", "regulator", "jurisdiction", "time_zone", "dates", "units", "altitude", "coverage", "renewal_on", "inspection_on", "contacts", "reprocessing", "closed_days"}

// practiceMore is said after what the schema says of a field.
var practiceMore = map[string]string{
	"name":      "Needed.",
	"regulator": "Needed.",
	"time_zone": "It decides on which day an event near midnight lies.",
	"dates":     "Only dates that are typed as words need it: in a workbook, a real date has no order.",
	"units":     "A unit in a heading or a cell comes before it. Gauge is nought at the open door, absolute is nought in a perfect vacuum: the dial or its book says which.",
	"coverage": "Without it, what is not typed is not judged. Write share: all only for a time of which every row is here, and no more than you typed; " +
		"leave until out where the rows run to today. For loads, for instance, it lets a missing week or a missing cycle number be seen.",
	"rule_set": "Without it, what only some rules ask for is told and not graded.",
}

// practiceExamples are examples that are easier to read than the schema's, as they stand in the file.
var practiceExamples = map[string]string{
	"units":        "units: {temperature: °C, pressure: psi gauge}",
	"coverage":     "coverage:\n  - {kind: loads, from: 2026-08-01, share: all}\n  - {kind: screens, share: some, kept_at: \"client cards, cabinet 2\"}",
	"contacts":     "contacts: {public_health: 555 0100, regulator: 555 0101, insurer: 555 0102}",
	"declarations": "declarations:\n  - {text: I hold liability cover, rests_on: [credentials]}",
}

// practiceText is a practice.yaml to fill in: every field with what it means and an
// example, all as comments but for the two that are needed.
func practiceText() []byte {
	k, _ := schemas.Lookup("practice")
	var b strings.Builder
	remark := func(s string) {
		for l := range strings.SplitSeq(text.WrapSoft(s, 92), "\n") {
			fmt.Fprintf(&b, "# %s\n", strings.TrimRight(l, " "))
		}
	}
	remark("The practice. What begins with # is only explained here, and not read. To use a line such as #dates: dmy, take its # away and write what holds for you. Keep the spaces as they are.")
	for _, f := range practiceFields(k) {
		b.WriteString("\n")
		said := f.Description
		if len(f.Choices) > 0 {
			said += " One of: " + strings.Join(f.Choices, ", ") + "."
		}
		remark(strings.TrimSpace(said + " " + practiceMore[f.Name]))
		if f.Required {
			fmt.Fprintf(&b, "%s:\n", f.Name)
			continue
		}
		for l := range strings.SplitSeq(practiceExample(f), "\n") {
			fmt.Fprintf(&b, "#%s\n", l)
		}
	}
	return []byte(b.String())
}

func practiceFields(k *schemas.Kind) (fields []*schemas.Field) {
	for _, name := range practiceOrder {
		if f, ok := k.Field(name); ok {
			fields = append(fields, f)
		}
	}
	first := map[*schemas.Field]bool{}
	for _, f := range fields {
		first[f] = true
	}
	for _, f := range k.Fields {
		if !first[f] {
			fields = append(fields, f)
		}
	}
	return fields
}

// practiceExample is a field with its first example.
func practiceExample(f *schemas.Field) string {
	if e, ok := practiceExamples[f.Name]; ok {
		return e
	}
	if list, ok := f.Examples[0].([]any); ok {
		items := make([]string, len(list))
		for i, v := range list {
			items[i] = fmt.Sprint(v)
		}
		return f.Name + ": [" + strings.Join(items, ", ") + "]"
	}
	return fmt.Sprintf("%s: %v", f.Name, f.Examples[0])
}
