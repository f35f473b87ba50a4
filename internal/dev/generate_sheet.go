package dev

import (
	"bufio"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
)

// row is one record: a value is a string, a whole number, a yes/no or a list of
// strings; what is not written is not in it.
type row map[string]any

// formats holds, for each choice of Plan.Format, the format of kinds that are
// not named in mixedFormats.
var formats = map[string]string{"csv": "csv", "json": "json", "jsonl": "jsonl", "yaml": "yaml", "mixed": "csv"}

// mixedFormats: what a practice would export or write by hand rather than keep
// in a spreadsheet.
var mixedFormats = map[string]string{
	"people": "json", "observations": "json", "sites": "json", "sterilizers": "json", "equipment": "json",
	"programs": "json", "products": "json", "instruments": "json", "histories": "json", "consents": "json",
	"visits": "json", "referrals": "json", "incidents": "json", "complaints": "json", "actions": "json",
	"screens": "jsonl",
}

// sheet writes the rows of one kind to one file.
type sheet struct {
	kind, format string
	columns      []string
	file         *os.File
	out          *bufio.Writer
	rows         int
	line         []byte
}

// put adds a row to its kind's file. A name that columns does not list is a
// mistake in this package and ends the run.
func (m *maker) put(kind string, r row) {
	if m.breaks != nil && !m.breaks.passes(kind, r) {
		return
	}
	s := m.sheets[kind]
	if s == nil {
		s = m.open(kind)
	}
	if s.out == nil {
		return
	}
	known := 0
	for _, name := range s.columns {
		if _, ok := r[name]; ok {
			known++
		}
	}
	if known != len(r) {
		panic(fmt.Sprintf("%s: a field of %v is in no column of %v", kind, r, s.columns))
	}
	s.write(r)
}

func (m *maker) open(kind string) *sheet {
	s := &sheet{kind: kind, format: formats[m.plan.Format], columns: strings.Fields(columns[kind])}
	if f, ok := mixedFormats[kind]; ok && m.plan.Format == "mixed" {
		s.format = f
	}
	m.sheets[kind] = s
	m.order = append(m.order, kind)
	f, err := os.Create(filepath.Join(m.dir, kind+"."+s.format))
	if err != nil {
		m.failed = err
		return s
	}
	s.file, s.out = f, bufio.NewWriterSize(f, 1<<16)
	switch s.format {
	case "csv":
		s.out.WriteString(strings.Join(s.columns, ",") + "\n")
	case "json":
		s.out.WriteString("[")
	}
	return s
}

func (s *sheet) write(r row) {
	b := s.line[:0]
	switch s.format {
	case "csv":
		for i, name := range s.columns {
			if i > 0 {
				b = append(b, ',')
			}
			b = appendCell(b, r[name])
		}
		b = append(b, '\n')
	case "json":
		if s.rows > 0 {
			b = append(b, ',')
		}
		b = append(append(b, "\n  "...), s.object(r)...)
	case "jsonl":
		b = append(append(b, s.object(r)...), '\n')
	case "yaml":
		lead := "- "
		for _, name := range s.columns {
			if v, ok := r[name]; ok {
				b = append(append(append(b, lead...), name...), ": "...)
				b = append(appendYAML(b, v), '\n')
				lead = "  "
			}
		}
	}
	s.rows++
	s.line = b
	s.out.Write(b)
}

func (s *sheet) object(r row) []byte {
	b := []byte{'{'}
	for _, name := range s.columns {
		if v, ok := r[name]; ok {
			if len(b) > 1 {
				b = append(b, ", "...)
			}
			b = append(strconv.AppendQuote(b, name), ": "...)
			b = append(b, jsonText(v)...)
		}
	}
	return append(b, '}')
}

func (s *sheet) close() error {
	if s.out == nil {
		return nil
	}
	if s.format == "json" {
		s.out.WriteString("\n]\n")
	}
	err := s.out.Flush()
	if e := s.file.Close(); err == nil {
		err = e
	}
	return err
}

func jsonText(v any) []byte {
	b, err := json.Marshal(v)
	if err != nil {
		panic(err) // strings, numbers, yes/no and lists of strings alone come here
	}
	return b
}

func appendCell(b []byte, v any) []byte {
	switch v := v.(type) {
	case nil:
		return b
	case bool:
		if v {
			return append(b, "yes"...)
		}
		return append(b, "no"...)
	case int:
		return strconv.AppendInt(b, int64(v), 10)
	case []string:
		return appendCell(b, strings.Join(v, "; "))
	}
	s := v.(string)
	if strings.ContainsAny(s, ",\"\n") {
		s = `"` + strings.ReplaceAll(s, `"`, `""`) + `"`
	}
	return append(b, s...)
}

func appendYAML(b []byte, v any) []byte {
	switch v := v.(type) {
	case []string:
		b = append(b, '[')
		for i, s := range v {
			if i > 0 {
				b = append(b, ", "...)
			}
			b = appendYAML(b, s)
		}
		return append(b, ']')
	case string:
		if plainYAML(v) {
			return append(b, v...)
		}
	}
	return append(b, jsonText(v)...)
}

// plainYAML is true of text that every YAML reader takes as itself without quotes.
func plainYAML(s string) bool {
	switch s {
	case "", "yes", "no", "true", "false", "null", "on", "off", "y", "n":
		return false
	}
	if s[0] < 'a' || s[0] > 'z' {
		if len(s) < 2 || s[0] < 'A' || s[0] > 'Z' {
			return false
		}
	}
	for i := range len(s) {
		c := s[i]
		if c != ' ' && c != '-' && c != '.' && (c < '0' || c > '9') && (c < 'a' || c > 'z') && (c < 'A' || c > 'Z') {
			return false
		}
	}
	return s[len(s)-1] != ' '
}
