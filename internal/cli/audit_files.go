package cli

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"footing/internal/report"
	"footing/internal/result"
)

// auditFiles are what an audit writes into out, all made from the result. It is an error
// where out holds a list of actions that somebody has filled in.
func auditFiles(out string, r *result.Result) ([]file, error) {
	if err := unfilled(out); err != nil {
		return nil, err
	}
	var doc bytes.Buffer
	if err := result.Write(&doc, r); err != nil {
		return nil, err
	}
	page, err := report.HTML(r)
	if err != nil {
		return nil, err
	}
	editor, err := report.FindingsSARIF(r)
	if err != nil {
		return nil, err
	}
	return []file{{auditFile, doc.Bytes()}, {markdownFile, report.Markdown(r)}, {pageFile, page},
		{actionsFile, report.ActionsCSV(r)}, {dueFile, report.DueICS(r)}, {editorFile, editor}}, nil
}

// unfilled refuses a folder whose actions.csv is not the one that its audit.json gives:
// somebody wrote into it, and it is never written over.
func unfilled(out string) error {
	at := filepath.Join(out, actionsFile)
	there, err := os.ReadFile(at)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil
	case err != nil:
		return problem(fmt.Sprintf("%s cannot be read, so it cannot be told whether somebody has filled it in: %v", at, reason(err)), "name a new folder with --out DIR; nothing there was touched")
	}
	if doc, err := os.ReadFile(filepath.Join(out, auditFile)); err == nil {
		if earlier, err := result.Read(bytes.NewReader(doc)); err == nil && bytes.Equal(there, report.ActionsCSV(earlier)) {
			return nil
		}
	}
	return problem(at+" is not as this program wrote it; it may have been filled in, and is not written over",
		"move it into the folder of records, where it is read (docs/guide.md, Files beside the report), or name a new folder with --out DIR; nothing there was touched")
}
