package record

import (
	"bufio"
	"fmt"
	"os"
	"path"
)

// partMost is the size at which a file is ended and another begun, so that each can be
// read again; a variable for the tests.
var partMost = int64(48 << 20)

// outFile is a file that is written.
type outFile struct {
	*bufio.Writer
	file *os.File
	n    int64
}

func (w *outFile) Write(b []byte) (int, error) {
	n, err := w.Writer.Write(b)
	w.n += int64(n)
	return n, err
}

func (w *outFile) text(s string) error {
	n, err := w.WriteString(s)
	w.n += int64(n)
	return err
}

// open makes a file within the folder, and the folders above it.
func (x *exporter) open(name string) (*outFile, error) {
	if dir := path.Dir(name); dir != "." {
		if err := x.root.MkdirAll(dir, 0o755); err != nil {
			return nil, err
		}
	}
	f, err := x.root.OpenFile(name, os.O_CREATE|os.O_WRONLY|os.O_EXCL, 0o644)
	if err != nil {
		return nil, err
	}
	return &outFile{Writer: bufio.NewWriterSize(f, 1<<16), file: f}, nil
}

func (w *outFile) close(failed error) error {
	if failed == nil {
		failed = w.Flush()
	}
	if failed == nil {
		failed = w.file.Sync()
	}
	if err := w.file.Close(); failed == nil {
		failed = err
	}
	return failed
}

// create writes one file.
func (x *exporter) create(name string, write func(w *outFile) error) error {
	w, err := x.open(name)
	if err != nil {
		return err
	}
	return w.close(write(w))
}

// encoder writes rows in one format.
type encoder interface {
	begin(w *outFile) error
	row(w *outFile, first bool, row outRow) error
	end(w *outFile, empty bool) error
}

// parts writes the rows of a kind into one file, and where it grows too large into more.
type parts struct {
	x     *exporter
	kind  *ExportedKind
	blank []member // headings of no row, which the first row is given
	enc   encoder
	w     *outFile
	rows  int // in the file at hand
}

func (x *exporter) parts(k *ExportedKind, cs *columns) *parts {
	p := &parts{x: x, kind: k}
	switch x.format {
	case "csv":
		p.enc = &csvEncoder{cs: cs}
	case "yaml":
		p.enc = yamlEncoder{}
	case "jsonl":
		p.enc = linesEncoder{}
	default:
		p.enc = jsonEncoder{}
	}
	if !x.cells() {
		for _, o := range cs.list {
			if !o.used && !o.clock {
				p.blank = append(p.blank, member{col: o.col, name: o.name, value: value{shape: isNull}})
			}
		}
	}
	return p
}

func (p *parts) row(row outRow) error {
	if p.w != nil && p.w.n >= partMost {
		if err := p.end(); err != nil {
			return err
		}
	}
	if p.w == nil {
		if err := p.begin(); err != nil {
			return err
		}
	}
	if p.blank != nil {
		row.members = append(row.members[:len(row.members):len(row.members)], p.blank...)
		p.blank = nil
	}
	p.rows++
	return p.enc.row(p.w, p.rows == 1, row)
}

// name is that of the file at hand.
func (p *parts) name() string {
	return p.kind.Files[len(p.kind.Files)-1]
}

func (p *parts) begin() (err error) {
	name := p.kind.Kind + "." + p.x.format
	if n := len(p.kind.Files); n > 0 {
		name = fmt.Sprintf("%s/%03d.%s", p.kind.Kind, n+1, p.x.format)
	}
	name = p.x.free(name)
	if p.w, err = p.x.open(name); err != nil {
		return err
	}
	p.kind.Files = append(p.kind.Files, name)
	p.rows = 0
	return p.enc.begin(p.w)
}

func (p *parts) end() error {
	w := p.w
	p.w = nil
	return w.close(p.enc.end(w, p.rows == 0))
}

// close ends the last file; a kind without rows gets a file that says so.
func (p *parts) close() error {
	if p.w == nil {
		if err := p.begin(); err != nil {
			return err
		}
	}
	return p.end()
}

// abandon lets go of a file that is not to be ended.
func (p *parts) abandon() {
	if p.w != nil {
		p.w.file.Close()
	}
}
