package cli

import (
	"bytes"
	_ "embed"
	"fmt"
	"html/template"

	"footing/internal/report"
)

//go:embed cycle.html
var cycleText string

var cycleTemplates = template.Must(template.New("cycle").Parse(cycleText))

// pageFileRow is one file in the list of many; pageSection one with its table and chart.
type pageFileRow struct {
	Name, Chart, Unusable string
	Cells                 []pageCell
}

type pageCell struct{ Head, Text string }

type pageSection struct {
	Name  string
	Rows  [][]string
	Notes []string
	SVG   template.HTML
}

// shelve writes the page of all files, and brings it and the charts to their place.
func (s *sitting) shelve() error {
	page, err := s.page()
	if err != nil {
		return err
	}
	if err := s.shelf.put(cyclePage, page); err != nil {
		return err
	}
	return s.shelf.finish(s.ctx)
}

// page is one self-contained page: no script, and nothing fetched.
func (s *sitting) page() ([]byte, error) {
	data := map[string]any{"Title": "What the data logger wrote", "Caution": noRelease, "Tool": "footing " + version()}
	if len(s.files) == 1 {
		data["Title"] = "What the data logger wrote: " + s.told[0].name
	} else {
		rows, heads := s.pageRows()
		data["Files"], data["Heads"], data["Wide"] = rows, heads, len(heads)+1
		data["Counts"], data["Legend"] = s.counts(), s.legend()
	}
	var unread []string
	for _, err := range s.unread {
		unread = append(unread, err.Error())
	}
	data["Unread"] = unread
	var all []pageSection
	for _, i := range s.kept {
		t := &s.told[i]
		section := pageSection{Name: t.name, Rows: t.rows, Notes: t.notes}
		if t.chart != "" {
			svg, err := report.ChartWithin(t.shown, fmt.Sprintf("chart-%d", i+1))
			if err != nil {
				return nil, err
			}
			section.SVG = template.HTML(svg) // drawn by html/template
		}
		all = append(all, section)
	}
	data["Sections"] = all
	if n := len(s.told) - len(s.kept); n > 0 {
		data["Rest"] = fmt.Sprintf("Of %d files the tables and charts follow, those to look at first; the charts of the other %d lie beside this page.", len(s.kept), n)
	}
	var b bytes.Buffer
	if err := cycleTemplates.ExecuteTemplate(&b, "page", data); err != nil {
		return nil, fmt.Errorf("the page could not be made: %w", err)
	}
	return b.Bytes(), nil
}

func (s *sitting) pageRows() (rows []pageFileRow, heads []string) {
	columns := s.columns()
	for _, c := range columns {
		heads = append(heads, c.head)
	}
	for i := range s.told {
		t := &s.told[i]
		r := pageFileRow{Name: t.name, Chart: t.chart, Unusable: t.line.unusable}
		for _, c := range columns {
			r.Cells = append(r.Cells, pageCell{c.head, c.of(t)})
		}
		rows = append(rows, r)
	}
	return rows, heads
}
