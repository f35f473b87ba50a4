package trace

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"hash"
	"io"
	"unicode/utf8"

	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"
	"golang.org/x/text/transform"
)

// source hands on the bytes of a file as UTF-8 or Windows-1252, and sums them up.
type source struct {
	from  io.Reader
	sum   hash.Hash
	bytes int64
}

// Read is io.Reader's.
func (s *source) Read(p []byte) (int, error) {
	n, err := s.from.Read(p)
	s.sum.Write(p[:n])
	s.bytes += int64(n)
	return n, err
}

func (s *source) hex() string { return hex.EncodeToString(s.sum.Sum(nil)) }

func newSource(r io.Reader) *source { return &source{from: r, sum: sha256.New()} }

// fill reads until p is full or nothing more comes, so that what is found never
// depends on the portions in which a file arrives. End of file is no error here.
func fill(r io.Reader, p []byte) (n int, end bool, err error) {
	idle := 0
	for n < len(p) {
		m, err := r.Read(p[n:])
		n += m
		switch {
		case err == io.EOF:
			return n, true, nil
		case err != nil:
			return n, true, err
		case m > 0:
			idle = 0
		default:
			if idle++; idle == 100 {
				return n, true, io.ErrNoProgress
			}
		}
	}
	return n, false, nil
}

// wide returns a reader of UTF-8 where the file is UTF-16, else nil: by its mark, or,
// without one, by every other byte of the first four being nought.
func wide(start []byte, rest io.Reader) io.Reader {
	if len(start) < 4 {
		return nil
	}
	order := unicode.LittleEndian
	switch {
	case start[0] == 0xff && start[1] == 0xfe:
	case start[0] == 0xfe && start[1] == 0xff, start[0] == 0 && start[1] != 0 && start[2] == 0 && start[3] != 0:
		order = unicode.BigEndian
	case start[0] != 0 && start[1] == 0 && start[2] != 0 && start[3] == 0:
	default:
		return nil
	}
	all := io.MultiReader(bytes.NewReader(bytes.Clone(start)), rest)
	return transform.NewReader(all, unicode.UTF16(order, unicode.UseBOM).NewDecoder())
}

// kinds are what files begin with that are no text.
var kinds = []struct{ start, name string }{
	{"%PDF", "a PDF"},
	{"\x89PNG", "a picture (PNG)"}, {"\xff\xd8\xff", "a picture (JPEG)"}, {"GIF8", "a picture (GIF)"}, {"BM", "a picture (bitmap)"},
	{"II*\x00", "a picture (TIFF)"}, {"MM\x00*", "a picture (TIFF)"},
	{"PK\x03\x04", "a packed file or a spreadsheet (ZIP, XLSX, ODS)"}, {"\x1f\x8b", "a packed file (GZ)"},
	{"\xd0\xcf\x11\xe0", "an old spreadsheet or document (XLS, DOC)"}, {"SQLite format 3", "a database"},
	{"{\\rtf", "a word processor's document (RTF)"}, {"<!DOCTYPE", "a web page"}, {"<html", "a web page"}, {"<?xml", "an XML file"},
}

// noText says what a file seems to be that is no text, "" for a text. A bitmap needs
// more than its two letters.
func noText(start []byte) string {
	nought := bytes.Count(start, []byte{0})*10 > len(start) // a few are left by a loss of power
	for _, k := range kinds {
		if bytes.HasPrefix(start, []byte(k.start)) && (k.start != "BM" || nought) {
			return k.name
		}
	}
	if nought {
		return "a file in a maker's own form, no text"
	}
	return ""
}

// mark is what some programs write before UTF-8.
var mark = []byte("\xef\xbb\xbf")

// text returns a piece of a line: as it is where it is UTF-8, else as Windows-1252.
func text(b []byte) string {
	if utf8.Valid(b) {
		return string(b)
	}
	d, err := charmap.Windows1252.NewDecoder().Bytes(b)
	if err != nil {
		return string(bytes.ToValidUTF8(b, []byte("\ufffd")))
	}
	return string(d)
}
