package cli

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
)

// recordsFolder is the folder named, or a sentence about what stands there instead.
func recordsFolder(name string) (string, error) {
	name = unquoted(name, runtime.GOOS)
	if name == "" {
		return "", problem("the folder's name is empty", "footing audit FOLDER; a full stop means the folder that you are in")
	}
	folder, err := filepath.Abs(name)
	if err != nil {
		return "", err
	}
	info, err := os.Stat(folder)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		next := "check the name; or try footing demo, which makes a folder to look at"
		for _, c := range []string{"new", "proofread", "audit", "watch", "explain", "convert", "compare", "cycle", "lookback", "draw", "demo", "checks", "render", "version", "completion", "help"} {
			if near(name, c) {
				next = "did you mean the command " + c + "? see footing --help"
			}
		}
		return "", problem(fmt.Sprintf("there is no folder %s", name), next)
	case err != nil:
		return "", problem(fmt.Sprintf("%s cannot be read: %v", name, reason(err)), "check that you may open it")
	case !info.IsDir():
		if slices.Contains([]string{auditFile, lookbackJSON, drawJSON}, filepath.Base(name)) {
			return "", problem(name+" is what this program wrote, not a folder of records", "footing render "+name+" makes its pages again")
		}
		return "", problem(name+" is a file; audit reads the folder that your records are in", "footing audit "+filepath.Dir(name))
	}
	return folder, nil
}

// unquoted takes off the quotation mark that a folder's name ends in where Windows
// read "C:\my records\" as a name with the last one in it; no name there can hold one.
func unquoted(name, system string) string {
	if system == "windows" {
		return strings.TrimRight(name, `"`)
	}
	return name
}

// near reports whether two words differ by at most one letter put in, left out or changed.
func near(a, b string) bool {
	for len(a) > 0 && len(b) > 0 && a[0] == b[0] {
		a, b = a[1:], b[1:]
	}
	if a == "" || b == "" {
		return len(a)+len(b) <= 1
	}
	return a[1:] == b[1:] || a[1:] == b || a == b[1:]
}

// reason is the part of a file error that a person can use, without the path.
func reason(err error) error {
	var p *fs.PathError
	if errors.As(err, &p) {
		return p.Err
	}
	var l *os.LinkError
	if errors.As(err, &l) {
		return l.Err
	}
	return err
}

// openable reports what keeps a file from being read; judging by other rules than
// the ones that were named would be no audit of what was asked.
func openable(path string) error {
	info, err := os.Stat(path)
	if err != nil {
		return err
	}
	if !info.Mode().IsRegular() {
		return errors.New("it is no file")
	}
	f, err := os.Open(path)
	if err != nil {
		return err
	}
	return f.Close()
}
