package record

import (
	"path"
	"strings"

	"github.com/go-json-experiment/json/jsontext"
)

// asideFile is a file of rows that were set aside, as they stood in theirs.
type asideFile struct{ ext, text string }

// aside writes the rows of a kind that were set aside, so that they are set aside again.
func (x *exporter) aside(k *ExportedKind, sheets []*sheet) error {
	var files []asideFile
	for _, s := range sheets {
		files = append(files, s.asideFiles()...)
	}
	for i, f := range files {
		name := x.free(numbered(k.Kind+"/set-aside", i, len(files), f.ext))
		k.Aside = append(k.Aside, name)
		if err := x.create(name, func(w *outFile) error { return w.text(f.text) }); err != nil {
			return err
		}
	}
	return nil
}

// asideFiles gives what was set aside or not read of one file.
func (s *sheet) asideFiles() (files []asideFile) {
	switch s.src.format {
	case formatJSON:
		return s.asideJSON()
	case formatLines:
		if text := s.asideRows("", "\n"); text != "" {
			files = append(files, asideFile{".jsonl", text})
		}
	case formatYAML:
		if text := s.asideRows("---\n", "\n"); text != "" {
			files = append(files, asideFile{path.Ext(s.src.name), text})
		}
	case formatCSV:
		return s.asideTable()
	}
	return files
}

// asideRows joins the rows that were set aside.
func (s *sheet) asideRows(before, after string) string {
	var b strings.Builder
	for _, at := range s.aside {
		b.WriteString(before + s.rawRow(int(at.start)) + after)
	}
	return b.String()
}

// asideJSON also keeps what is not read of a file: its rest from where it is broken, and
// what follows its end.
func (s *sheet) asideJSON() (files []asideFile) {
	text := s.src.text
	if rows := s.asideRows("", ",\n"); rows != "" {
		files = append(files, asideFile{".json", "[\n" + strings.TrimSuffix(rows, ",\n") + "\n]\n"})
	}
	if s.torn > 0 {
		return append(files, asideFile{".json", "[" + text[s.torn-1:]})
	}
	d := jsontext.NewDecoder(strings.NewReader(text), lenient)
	kind := d.PeekKind()
	if d.SkipValue() != nil {
		return files
	}
	if rest := text[d.InputOffset():]; strings.TrimSpace(rest) != "" && s.tells("after-end") {
		files = append(files, asideFile{".json", map[bool]string{true: "{}", false: "[]"}[kind == '{'] + rest})
	}
	return files
}

// tells reports whether the file has a problem of a cause.
func (s *sheet) tells(cause string) bool {
	for i := range s.told {
		if s.told[i].Cause == cause {
			return true
		}
	}
	return false
}

// asideTable keeps the headings above the rows. A row with a quotation mark that is never
// closed ends its file, as what follows it could close it.
func (s *sheet) asideTable() (files []asideFile) {
	if len(s.aside) == 0 {
		return nil
	}
	head := s.headLine()
	var b strings.Builder
	end := func() {
		if b.Len() > 0 {
			files = append(files, asideFile{".csv", csvMark + head + b.String()})
			b.Reset()
		}
	}
	for _, at := range s.aside {
		c := scanner{text: s.src.text, comma: s.src.comma, pos: int(at.start)}
		c.next()
		if s.src.grid != nil {
			b.WriteString(csvLine(c.cells))
			continue
		}
		b.WriteString(s.rawRow(int(at.start)) + "\n")
		if c.wrong != nil && c.wrong.open {
			end()
		}
	}
	end()
	return files
}

// headLine is the line of the headings, with the delimiter named before it where it would
// not be found.
func (s *sheet) headLine() string {
	c := scanner{text: s.src.text, comma: s.src.comma}
	if strings.HasPrefix(c.text, "sep=") {
		c.pos = lineEnd(c.text, 0)
	}
	c.filled()
	if s.src.grid != nil {
		return csvLine(c.cells)
	}
	line := strings.TrimRight(s.src.text[c.start:min(c.pos, len(s.src.text))], "\r\n") + "\n"
	again := newSheet(s.ctx, &source{name: s.src.name, plan: s.plan, text: line}, s.set, 1)
	again.openTable()
	if again.src.comma != s.src.comma || len(s.cells) == 1 {
		line = "sep=" + string(s.src.comma) + "\n" + line
	}
	return line
}

// csvLine is a row of CSV.
func csvLine(cells []string) string {
	parts := make([]string, len(cells))
	for i, cell := range cells {
		parts[i] = csvCell(cell)
	}
	return strings.Join(parts, ",") + "\n"
}

// asCSV is the table of a workbook's sheet as a CSV file.
func (s *source) asCSV() string {
	var b strings.Builder
	for c := (scanner{text: s.text, comma: s.comma}); c.next(); {
		b.WriteString(csvLine(c.cells))
	}
	return b.String()
}
