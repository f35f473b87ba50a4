package report

import (
	"bytes"
	"encoding/csv"

	"footing/internal/result"
)

// sharedNote says, at the top of a copy for someone else, that it is one.
func (p *page) sharedNote(says string) {
	if says != "" {
		p.para(say("**%s**", says))
	}
}

// ShareKeyCSV is the key of a copy for someone else, as a table with the columns name in
// the copy, kind, id, in UTF-8 with a mark that says so. No cell can begin a formula.
func ShareKeyCSV(key []result.Pseudonym) []byte {
	var b bytes.Buffer
	b.WriteString(byteOrderMark)
	w := csv.NewWriter(&b)
	_ = w.Write([]string{"name in the copy", "kind", "id"}) // into memory, which cannot fail
	for _, p := range key {
		_ = w.Write([]string{p.Name, p.Kind, harmlessCell(p.ID)})
	}
	w.Flush()
	return b.Bytes()
}
