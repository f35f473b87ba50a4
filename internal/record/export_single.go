package record

import (
	"fmt"
	"path"
	"slices"
	"strings"

	"footing/internal/workbook"
)

// single writes a single document, where the format holds it, and else copies its file.
func (x *exporter) single(k *ExportedKind, sheets []*sheet) error {
	s := sheets[0]
	if s.file.Accepted == 1 && s.file.SetAside == 0 {
		members, text := x.document(s)
		if x.sameDocument(s, text) {
			x.wrote(k.Kind, k.Kind, rowRef{s, 0})
			if x.format == bookFormat {
				k.Files = []string{bookFile}
				x.tables = append(x.tables, pairsTable(k.Kind, members))
				return nil
			}
			name := k.Kind + "." + x.format
			k.Files = []string{x.free(name)}
			return x.create(name, func(w *outFile) error {
				if x.format == "csv" {
					text = csvMark + text
				}
				return w.text(text)
			})
		}
	}
	k.AsItWas = true
	ext, text := path.Ext(s.file.Name), s.src.text
	if s.src.grid != nil {
		ext, text = ".csv", s.src.asCSV()
	}
	k.Files = []string{x.free(k.Kind + ext)}
	for i := range s.file.Accepted {
		x.wrote(k.Kind, k.Kind, rowRef{s, i})
	}
	return x.create(k.Files[0], func(w *outFile) error { return w.text(text) })
}

// document makes the members of a single document, and its text.
func (x *exporter) document(s *sheet) ([]member, string) {
	r := newRows(s, false)
	members := r.row(0).members
	var b strings.Builder
	switch x.format {
	case "yaml":
		yamlBlock(&b, "", members)
	case "json":
		for i, m := range members {
			b.WriteString(map[bool]string{true: "{\n  ", false: ",\n  "}[i == 0] + jsonOf(m.name) + ": " + m.value.oneLine())
		}
		b.WriteString("\n}\n")
	case "jsonl":
		b.WriteString(rowJSON(members) + "\n")
	default:
		members = flat(members)
		b.WriteString("name,value\n")
		for _, m := range members {
			b.WriteString(csvCell(m.name) + "," + csvCell(m.value.text) + "\n")
		}
	}
	return members, b.String()
}

// sameDocument reads a document as it is to be written, and holds it against the file:
// the same must be held, and the same be lost for the same causes.
func (x *exporter) sameDocument(s *sheet, text string) bool {
	form := formats[x.format]
	if x.format == bookFormat {
		form = formatCSV
		if strings.ContainsFunc(text, func(r rune) bool { return !fitsCell(string(r)) }) {
			return false
		}
	}
	if _, _, damaged, err := decode([]byte(text)); err != nil || damaged > 0 {
		return false
	}
	src := &source{name: s.src.name, plan: s.plan, format: form, text: text}
	again := newSheet(x.ctx, src, s.set, 1)
	if again.read() != nil {
		return false
	}
	again.close()
	if again.file.Accepted != 1 || again.file.SetAside != 0 || (rowRef{s, 0}).differs(rowRef{again, 0}) != "" {
		return false
	}
	return slices.Equal(losses(s), losses(again))
}

// losses lists what of a file was not read, and why.
func losses(s *sheet) (list []string) {
	for _, p := range s.told {
		if p.Effect != Noted {
			list = append(list, fmt.Sprintf("%s %s %d", p.Field, p.Cause, len(p.Places)))
		}
	}
	slices.Sort(list)
	return list
}

// flat makes two columns of a document: the name of a value within a group is written
// with a point, and within a list of groups with the number of the group.
func flat(members []member) (list []member) {
	for _, m := range members {
		list = flatten(list, m.name, m.col, m.value)
	}
	return list
}

func flatten(list []member, name string, c *column, v value) []member {
	items, groups := groupsOf(v)
	switch {
	case c == nil, c.holds < holdsObject: // what is no field, and plain values
		return append(list, member{name: name, value: value{isText, v.cellText(c)}})
	case groups:
		for i, item := range items {
			list = flatten(list, fmt.Sprintf("%s.%d", name, i+1), c, item)
		}
		return list
	case v.shape == isObject:
		for _, m := range membersOf(v) {
			list = nested(list, name+"."+m.name, m.value)
		}
		return list
	}
	return append(list, member{name: name, value: value{isText, v.text}})
}

// nested is flatten for what stands within a group.
func nested(list []member, name string, v value) []member {
	text := v.text
	if v.shape == isObject {
		for _, m := range membersOf(v) {
			list = nested(list, name+"."+m.name, m.value)
		}
		return list
	}
	if v.shape == isArray {
		if items, ok := plainItems(v.text); ok {
			text = items
		}
	}
	return append(list, member{name: name, value: value{isText, text}})
}

// pairsTable is a document as a sheet of a workbook.
func pairsTable(name string, members []member) workbook.Table {
	t := workbook.Table{Name: name, Columns: []workbook.Column{{Heading: "name", Width: 30}, {Heading: "value", Width: 60}}}
	for _, m := range members {
		t.Rows = append(t.Rows, []workbook.Cell{{Column: 0, Text: m.name}, {Column: 1, Text: m.value.text}})
	}
	return t
}
