package report

import (
	"crypto/sha256"
	"encoding/hex"
	"slices"
	"strconv"
	"strings"

	"footing/internal/result"
)

// files accounts for every row, heading and file.
func (p *page) files() {
	p.heading(2, titleFiles)
	if len(p.Intake) == 0 {
		p.para("No file of records was read.")
	}
	var rows [][]md
	for _, f := range p.Intake {
		rows = append(rows, []md{text(f.File), text(f.Kind), say("%s", f.Rows), say("%s", f.Accepted), say("%s", f.SetAside),
			say("%s", f.Later), say("%s", f.Corrected), text(strings.TrimSpace(f.Encoding + " " + delimiter(f.Delimiter)))})
	}
	if len(rows) > 0 {
		p.para("Rows found = accepted + set aside. Later: accepted, but after the day of the audit, so not judged. Corrected: accepted, but a later row corrects it. Rows set aside stand among the findings with their places.")
		p.table([]md{"File", "Record", "Rows found", "Accepted", "Set aside", "Later", "Corrected", "Written in"}, rows)
	}
	p.headings()
	p.notRead()
	p.traces()
	p.checksums()
}

func delimiter(d string) string {
	switch d {
	case "":
		return ""
	case ",":
		return "comma"
	case ";":
		return "semicolon"
	case "\t":
		return "tab"
	case "|":
		return "bar"
	}
	return d
}

// headings says what each heading was taken for, where it is not the field's own name.
func (p *page) headings() {
	var items []md
	for _, f := range p.Intake {
		same := 0
		var read, unknown []string
		for _, h := range f.Headings {
			switch {
			case h.Field == "":
				unknown = append(unknown, "“"+plain(h.Written)+"”")
			case h.Field == h.Written:
				same++
			default:
				read = append(read, "“"+plain(h.Written)+"” as "+plain(h.Field))
			}
		}
		if len(f.Headings) == 0 {
			continue
		}
		var parts []string
		if len(read) > 0 {
			parts = append(parts, strings.Join(read, ", "))
		}
		if same > 0 {
			parts = append(parts, strconv.Itoa(same)+" by the name of the field")
		}
		if len(unknown) > 0 {
			parts = append(parts, "not known, left alone: "+strings.Join(unknown, ", "))
		}
		items = append(items, say("%s: %s.", f.File, strings.Join(parts, "; ")))
	}
	if len(items) > 0 {
		p.heading(3, "How the headings were read")
		p.list(items...)
	}
}

// mostNames is how many data-logger files are named; the rest are counted.
const mostNames = 5

// notRead lists the files that hold no record.
func (p *page) notRead() {
	var items []md
	for _, n := range p.NotRead {
		items = append(items, reasoned(n.File, n.Why))
	}
	if len(items) > 0 {
		p.heading(3, "Files not read as records")
		p.list(items...)
	}
}

// traces accounts for the data-logger files and their lines, in short.
func (p *page) traces() {
	if len(p.Traces) == 0 {
		return
	}
	p.heading(3, "Data-logger files")
	var size int64
	var names []string
	var lines, heading, readings, aside int
	for i, t := range p.Traces {
		size += t.Bytes
		lines, heading, readings, aside = lines+t.Lines, heading+t.Heading, readings+t.Readings, aside+t.Aside
		if i < mostNames {
			names = append(names, plain(t.File))
		}
	}
	if more := len(p.Traces) - mostNames; more > 0 {
		names = append(names, several(more, "more", "more"))
	}
	p.para(say("%s, %s: %s.", several(len(p.Traces), "file", "files"), weight(size), join(names)))
	p.para(say("Lines: %s = %s of heading + %s with a reading + %s set aside.", lines, heading, readings, aside))
	p.unjudged()
	p.para(say("Check number over all of them: `%s`. It changes when one of these files does. (It is the SHA-256 of a line for each, in order of name: its own SHA-256, two spaces, its name.)", md(combined(p.Traces))))
}

// unjudged names the data-logger files that are not judged, and why.
func (p *page) unjudged() {
	var items []md
	for _, t := range p.Traces {
		if !t.Judged {
			items = append(items, reasoned(t.File, t.Why))
		}
	}
	p.some("Not judged:", items)
}

func weight(n int64) string {
	switch {
	case n < 1000:
		return several(int(n), "byte", "bytes")
	case n < 1e6:
		return strconv.FormatFloat(float64(n)/1e3, 'f', 1, 64) + " kB"
	}
	return strconv.FormatFloat(float64(n)/1e6, 'f', 1, 64) + " MB"
}

// combined is one checksum over many files, the same as sha256sum gives for the
// list that sha256sum prints of them.
func combined(files []result.Trace) string {
	files = slices.Clone(files)
	slices.SortStableFunc(files, func(a, b result.Trace) int { return strings.Compare(a.File, b.File) })
	h := sha256.New()
	for _, f := range files {
		h.Write([]byte(f.SHA256 + "  " + f.File + "\n"))
	}
	return hex.EncodeToString(h.Sum(nil))
}

// onDisk is the name of the file in which a table stands: a workbook's without the sheet.
func onDisk(f result.File) string {
	const ending = ".xlsx, sheet "
	if i := strings.Index(strings.ToLower(f.File), ending); i >= 0 && f.Encoding == "workbook" {
		return f.File[:i+len(".xlsx")]
	}
	return f.File
}

// checksums lists them as sha256sum prints and reads them.
func (p *page) checksums() {
	var lines []string
	for _, f := range p.Intake {
		line := plain(f.SHA256) + "  " + plain(onDisk(f))
		if isAlnum(line[0]) && !slices.Contains(lines, line) { // a workbook's sheets have one file
			lines = append(lines, line)
		}
	}
	if len(lines) == 0 {
		return
	}
	p.heading(3, "Check numbers of the files")
	p.para("A number for each file as it was read; it changes when anything in the file does, so that anyone can show later which files this report rests on. Nothing is to be done with them. (They are SHA-256; with these lines in a file, “sha256sum --check” in the folder of records compares them.)")
	p.fence("", lines)
}
