package report

import (
	"fmt"

	"footing/internal/result"
)

// mostUnread is how many files or columns the first page names; the rest are counted.
const mostUnread = 3

// unread names the files that hold no record by their name or form, and the columns
// that are not known: either may be a slip by which something typed went unseen.
func unread(r *result.Result) (lines []string) {
	var files []string
	for _, n := range r.NotRead {
		files = append(files, fmt.Sprintf("%s (%s)", plain(n.File), plain(n.Why)))
	}
	if len(files) > 0 {
		lines = append(lines, several(len(files), "file or folder was", "files or folders were")+" not read as records: "+some(files)+".")
	}
	var columns []string
	for _, f := range r.Intake {
		for _, h := range f.Headings {
			if h.Field != "" {
				continue
			}
			column := fmt.Sprintf("“%s” of %s", plain(h.Written), plain(f.File))
			if h.Near != "" {
				column += " (did you mean " + plain(h.Near) + "?)"
			}
			columns = append(columns, column)
		}
	}
	if len(columns) > 0 {
		lines = append(lines, several(len(columns), "column is", "columns are")+" not known and left alone: "+some(columns)+".")
	}
	return lines
}

// some joins the first few and counts the rest.
func some(items []string) string {
	if more := len(items) - mostUnread; more > 0 {
		items = append(items[:mostUnread:mostUnread], several(more, "more", "more"))
	}
	return join(items)
}
