package record

import (
	"cmp"
	"slices"
	"strings"

	"footing/internal/workbook"
)

// sheetNotes is what a sheet holds besides its tables. Each thing is told once, with how
// often it was met.
type sheetNotes struct {
	said    map[noteKind]*noted
	astray  map[int]*noted // by column
	hidden  noted          // rows
	columns int            // hidden ones
	words   []string       // above the table, shortened
	upTo    workbook.Range // where these stand
}

type noteKind uint8

const (
	noteRepeated noteKind = iota
	noteSection
	noteMerged
	noteNameless
)

// noted is how often something was met, and where first.
type noted struct {
	count, row, column int
	text               string
}

func (n *noted) met(row, column int, text string) {
	if n.count++; n.count == 1 {
		n.row, n.column, n.text = row, column, shorten(text)
	}
}

func (n *noted) cell() string { return workbook.Name(n.column, n.row) }

func (s *sheetNotes) add(kind noteKind, row, column int, text string) {
	if s.said == nil {
		s.said = map[noteKind]*noted{}
	}
	if s.said[kind] == nil {
		s.said[kind] = &noted{}
	}
	s.said[kind].met(row, column, text)
}

func (s *sheetNotes) hiddenRow(row int) { s.hidden.met(row, 0, "") }

func (s *sheetNotes) stray(column, row int, text string) {
	if s.astray == nil {
		s.astray = map[int]*noted{}
	}
	if s.astray[column] == nil {
		s.astray[column] = &noted{}
	}
	s.astray[column].met(row, column, text)
}

// above takes in a row above the headings.
func (s *sheetNotes) above(line *gridLine) {
	if s.upTo.FirstRow == 0 {
		s.upTo = workbook.Range{FirstRow: line.number, FirstColumn: line.cells[0].Column}
	}
	s.upTo.LastRow = line.number
	for i := range line.cells {
		c := &line.cells[i]
		s.upTo.FirstColumn, s.upTo.LastColumn = min(s.upTo.FirstColumn, c.Column), max(s.upTo.LastColumn, c.Column)
		if text := trim(c.Text); text != "" && len(s.words) < mostFound {
			s.words = append(s.words, `"`+shorten(text)+`"`)
		}
	}
}

// told makes a problem of each thing, for one of the sheet's tables.
func (l *layout) told(file, kind string) (list []Problem) {
	n := &l.notes
	say := func(cause, cell string, row int, words, todo string) {
		p := Problem{File: file, Kind: kind, Cause: cause, Effect: Noted, Todo: todo,
			Places: []Place{{File: l.file, Sheet: l.tab.name, Row: row, Cell: cell}}, Values: []string{""}, Sentence: file + ", " + words}
		if todo != "" {
			p.Sentence += "; " + todo
		}
		list = append(list, p)
	}
	if l.tab.hidden {
		say("hidden-sheet", "", 0, "which is hidden, is read all the same", "begin its name with _ if it is no record")
	}
	if l.tab.notes {
		say("notes", "", 0, "which has notes attached to cells: these are not read", "type what belongs to the records into the column note")
	}
	if r := n.upTo; r.FirstRow > 0 {
		at := rangeName(r)
		say("title", at, r.FirstRow, map[bool]string{true: "cells ", false: "cell "}[strings.Contains(at, ":")]+at+": "+strings.Join(n.words, ", ")+" "+agree("is taken for a title or a note above the table, and not for a record", len(n.words)), "")
	}
	for _, t := range l.tables {
		if t.plan != nil && t.plan != l.own && len(t.rows) > 0 {
			at := t.where()
			say("other-kind", workbook.Name(t.firstColumn, t.first), t.first, "cells "+at+": the rows are read as "+t.plan.kind.Name+", whose headings or title they have", "")
		}
	}
	if s := n.said[noteRepeated]; s != nil {
		say("repeated-headings", "", s.row, timesWords(s.count, "row")+firstRow(s)+": the headings stand there again, and are no record", "")
	}
	if s := n.said[noteSection]; s != nil {
		say("title-row", "", s.row, timesWords(s.count, "row")+firstRow(s)+`: one cell over several columns ("`+s.text+`") is taken for a title, and not for a record`, "")
	}
	if s := n.said[noteMerged]; s != nil {
		say("merged", "", s.row, timesWords(s.count, "row")+firstRow(s)+": the value of merged cells counts for every row that they cover", "")
	}
	if s := n.said[noteNameless]; s != nil {
		say("no-name", s.cell(), s.row, timesWords(s.count, "row")+firstRow(s)+`: a value without a name before it ("`+s.text+`") is not read`, `write a list into one cell, with ";" between, or write the name again`)
		list[len(list)-1].Effect = Dropped
	}
	l.hiddenColumns()
	if n.hidden.count > 0 || n.columns > 0 {
		var parts []string
		if n.hidden.count > 0 {
			parts = append(parts, timesWords(n.hidden.count, "hidden row")+firstRow(&n.hidden))
		}
		if n.columns > 0 {
			parts = append(parts, timesWords(n.columns, "hidden column"))
		}
		say("hidden", "", n.hidden.row, strings.Join(parts, " and ")+": what is hidden, or left out by a filter, is read too", "")
	}
	var columns []int
	for c := range n.astray {
		columns = append(columns, c)
	}
	slices.Sort(columns)
	for i, c := range columns {
		s := n.astray[c]
		if i == mostStrange {
			break
		}
		say("no-heading", s.cell(), s.row, "column "+workbook.Letters(c)+": "+timesWords(s.count, "cell")+" without a heading "+map[bool]string{true: "is", false: "are"}[s.count == 1]+` not read (the first: cell `+s.cell()+`, "`+s.text+`")`,
			"give the column a heading if it belongs to the records")
	}
	slices.SortStableFunc(list, func(a, b Problem) int { return cmp.Compare(a.Places[0].Row, b.Places[0].Row) })
	return list
}

// hiddenColumns counts those that hold something of a table.
func (l *layout) hiddenColumns() {
	seen := map[int]bool{}
	for _, t := range l.tables {
		for _, c := range t.columns {
			if slices.ContainsFunc(l.tab.hiddenColumns, func(r workbook.Range) bool { return r.FirstColumn <= c.at && c.at <= r.LastColumn }) {
				seen[c.at] = true
			}
		}
	}
	l.notes.columns = len(seen)
}

func firstRow(n *noted) string {
	if n.count == 1 {
		return " (row " + itoa(n.row) + ")"
	}
	return " (the first: row " + itoa(n.row) + ")"
}

func timesWords(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return itoa(n) + " " + what + "s"
}

func rangeName(r workbook.Range) string {
	from, to := workbook.Name(r.FirstColumn, r.FirstRow), workbook.Name(r.LastColumn, r.LastRow)
	if from == to {
		return from
	}
	return from + ":" + to
}
