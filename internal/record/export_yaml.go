package record

import (
	"fmt"
	"regexp"
	"strings"
	"unicode"
)

// yamlEncoder writes a list of rows.
type yamlEncoder struct{}

func (yamlEncoder) begin(*outFile) error { return nil }

func (yamlEncoder) row(w *outFile, _ bool, row outRow) error {
	return w.text(yamlRow(row.members))
}

func yamlRow(members []member) string {
	var b strings.Builder
	for i, m := range members {
		lead := "  "
		if i == 0 {
			lead = "- "
		}
		b.WriteString(lead + yamlText(m.name) + ": ")
		m.value.flow(&b, yamlText)
		b.WriteByte('\n')
	}
	return b.String()
}

func (yamlEncoder) end(w *outFile, empty bool) error {
	if empty {
		return w.text("[]\n")
	}
	return nil
}

// The longest row of YAML that is written, and the longest name of anything: a name of
// YAML may have 1,024 characters, a column of a workbook be 255 wide, and a row that is long is read as one with a quotation mark missing.
const (
	yamlLongestRow = 1 << 19
	longestName    = 200
	yamlMostItems  = 4000
)

// fitsYAML is true for a row that can be read again as YAML.
func fitsYAML(row outRow) bool {
	for _, m := range row.members {
		if len(m.name) > longestName || (m.value.shape == isArray || m.value.shape == isObject) && strings.Count(m.value.text, ",") > yamlMostItems {
			return false
		}
	}
	return len(yamlRow(row.members)) < yamlLongestRow
}

var (
	yamlWords  = regexp.MustCompile(`^[A-Za-z][A-Za-z0-9_/.%°-]*( [A-Za-z0-9_/.%°-]+)*$`)
	yamlDates  = regexp.MustCompile(`^[0-9]{4}-[0-9]{2}-[0-9]{2}( [0-9]{2}:[0-9]{2}(:[0-9]{2})?)?$`)
	yamlValues = regexp.MustCompile(`^[0-9]{1,9}(\.[0-9]{1,9})? [A-Za-z°%][A-Za-z0-9°%/. ]*[A-Za-z%]?$`)
	yamlNames  = map[string]bool{"true": true, "false": true, "yes": true, "no": true, "on": true, "off": true, "y": true, "n": true, "null": true}
)

// yamlText writes words as they are where no reader of YAML can take them for anything
// else, and else in quotation marks.
func yamlText(s string) string {
	if len(s) <= 80 && (yamlWords.MatchString(s) && !yamlNames[strings.ToLower(s)] || yamlDates.MatchString(s) || yamlValues.MatchString(s) && s == trim(s)) {
		return s
	}
	var b strings.Builder
	b.WriteByte('"')
	for _, r := range s {
		switch {
		case r == '"' || r == '\\':
			b.WriteByte('\\')
			b.WriteRune(r)
		case r == '\n':
			b.WriteString(`\n`)
		case r == '\t':
			b.WriteString(`\t`)
		case r > 0xffff && !unicode.IsPrint(r):
			fmt.Fprintf(&b, `\U%08x`, r)
		case r != ' ' && !unicode.IsPrint(r) || r == '\ufffe' || r == '\uffff':
			fmt.Fprintf(&b, `\u%04x`, r)
		default:
			b.WriteRune(r)
		}
	}
	b.WriteByte('"')
	return b.String()
}

// yamlBlock writes the members of a document, one a line, with groups below their names.
func yamlBlock(b *strings.Builder, indent string, members []member) {
	for _, m := range members {
		name := indent + yamlText(m.name) + ":"
		switch items, groups := groupsOf(m.value); {
		case m.value.shape == isObject && m.value.text != "{}":
			b.WriteString(name + "\n")
			yamlBlock(b, indent+"  ", membersOf(m.value))
		case groups:
			b.WriteString(name + "\n")
			for _, item := range items {
				var in strings.Builder
				yamlBlock(&in, indent+"    ", membersOf(item))
				b.WriteString(indent + "  - " + strings.TrimPrefix(in.String(), indent+"    "))
			}
		default:
			b.WriteString(name + " ")
			m.value.flow(b, yamlText)
			b.WriteByte('\n')
		}
	}
}

// membersOf lists the members of a group.
func membersOf(v value) (list []member) {
	eachMember(v.text, func(name string, sh shape, text string) {
		list = append(list, member{name: name, value: value{sh, text}})
	})
	return list
}

// groupsOf lists the items of a list; ok if each is a group with something in it.
func groupsOf(v value) (items []value, ok bool) {
	if v.shape != isArray {
		return nil, false
	}
	ok = true
	eachItem(v.text, func(sh shape, text string) {
		in := value{sh, text}
		items = append(items, in)
		ok = ok && sh == isObject && len(membersOf(in)) > 0
	})
	return items, ok && len(items) > 0
}
