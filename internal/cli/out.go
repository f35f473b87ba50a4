package cli

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"footing/internal/quantity"
)

// outFolder is where the reports go: the folder named, or a new one beside the
// records'. It is never inside the records' folder.
func outFolder(folder, named string, asOf quantity.Day) (out string, err error) {
	if named != "" {
		out, err = filepath.Abs(named)
	} else {
		out, err = beside(folder, asOf)
	}
	if err != nil {
		return "", err
	}
	if inside(out, folder) {
		return "", problem("the reports cannot go into the folder of records, which is only read", "name a place outside it with --out DIR")
	}
	return out, free(out)
}

// beside is a new folder beside the records', named after the day.
func beside(folder string, asOf quantity.Day) (string, error) {
	if filepath.Dir(folder) == folder {
		return "", problem("the records' folder has nothing beside it, so the reports need a place", "name one with --out DIR")
	}
	base := folder + "-audit-" + asOf.String()
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

// free refuses a folder that holds anything but an earlier audit's reports. Names
// that begin with a full stop, as file managers leave them, do not count.
func free(out string) error {
	entries, err := os.ReadDir(out)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		if _, err := os.Lstat(out); err == nil {
			return problem(out+" is a link that leads nowhere", "name a new folder with --out DIR")
		}
		return nil
	case err != nil:
		return problem(fmt.Sprintf("%s cannot take the reports: %v", out, reason(err)), "name a new folder with --out DIR")
	}
	reports := false
	for _, e := range entries {
		n := e.Name()
		ours := e.Type().IsRegular() && (n == auditFile || n == markdownFile || n == pageFile)
		if !ours && !strings.HasPrefix(n, ".") {
			return problem(fmt.Sprintf("%s already holds other files, such as %s", out, n), "name a new folder with --out DIR; nothing there was touched")
		}
		reports = reports || ours
	}
	if reports && !isAudit(filepath.Join(out, auditFile)) {
		return problem(out+" already holds a report, and no audit.json of this program that it was made from", "name a new folder with --out DIR; nothing there was touched")
	}
	return nil
}

// isAudit reports whether a file begins as an audit.json does.
func isAudit(path string) bool {
	f, err := os.Open(path)
	if err != nil {
		return false
	}
	defer f.Close()
	head, err := io.ReadAll(io.LimitReader(f, 1<<12))
	return err == nil && bytes.Contains(head, []byte(`"footing audit `))
}
