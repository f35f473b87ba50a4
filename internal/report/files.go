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

// notRead lists the files that hold no record; data-logger files in short.
func (p *page) notRead() {
	var others []md
	traces := p.Traces
	for _, n := range p.NotRead {
		others = append(others, say("%s: %s", n.File, stop(orElse(n.Why, "no record"))))
	}
	if len(others)+len(traces) == 0 {
		return
	}
	p.heading(3, "Files not read as records")
	p.list(others...)
	if len(traces) == 0 {
		return
	}
	var size int64
	var names []string
	for i, t := range traces {
		size += t.Bytes
		if i < mostNames {
			names = append(names, plain(t.File))
		}
	}
	if more := len(traces) - mostNames; more > 0 {
		names = append(names, several(more, "more", "more"))
	}
	p.para(say("Data-logger files: %s, %s. %s.", several(len(traces), "file", "files"), weight(size), join(names)))
	if why := plain(traces[0].Why); why != "" {
		p.para(text(stop(upper(why))))
	}
	p.para(say("Checksum of their checksums: `%s` (SHA-256 of a line for each, in order of name: its checksum, two spaces, its name).", md(combined(traces))))
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

// checksums lists them as sha256sum prints and reads them.
func (p *page) checksums() {
	var lines []string
	for _, f := range p.Intake {
		if sum := plain(f.SHA256); sum != "" && isAlnum(sum[0]) {
			lines = append(lines, sum+"  "+plain(f.File))
		}
	}
	if len(lines) == 0 {
		return
	}
	p.heading(3, "Checksums")
	p.para("The bytes that were read. “sha256sum --check” in the folder of records tells whether a file has changed since.")
	p.fence("", lines)
}
