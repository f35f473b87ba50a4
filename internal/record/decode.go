package record

import (
	"bytes"
	"unicode/utf8"
	"unsafe"

	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"
)

// Names of the encodings as File.Encoding gives them.
const (
	encodingUTF8    = "UTF-8"
	encodingUTF16   = "UTF-16"
	encodingWindows = "Windows-1252"

	encodingWorkbook = "workbook" // its text is made from cells
)

// decode gives the text of a file as valid UTF-8 without a byte order mark, the name of
// the encoding found, and how many bytes could not be read and stand as U+FFFD. Text
// without one line feed has its carriage returns taken for line ends. The error says
// why the bytes are no text. The bytes must not change afterwards: the text may share them.
func decode(b []byte) (text, encoding string, damaged int, err error) {
	encoding = encodingUTF8
	switch {
	case bytes.HasPrefix(b, []byte("\xef\xbb\xbf")):
		b = b[3:]
	case bytes.HasPrefix(b, []byte("\xff\xfe")), bytes.HasPrefix(b, []byte("\xfe\xff")):
		encoding = encodingUTF16
		b, err = unicode.UTF16(unicode.LittleEndian, unicode.UseBOM).NewDecoder().Bytes(b)
		if err != nil {
			return "", encoding, 0, errDamaged
		}
	}
	if binary := looksBinary(b); binary != nil {
		return "", encoding, 0, binary
	}
	if !utf8.Valid(b) {
		var good int
		if good, damaged = countRunes(b); good > damaged { // UTF-8, with a few bytes broken
			b = bytes.ToValidUTF8(b, []byte("\ufffd"))
		} else {
			encoding, damaged = encodingWindows, 0
			if b, err = charmap.Windows1252.NewDecoder().Bytes(b); err != nil {
				return "", encoding, 0, errDamaged
			}
		}
	}
	if bytes.IndexByte(b, '\n') < 0 && bytes.IndexByte(b, '\r') >= 0 {
		b = bytes.ReplaceAll(b, []byte{'\r'}, []byte{'\n'})
	}
	return unsafe.String(unsafe.SliceData(b), len(b)), encoding, damaged, nil
}

// saveAsText is what to do with a file whose characters cannot be read.
const saveAsText = "open it in the program that made it, and save it again; from a spreadsheet, choose CSV UTF-8"

var errDamaged = refuse("no-text", "its text is damaged").do(saveAsText)

// countRunes counts the characters of several bytes that are valid UTF-8, and the
// stretches of bytes that are not.
func countRunes(b []byte) (good, broken int) {
	torn := false
	for len(b) > 0 {
		r, size := utf8.DecodeRune(b)
		switch {
		case r == utf8.RuneError && size == 1:
			if !torn {
				broken++
			}
			torn = true
		default:
			torn = false
			if size > 1 {
				good++
			}
		}
		b = b[size:]
	}
	return good, broken
}

// looksBinary names what the bytes are when they are no text.
func looksBinary(b []byte) *refusal {
	for _, m := range []struct{ first, words, todo string }{
		{"PK\x03\x04", "it is a workbook or a zip archive under another name", "save the sheet as csv"},
		{"\xd0\xcf\x11\xe0", "it is an old workbook under another name", "save the sheet as csv"},
		{"%PDF-", "it is a PDF under another name", "type its rows into a csv"},
	} {
		if bytes.HasPrefix(b, []byte(m.first)) {
			return refuse("no-text", m.words).do(m.todo)
		}
	}
	noText := refuse("no-text", "it is no text: it may be a picture, a program's own file, or damaged").do(saveAsText)
	if bytes.IndexByte(b, 0) >= 0 {
		return noText
	}
	head := b[:min(len(b), 4096)]
	controls := 0
	for _, c := range head {
		if c < ' ' && c != '\t' && c != '\n' && c != '\r' && c != '\f' && c != '\v' {
			controls++
		}
	}
	if controls*20 > len(head) {
		return noText
	}
	return nil
}
