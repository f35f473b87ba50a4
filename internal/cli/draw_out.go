package cli

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"footing/internal/quantity"
	"footing/internal/report"
	"footing/internal/result"
)

// Files of a draw.
const (
	drawJSON     = "draw.json"
	drawMarkdown = "draw.md"
	drawPage     = "draw.html"
)

// deliverDraw writes the pages, all or none, and sums them up.
func (a *app) deliverDraw(ctx context.Context, out string, d *result.Draw, seeded bool) error {
	var doc bytes.Buffer
	if err := result.WriteDraw(&doc, d); err != nil {
		return err
	}
	page, err := report.DrawHTML(d)
	if err != nil {
		return err
	}
	if ctx.Err() != nil {
		return ctx.Err()
	}
	files := []file{{drawJSON, doc.Bytes()}, {drawMarkdown, report.DrawMarkdown(d)}, {drawPage, page}}
	if err := writeFolder(ctx, out, files); err != nil {
		return err
	}
	a.delivered = true
	var b bytes.Buffer
	report.DrawText(&b, d, a.screenOptions(filepath.Join(out, drawPage)))
	if !seeded {
		line(&b, fmt.Sprintf("No --seed was given, so the draw started from the day as a number, %d.", d.Trail.Seed))
	}
	_, _ = io.Copy(a.out, &b)
	return nil
}

// drawFolder is where the pages go: the folder named, which is new or holds an
// earlier draw alone, or a new one beside the records'. It is never inside these.
func drawFolder(folder, named string, asOf quantity.Day) (string, error) {
	if named == "" {
		return drawBeside(folder, asOf)
	}
	out, err := filepath.Abs(named)
	if err != nil {
		return "", err
	}
	if inside(out, folder) {
		return "", problem("the pages cannot go into the folder of records, which is only read", "name a place outside it with --out DIR")
	}
	return out, drawFree(out)
}

func drawBeside(folder string, asOf quantity.Day) (string, error) {
	if filepath.Dir(folder) == folder {
		return "", problem("the records' folder has nothing beside it, so the pages need a place", "name one with --out DIR")
	}
	base := folder + "-draw-" + asOf.String()
	for n, out := 1, base; ; out = fmt.Sprintf("%s-%d", base, n) {
		if _, err := os.Lstat(out); errors.Is(err, fs.ErrNotExist) {
			return out, nil
		} else if err != nil {
			return "", problem(fmt.Sprintf("%s cannot be looked at: %v", out, reason(err)), "name another place with --out DIR")
		}
		n++
	}
}

// drawFree refuses a folder that holds anything but an earlier draw. Names that begin
// with a full stop do not count.
func drawFree(out string) error {
	entries, err := os.ReadDir(out)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		if _, err := os.Lstat(out); err == nil {
			return problem(out+" is a link that leads nowhere", "name a new folder with --out DIR")
		}
		return nil
	case err != nil:
		return problem(fmt.Sprintf("%s cannot take the pages: %v", out, reason(err)), "name a new folder with --out DIR")
	}
	earlier := false
	for _, e := range entries {
		ours := e.Type().IsRegular() && slices.Contains([]string{drawJSON, drawMarkdown, drawPage}, e.Name())
		if !ours && !strings.HasPrefix(e.Name(), ".") {
			return problem(fmt.Sprintf("%s already holds other files, such as %s", out, e.Name()), "name a new folder with --out DIR; nothing there was touched")
		}
		earlier = earlier || ours
	}
	if earlier && !isDraw(filepath.Join(out, drawJSON)) {
		return problem(out+" already holds pages of a draw, and no draw.json of this program that they were made from", "name a new folder with --out DIR; nothing there was touched")
	}
	return nil
}

// isDraw reports whether a file begins as a draw.json does.
func isDraw(path string) bool {
	f, err := os.Open(path)
	if err != nil {
		return false
	}
	defer f.Close()
	head, err := io.ReadAll(io.LimitReader(f, 1<<12))
	return err == nil && bytes.Contains(head, []byte(`"`+result.DrawFormat+`"`))
}
