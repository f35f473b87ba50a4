package record

import (
	"io"
	"maps"
	"os"
	"path"
	"slices"
	"strings"
)

// copies copies the files that are no rows: data-logger files, their layout, and record
// files that could not be read. Everything else is listed.
func (x *exporter) copies() error {
	refused := map[string]*Problem{}
	for i := range x.in.Problems {
		if p := &x.in.Problems[i]; p.Effect == FileRefused {
			refused[p.File] = p
		}
	}
	root, err := os.OpenRoot(x.in.dir)
	if err != nil {
		return err
	}
	defer root.Close()
	for _, n := range x.in.NotRead {
		p := refused[n.Name]
		if p != nil && uncopied[p.Cause] {
			x.done.Missing = append(x.done.Missing, n)
			continue
		}
		if p == nil || strings.HasPrefix(n.Name, tracesFolder) || strings.Contains(n.Name, ", sheet ") {
			x.done.Left = append(x.done.Left, n)
			continue
		}
		if err := x.refused(root, n.Name, p); err != nil {
			return err
		}
	}
	for _, s := range x.in.kept.sheets {
		if s != nil && s.src.format == formatYAML && hasComments(s.src.text) {
			x.done.Comments = append(x.done.Comments, s.src.name)
		}
	}
	if err := x.books(root); err != nil {
		return err
	}
	return x.traces()
}

// aboutBooks are the causes that tell of words in a workbook which are no records.
var aboutBooks = map[string]bool{"title": true, "title-row": true, "no-heading": true, "formula-error": true, "early-day": true}

// books copies the workbooks that hold more than the records read from them, byte for byte,
// to where they are not read. Where rows of a kind stand unread in one, its copy lies in
// the folder of the kind: there it is refused, so that the ids in it stay unknown.
func (x *exporter) books(root *os.Root) error {
	more := map[string]string{} // by the folder and name of the copy
	known := map[string]bool{}
	note := func(folder, name string) {
		if book, _, ok := strings.Cut(name, ", sheet "); ok {
			more[folder+"/"+book] = book
			known[book] = known[book] || folder != notReadFolder
		}
	}
	for i := range x.in.Problems {
		if p := &x.in.Problems[i]; p.Effect == FileRefused && p.Kind != "" {
			note(p.Kind, p.File)
		}
	}
	for _, n := range x.in.NotRead {
		note(notReadFolder, n.Name)
	}
	for i := range x.in.Problems {
		if p := &x.in.Problems[i]; aboutBooks[p.Cause] {
			note(notReadFolder, p.File)
		}
	}
	for _, to := range slices.Sorted(maps.Keys(more)) {
		name := more[to]
		if known[name] && strings.HasPrefix(to, notReadFolder) {
			continue
		}
		if err := x.copy(root, name, to, &x.done.Books); err != nil {
			return err
		}
	}
	return nil
}

// notReadFolder is not looked into when records are read, as its name begins with a line.
const notReadFolder = "_not-read"

// copy copies a file of the records byte for byte, and adds the name of the copy to a list.
func (x *exporter) copy(root *os.Root, name, to string, list *[]string) error {
	from, err := root.Open(name)
	if err != nil {
		return err
	}
	defer from.Close()
	to = x.free(to)
	*list = append(*list, to)
	return x.create(to, func(w *outFile) error {
		_, err := io.Copy(w, from)
		return err
	})
}

// uncopied are the causes for which a file that is not read cannot be copied either.
var uncopied = map[string]bool{"link": true, "permission": true, "vanished": true, "unreadable": true, "changed": true}

// refused copies a file that could not be read, byte for byte, to where it is not read
// again, so that nothing is lost and the ids in it stay unknown.
func (x *exporter) refused(root *os.Root, name string, p *Problem) error {
	to := path.Base(name)
	switch {
	case p.Cause == "second": // beside the one that holds, it might be the one that is read
		to = notReadFolder + "/" + to
	case p.Kind != "":
		to = p.Kind + "/" + to
	}
	return x.copy(root, name, to, &x.done.Refused)
}

// traces copies the data-logger files.
func (x *exporter) traces() error {
	o := x.in.Opener()
	defer o.Close()
	for _, t := range x.in.Traces {
		if err := x.ctx.Err(); err != nil {
			return err
		}
		from, err := o.Open(t)
		if err != nil {
			return err
		}
		err = x.create(t.Name, func(w *outFile) error {
			n, err := io.Copy(w, from)
			x.done.TraceBytes += n
			return err
		})
		from.Close()
		if err != nil {
			return err
		}
		x.done.Traces++
	}
	if l := x.in.Layout; l != nil {
		x.done.Layout = true
		return x.create(l.Name, func(w *outFile) error { return w.text(string(l.Text)) })
	}
	return nil
}

// hasComments is true for YAML with a line that is a comment.
func hasComments(text string) bool {
	return slices.ContainsFunc(strings.Split(text, "\n"), func(line string) bool {
		return strings.HasPrefix(strings.TrimLeft(line, " "), "#")
	})
}
