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
	var doc bytes.Buffer
	if err := result.Write(&doc, r); err != nil {
		return err
	}
	page, err := report.HTML(r)
	if err != nil {
		return err
	}
	files := []file{{auditFile, doc.Bytes()}, {markdownFile, report.Markdown(r)}, {pageFile, page}}
	return a.put(ctx, out, files, pageFile, func(w io.Writer, opt report.SummaryOptions) { report.Summary(w, r, opt) })
}

// deliverLookback writes the pages of a look-back, and prints it.
func (a *app) deliverLookback(ctx context.Context, out string, answer *result.Answer) error {
	var doc bytes.Buffer
	if err := result.WriteAnswer(&doc, answer); err != nil {
		return err
	}
	page, err := report.LookbackHTML(answer)
	if err != nil {
		return err
	}
	files := []file{{lookbackJSON, doc.Bytes()}, {lookbackMarkdown, report.LookbackMarkdown(answer)}, {lookbackPage, page}, {lookbackTable, report.LookbackCSV(answer)}}
	return a.put(ctx, out, files, lookbackPage, func(w io.Writer, opt report.SummaryOptions) { report.LookbackText(w, answer, opt) })
}

// deliverDraw writes the pages of a draw, and sums them up.
func (a *app) deliverDraw(ctx context.Context, out string, d *result.Draw) error {
	var doc bytes.Buffer
	if err := result.WriteDraw(&doc, d); err != nil {
		return err
	}
	page, err := report.DrawHTML(d)
	if err != nil {
		return err
	}
	files := []file{{drawJSON, doc.Bytes()}, {drawMarkdown, report.DrawMarkdown(d)}, {drawPage, page}}
	return a.put(ctx, out, files, drawPage, func(w io.Writer, opt report.SummaryOptions) { report.DrawText(w, d, opt) })
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
