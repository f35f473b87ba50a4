package record

import (
	"slices"
	"strings"
	"sync"

	"go.yaml.in/yaml/v4"
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
	grid   *grid   // of a table in a workbook, whose text is made of its cells; else nil
	lanes  []*lane // with a column, to find the heading of a field
	shared []*lane // of fields with several names

	once   sync.Once
	blocks []block

	parted sync.Once
	docs   []span // of a YAML file
	mu     sync.Mutex
	parsed span // the document that was last parsed for a place
	root   *yaml.Node
}

// documents gives the YAML documents of the text.
func (s *source) documents() []span {
	s.parted.Do(func() { s.docs = slices.Collect(yamlDocuments(s.text)) })
	return s.docs
}

// document parses one document of a YAML file; nil if it cannot be parsed. It keeps the
// last, for which many places may be asked.
func (s *source) document(d span) *yaml.Node {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.root == nil || s.parsed != d {
		s.root, _ = parseYAML(s.text[d.from:d.to])
		s.parsed = d
	}
	return s.root
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

// block says where a stretch of the text begins: in which line, and after how many
// characters of it. With it a place costs the same wherever it is, also in a file of one line.
type block struct{ line, characters int32 }

const blockSize = 1 << 12

// position gives line and character of an offset, both from 1.
func (s *source) position(offset int) (line, character int) {
	s.once.Do(func() {
		at := block{line: 1}
		for from := 0; from <= len(s.text); from += blockSize {
			s.blocks = append(s.blocks, at)
			at = at.after(s.text[from:min(from+blockSize, len(s.text))])
		}
	})
	offset = min(offset, len(s.text))
	n := offset / blockSize
	at := s.blocks[n].after(s.text[n*blockSize : offset])
	return int(at.line), int(at.characters) + 1
}

// after moves on over a stretch of text, which may begin or end within a character.
func (b block) after(text string) block {
	if i := strings.LastIndexByte(text, '\n'); i >= 0 {
		b.line += int32(strings.Count(text, "\n"))
		b.characters, text = 0, text[i+1:]
	}
	b.characters += int32(characters(text))
	return b
}

// characters counts the bytes that begin a character of UTF-8.
func characters(text string) (n int) {
	for i := range len(text) {
		if text[i]&0xc0 != 0x80 {
			n++
		}
	}
	return n
}

// at gives the place of a stretch of the text.
func (s *source) at(row int, from, to int, heading string) Place {
	if s.grid != nil {
		return s.grid.placeAt(s, from)
	}
	p := Place{File: s.name, Row: row, Heading: heading}
	p.Line, p.Column = s.position(from)
	first := s.text[from:max(from, to)]
	if i := strings.IndexByte(first, '\n'); i >= 0 {
		first = strings.TrimRight(first[:i], "\r")
	}
	p.EndColumn = p.Column + characters(first)
	return p
}
