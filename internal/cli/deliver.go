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

// Files of an audit.
const (
	auditFile    = "audit.json"
	markdownFile = "report.md"
	pageFile     = "report.html"
	actionsFile  = "actions.csv"
	dueFile      = "due.ics"
	editorFile   = "findings.sarif"
)

// Files of a look-back.
const (
	lookbackJSON     = "lookback.json"
	lookbackMarkdown = "lookback.md"
	lookbackPage     = "lookback.html"
	lookbackTable    = "lookback.csv"
)

// Files of a draw.
const (
	drawJSON     = "draw.json"
	drawMarkdown = "draw.md"
	drawPage     = "draw.html"
)

// deliver writes the reports of an audit, and sums them up.
func (a *app) deliver(ctx context.Context, out string, r *result.Result) error {
	files, err := auditFiles(out, r)
	if err != nil {
		return err
	}
	return a.put(ctx, out, files, pageFile, func(w io.Writer, opt report.SummaryOptions) { report.Summary(w, r, opt) })
}

// deliverLookback writes the pages of a look-back, and prints it.
func (a *app) deliverLookback(ctx context.Context, out string, answer *result.Answer) error {
	files, err := lookbackFiles(answer)
	if err != nil {
		return err
	}
	return a.put(ctx, out, files, lookbackPage, func(w io.Writer, opt report.SummaryOptions) { report.LookbackText(w, answer, opt) })
}

// lookbackFiles are what a look-back writes.
func lookbackFiles(answer *result.Answer) ([]file, error) {
	var doc bytes.Buffer
	if err := result.WriteAnswer(&doc, answer); err != nil {
		return nil, err
	}
	page, err := report.LookbackHTML(answer)
	if err != nil {
		return nil, err
	}
	return []file{{lookbackJSON, doc.Bytes()}, {lookbackMarkdown, report.LookbackMarkdown(answer)}, {lookbackPage, page}, {lookbackTable, report.LookbackCSV(answer)}}, nil
}

// deliverDraw writes the pages of a draw, and sums them up.
func (a *app) deliverDraw(ctx context.Context, out string, d *result.Draw) error {
	files, err := drawFiles(d)
	if err != nil {
		return err
	}
	return a.put(ctx, out, files, drawPage, func(w io.Writer, opt report.SummaryOptions) { report.DrawText(w, d, opt) })
}

// drawFiles are what a draw writes.
func drawFiles(d *result.Draw) ([]file, error) {
	var doc bytes.Buffer
	if err := result.WriteDraw(&doc, d); err != nil {
		return nil, err
	}
	page, err := report.DrawHTML(d)
	if err != nil {
		return nil, err
	}
	return []file{{drawJSON, doc.Bytes()}, {drawMarkdown, report.DrawMarkdown(d)}, {drawPage, page}}, nil
}

// put writes the files, all or none, then prints what they come to.
func (a *app) put(ctx context.Context, out string, files []file, page string, print func(io.Writer, report.SummaryOptions)) error {
	if ctx.Err() != nil {
		return ctx.Err()
	}
	if err := writeFolder(ctx, out, files); err != nil {
		return err
	}
	a.delivered = true
	var b bytes.Buffer
	print(&b, a.screenOptions(filepath.Join(out, page)))
	_, _ = io.Copy(a.out, &b)
	return nil
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
