package record

import (
	"slices"
	"strings"
	"sync"
	"unicode/utf8"
)

// format is how the rows of a file are written.
type format uint8

const (
	formatCSV   format = iota
	formatPairs        // csv of two columns, name and value
	formatJSON
	formatLines // JSON Lines
	formatYAML
)

// formats by the ending of a file's name.
var formats = map[string]format{"csv": formatCSV, "json": formatJSON, "jsonl": formatLines, "yaml": formatYAML, "yml": formatYAML}

// source is the text of a file, kept so that places can be found in it.
type source struct {
	name   string
	plan   *plan
	format format
	text   string
	comma  byte    // of a CSV file
	lanes  []*lane // with a column, to find the heading of a field

	once sync.Once
	nls  []int32 // line feeds before each block of the text

	parted sync.Once
	docs   []span // of a YAML file
}

// documents gives the YAML documents of the text.
func (s *source) documents() []span {
	s.parted.Do(func() { s.docs = slices.Collect(yamlDocuments(s.text)) })
	return s.docs
}

// guessRows says how many rows the file may have, to make room for them.
func (s *source) guessRows() int {
	n := 0
	switch s.format {
	case formatJSON:
		n = strings.Count(s.text, "{")
	case formatYAML:
		n = strings.Count(s.text, "\n-")
	default:
		n = strings.Count(s.text, "\n")
	}
	if s.plan.kind.Single {
		n = 0
	}
	return 1 + min(n, 1<<17)
}

const lineBlock = 1 << 12

// line gives the line of an offset, from 1, and the offset at which the line begins.
func (s *source) line(offset int) (line, begins int) {
	s.once.Do(func() {
		n := int32(0)
		for at := 0; at < len(s.text); at += lineBlock {
			s.nls = append(s.nls, n)
			n += int32(strings.Count(s.text[at:min(at+lineBlock, len(s.text))], "\n"))
		}
	})
	offset = min(offset, len(s.text))
	block := min(offset/lineBlock, len(s.nls)-1)
	line = 1
	if block >= 0 {
		line += int(s.nls[block]) + strings.Count(s.text[block*lineBlock:offset], "\n")
	}
	return line, strings.LastIndexByte(s.text[:offset], '\n') + 1
}

// at gives the place of a stretch of the text.
func (s *source) at(row int, from, to int, heading string) Place {
	line, begins := s.line(from)
	p := Place{File: s.name, Row: row, Line: line, Heading: heading}
	p.Column = 1 + utf8.RuneCountInString(s.text[begins:from])
	first := s.text[from:max(from, to)]
	if i := strings.IndexByte(first, '\n'); i >= 0 {
		first = strings.TrimRight(first[:i], "\r")
	}
	p.EndColumn = p.Column + utf8.RuneCountInString(first)
	return p
}
