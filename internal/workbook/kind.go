package workbook

import (
	"bytes"
	"io"
	"strings"
)

var protected = &Refusal{Cause: "protected", Says: "is protected with a password", Todo: "open it in the spreadsheet program and save a copy without one"}

// otherKind refuses what is no zip file, in words about what it is.
func otherKind(data []byte) error {
	const asWorkbook = "open it in the spreadsheet program and save it as a workbook (.xlsx)"
	switch {
	case len(data) == 0:
		return &Refusal{Cause: "empty", Says: "is empty", Todo: "copy it again, or take an earlier copy"}
	case bytes.HasPrefix(data, []byte("\xD0\xCF\x11\xE0\xA1\xB1\x1A\xE1")):
		// A compound file: the old format, or the wrapping of an encrypted workbook,
		// which is a stream of that name (MS-OFFCRYPTO).
		if bytes.Contains(data, []byte(wide("EncryptedPackage"))) {
			return protected
		}
		return &Refusal{Cause: "old", Says: "is a workbook of the old kind (.xls)", Todo: asWorkbook}
	case bytes.HasPrefix(data, []byte("PK\x03\x04")):
		return nil
	case bytes.HasPrefix(data, []byte("PK")):
		return damaged("holds no parts that can be read")
	}
	return &Refusal{Cause: "another kind", Says: "is not a workbook, whatever its name says",
		Todo: "open it in the spreadsheet program and save it as a workbook (.xlsx); if it is a list with commas, name it .csv"}
}

// wide is s in UTF-16, low byte first.
func wide(s string) string {
	var b strings.Builder
	for i := range len(s) {
		b.WriteByte(s[i])
		b.WriteByte(0)
	}
	return b.String()
}

// openDocument refuses OpenDocument files, which tell what they are in a first entry
// (OpenDocument 1.2 Part 3, 3.3).
func (p *pack) openDocument() error {
	if !p.has("mimetype") || p.has("_rels/.rels") {
		return nil
	}
	r, err := p.raw("mimetype")
	if err != nil {
		return err
	}
	b, _ := io.ReadAll(io.LimitReader(r, 128))
	switch s := string(b); {
	case strings.HasPrefix(s, "application/vnd.oasis.opendocument.spreadsheet"):
		return &Refusal{Cause: "OpenDocument", Says: "is an OpenDocument spreadsheet (.ods), whatever its name says",
			Todo: "open it in the spreadsheet program and save it as a workbook (.xlsx)"}
	case strings.HasPrefix(s, "application/vnd.oasis.opendocument"):
		return &Refusal{Cause: "another kind", Says: "is an OpenDocument file, but no spreadsheet", Todo: "save the records as a workbook (.xlsx) or as csv"}
	}
	return nil
}
