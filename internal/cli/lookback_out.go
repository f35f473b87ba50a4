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

	"golang.org/x/term"

	"footing/internal/quantity"
	"footing/internal/report"
)

// Files of a look-back.
const (
	lookbackJSON     = "lookback.json"
	lookbackMarkdown = "lookback.md"
	lookbackPage     = "lookback.html"
	lookbackTable    = "lookback.csv"
)

// lookbackFolder is where a look-back goes: the folder named, which is new or holds an
// earlier look-back alone, or a new one beside the records'. It is never inside these.
func lookbackFolder(folder, named string, asOf quantity.Day) (out string, err error) {
	if named == "" {
		return lookbackBeside(folder, asOf)
	}
	if out, err = filepath.Abs(named); err != nil {
		return "", err
	}
	if inside(out, folder) {
		return "", problem("the look-back cannot go into the folder of records, which is only read", "name a place outside it with --out DIR")
	}
	return out, lookbackFree(out)
}

func lookbackBeside(folder string, asOf quantity.Day) (string, error) {
	if filepath.Dir(folder) == folder {
		return "", problem("the records' folder has nothing beside it, so the look-back needs a place", "name one with --out DIR")
	}
	base := folder + "-lookback-" + asOf.String()
	for n, out := 1, base; ; out = fmt.Sprintf("%s-%d", base, n) {
		if _, err := os.Lstat(out); errors.Is(err, fs.ErrNotExist) {
			return out, nil
		} else if err != nil {
			return "", problem(fmt.Sprintf("%s cannot be looked at: %v", out, reason(err)), "name another place with --out DIR")
		}
		n++
	}
}

// lookbackFree refuses a folder that holds anything but an earlier look-back. Names
// that begin with a full stop do not count.
func lookbackFree(out string) error {
	entries, err := os.ReadDir(out)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		if _, err := os.Lstat(out); err == nil {
			return problem(out+" is a link that leads nowhere", "name a new folder with --out DIR")
		}
		return nil
	case err != nil:
		return problem(fmt.Sprintf("%s cannot take the look-back: %v", out, reason(err)), "name a new folder with --out DIR")
	}
	earlier := false
	for _, e := range entries {
		ours := e.Type().IsRegular() && slices.Contains([]string{lookbackJSON, lookbackMarkdown, lookbackPage, lookbackTable}, e.Name())
		if !ours && !strings.HasPrefix(e.Name(), ".") {
			return problem(fmt.Sprintf("%s already holds other files, such as %s", out, e.Name()), "name a new folder with --out DIR; nothing there was touched")
		}
		earlier = earlier || ours
	}
	if earlier && !isLookback(filepath.Join(out, lookbackJSON)) {
		return problem(out+" already holds a look-back, and no lookback.json of this program that it was made from", "name a new folder with --out DIR; nothing there was touched")
	}
	return nil
}

// isLookback reports whether a file begins as a lookback.json does.
func isLookback(path string) bool {
	f, err := os.Open(path)
	if err != nil {
		return false
	}
	defer f.Close()
	head, err := io.ReadAll(io.LimitReader(f, 1<<12))
	return err == nil && bytes.Contains(head, []byte(`"footing look-back `))
}

// screenOptions are how to print for where standard output goes: 80 columns, or the
// terminal's if it is narrower, in colour only on a terminal and never with NO_COLOR.
func (a *app) screenOptions(page string) report.SummaryOptions {
	opt := report.SummaryOptions{Width: screen, ReportPath: page}
	if f, ok := a.out.Writer.(*os.File); ok && term.IsTerminal(int(f.Fd())) {
		opt.Color = os.Getenv("NO_COLOR") == "" && os.Getenv("TERM") != "dumb"
		if w, _, err := term.GetSize(int(f.Fd())); err == nil && w < opt.Width && w > 0 {
			opt.Width = w
		}
	}
	return opt
}
