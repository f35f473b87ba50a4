package cli

import (
	"bytes"
	"context"
	"io"
	"os"
	"path/filepath"

	"golang.org/x/term"

	"footing/internal/report"
	"footing/internal/result"
)

const (
	auditFile    = "audit.json"
	markdownFile = "report.md"
	pageFile     = "report.html"
)

// deliver writes the reports, all or none, and sums them up on the terminal.
func (a *app) deliver(ctx context.Context, out string, r *result.Result) error {
	var doc bytes.Buffer
	if err := result.Write(&doc, r); err != nil {
		return err
	}
	markdown := report.Markdown(r)
	page, err := report.HTML(r)
	if err != nil {
		return err
	}
	if ctx.Err() != nil {
		return ctx.Err()
	}
	files := []file{{auditFile, doc.Bytes()}, {markdownFile, markdown}, {pageFile, page}}
	if err := writeFolder(ctx, out, files); err != nil {
		return err
	}
	a.delivered = true
	a.sum(r, filepath.Join(out, pageFile))
	return nil
}

// sum prints the summary: 80 columns, or the terminal's if it is narrower, in
// colour only on a terminal and never with NO_COLOR.
func (a *app) sum(r *result.Result, page string) {
	opt := report.SummaryOptions{Width: 80, ReportPath: page}
	if f, ok := a.out.Writer.(*os.File); ok && term.IsTerminal(int(f.Fd())) {
		opt.Color = os.Getenv("NO_COLOR") == "" && os.Getenv("TERM") != "dumb"
		if w, _, err := term.GetSize(int(f.Fd())); err == nil && w < opt.Width && w > 0 {
			opt.Width = w
		}
	}
	var b bytes.Buffer
	report.Summary(&b, r, opt)
	_, _ = io.Copy(a.out, &b)
}
