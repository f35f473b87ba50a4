package workbook

import (
	"archive/zip"
	"bytes"
	"errors"
	"hash/crc32"
	"io"
	"path"
	"strings"

	"golang.org/x/text/encoding/unicode"
	"golang.org/x/text/transform"
)

// Limits of what is read. The largest sheet in good faith, 100,000 rows of ten
// columns, unpacks to about 40 MiB.
const (
	mostEntries = 10_000
	mostBytes   = 512 << 20 // unpacked, of all parts that are read together
	mostSheets  = 1_000
)

// pack is the zip file that a workbook is. Only parts that are asked for are unpacked.
type pack struct {
	entries map[string]*zip.File // by partName; nil where two entries have one name
	left    int64                // bytes that may still be unpacked
	checked map[string]bool
}

// partName is the name of a part as they are compared: without regard to case
// (ECMA-376 Part 2, names of parts).
func partName(s string) string {
	return strings.ToLower(strings.TrimPrefix(path.Clean(strings.ReplaceAll(s, `\`, "/")), "/"))
}

// openPack looks at the list of entries only.
func openPack(data []byte) (*pack, error) {
	if err := otherKind(data); err != nil {
		return nil, err
	}
	z, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return nil, damaged("ends too early or was not copied whole")
	}
	if len(z.File) > mostEntries {
		return nil, tooLarge("holds %d parts, more than %d", len(z.File), mostEntries)
	}
	p := &pack{entries: make(map[string]*zip.File, len(z.File)), left: mostBytes, checked: map[string]bool{}}
	for _, f := range z.File {
		name := partName(f.Name)
		if _, twice := p.entries[name]; twice {
			f = nil
		}
		p.entries[name] = f
	}
	return p, p.openDocument()
}

func (p *pack) has(part string) bool {
	_, ok := p.entries[partName(part)]
	return ok
}

// check unpacks a part once, keeps nothing of it but what see makes of it, and tells
// whether it is what the list of entries says.
func (p *pack) check(part string, see io.Writer) error {
	if p.checked[partName(part)] {
		return nil
	}
	r, err := p.raw(part)
	if err != nil {
		return err
	}
	f, sum := p.entries[partName(part)], crc32.NewIEEE()
	if f.UncompressedSize64 > uint64(p.left) {
		return tooLarge("unpacks to more than %d MiB", mostBytes>>20)
	}
	n, err := io.Copy(io.MultiWriter(sum, see), io.LimitReader(r, int64(f.UncompressedSize64)+1))
	if err != nil || uint64(n) != f.UncompressedSize64 || sum.Sum32() != f.CRC32 {
		return damaged("holds the part %s, which is not what the list of its parts says", part)
	}
	p.left -= n
	p.checked[partName(part)] = true
	return nil
}

func (p *pack) raw(part string) (io.Reader, error) {
	f, ok := p.entries[partName(part)]
	switch {
	case !ok:
		return nil, damaged("lacks its part %s", part)
	case f == nil:
		return nil, damaged("holds its part %s twice", part)
	case f.Flags&1 != 0:
		return nil, protected
	case f.Method != zip.Store && f.Method != zip.Deflate:
		return nil, damaged("is packed in a way that spreadsheet programs do not use")
	}
	r, err := f.Open()
	if err != nil {
		return nil, damaged("cannot be unpacked at its part %s", part)
	}
	return r, nil
}

// reader unpacks a part that was checked, as UTF-8.
func (p *pack) reader(part string) (io.Reader, error) {
	if err := p.check(part, io.Discard); err != nil {
		return nil, err
	}
	r, err := p.raw(part)
	if err != nil {
		return nil, err
	}
	var start [3]byte
	n, err := io.ReadFull(r, start[:])
	if err != nil && !errors.Is(err, io.EOF) && !errors.Is(err, io.ErrUnexpectedEOF) {
		return nil, damaged("cannot be unpacked at its part %s", part)
	}
	all := io.MultiReader(bytes.NewReader(start[:n]), r)
	order := unicode.LittleEndian
	switch {
	case bytes.HasPrefix(start[:], []byte("\xEF\xBB\xBF")):
		return r, nil
	case bytes.HasPrefix(start[:], []byte("\xFE\xFF")), bytes.HasPrefix(start[:], []byte("\x00<")):
		order = unicode.BigEndian
	case bytes.HasPrefix(start[:], []byte("\xFF\xFE")), bytes.HasPrefix(start[:], []byte("<\x00")):
	default:
		return all, nil
	}
	return transform.NewReader(all, unicode.UTF16(order, unicode.UseBOM).NewDecoder()), nil
}

// scan opens a part for reading its XML.
func (p *pack) scan(part string) (*scanner, error) {
	r, err := p.reader(part)
	if err != nil {
		return nil, err
	}
	return newScanner(part, r), nil
}
