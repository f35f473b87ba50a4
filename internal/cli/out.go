package cli

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"footing/internal/quantity"
)

// output is what a command writes: a document, and what is made from it.
type output struct {
	name  string   // of the folder beside the records': audit makes records-audit-2026-11-24
	what  string   // in a sentence, for several: the reports
	lead  string   // with which the document's format begins
	files []string // the document first
}

var (
	auditOutput    = output{"audit", "the reports", "footing audit ", []string{auditFile, markdownFile, pageFile, actionsFile, dueFile, editorFile}}
	lookbackOutput = output{"lookback", "the pages of the look-back", "footing look-back ", []string{lookbackJSON, lookbackMarkdown, lookbackPage, lookbackTable}}
	drawOutput     = output{"draw", "the pages", "footing draw ", []string{drawJSON, drawMarkdown, drawPage}}
)

// folder is where it goes: the folder named, which is new or holds an earlier one
// alone, or a new one beside the records'. It is never inside the records' folder.
func (o output) folder(records, named string, asOf quantity.Day) (out string, err error) {
	if named != "" {
		out, err = filepath.Abs(named)
	} else {
		out, err = o.beside(records, asOf)
	}
	if err != nil {
		return "", err
	}
	if inside(out, records) {
		return "", problem(o.what+" cannot go into the folder of records, which is only read", "name a place outside it with --out DIR")
	}
	return out, o.free(out)
}

// beside is a new folder beside the records', named after the day.
func (o output) beside(records string, asOf quantity.Day) (string, error) {
	if filepath.Dir(records) == records {
		return "", problem("the records' folder has nothing beside it, so "+o.what+" need a place", "name one with --out DIR")
	}
	base := records + "-" + o.name + "-" + asOf.String()
	for n, out := 1, base; ; out = fmt.Sprintf("%s-%d", base, n) {
		if _, err := os.Lstat(out); errors.Is(err, fs.ErrNotExist) {
			return out, nil
		} else if err != nil {
			return "", problem(fmt.Sprintf("%s cannot be looked at: %v", out, reason(err)), "name another place with --out DIR")
		}
		n++
	}
}

// inside reports whether path lies in folder, or is it, also by way of links and
// of letters that the disk takes for the same.
func inside(path, folder string) bool {
	top, err := os.Stat(folder)
	if err != nil {
		return false
	}
	for p := resolved(path); ; p = filepath.Dir(p) {
		if at, err := os.Stat(p); err == nil && os.SameFile(at, top) {
			return true
		}
		if filepath.Dir(p) == p {
			return false
		}
	}
}

// resolved is a path without links, as far as it exists.
func resolved(path string) string {
	for p, rest := path, ""; ; p, rest = filepath.Dir(p), filepath.Join(filepath.Base(p), rest) {
		if r, err := filepath.EvalSymlinks(p); err == nil {
			return filepath.Join(r, rest)
		}
		if filepath.Dir(p) == p {
			return path
		}
	}
}

// free refuses a folder that holds anything but an earlier output of the same command.
// Names that begin with a full stop, as file managers leave them, do not count.
func (o output) free(out string) error {
	entries, err := os.ReadDir(out)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		if _, err := os.Lstat(out); err == nil {
			return problem(out+" is a link that leads nowhere", "name a new folder with --out DIR")
		}
		return nil
	case err != nil:
		return problem(fmt.Sprintf("%s cannot take %s: %v", out, o.what, reason(err)), "name a new folder with --out DIR")
	}
	earlier := ""
	for _, e := range entries {
		n := e.Name()
		ours := e.Type().IsRegular() && slices.Contains(o.files, n)
		if !ours && !strings.HasPrefix(n, ".") {
			return problem(fmt.Sprintf("%s already holds other files, such as %s", out, n), "name a new folder with --out DIR; nothing there was touched")
		}
		if ours {
			earlier = n
		}
	}
	if earlier != "" && !o.wrote(filepath.Join(out, o.files[0])) {
		return problem(fmt.Sprintf("%s already holds a file %s, and no %s of this program that it was made from", out, earlier, o.files[0]), "name a new folder with --out DIR; nothing there was touched")
	}
	if slices.Contains(o.files, actionsFile) {
		return unfilled(out)
	}
	return nil
}

// wrote reports whether a file begins as a document of it does.
func (o output) wrote(path string) bool {
	f, err := os.Open(path)
	if err != nil {
		return false
	}
	defer f.Close()
	head, err := io.ReadAll(io.LimitReader(f, headLong))
	return err == nil && o.begins(head)
}

// headLong is how many bytes of a document hold its format.
const headLong = 1 << 12

// begins reports whether the bytes of a file begin as a document of it does.
func (o output) begins(data []byte) bool {
	if strings.HasPrefix(o.lead, "#") { // a Markdown text, which begins with its title
		return bytes.HasPrefix(data, []byte(o.lead))
	}
	return bytes.Contains(data[:min(len(data), headLong)], []byte(`"`+o.lead))
}
