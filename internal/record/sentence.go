package record

import (
	"strconv"
	"strings"
)

// sentence tells one problem to the person who typed the records: file, row, heading,
// what was found, what to do, and what happens until then.
func (s *sheet) sentence(g *group, heading string) string {
	var b strings.Builder
	b.WriteString(s.src.name)
	rows, last := 0, uint32(0)
	many := " rows"
	for _, o := range g.met {
		if o.number != 0 {
			if rows++; o.number == last {
				many = " places"
			}
			last = o.number
		}
	}
	single := s.plan.kind.Single
	grid := s.src.grid
	if rows == 1 && !single {
		if grid != nil {
			b.WriteByte(',')
		}
		b.WriteString(" row " + strconv.Itoa(int(g.met[0].number)))
	}
	if heading != "" {
		what := ", field "
		if s.src.format == formatCSV {
			what = ", column "
		}
		b.WriteString(what + strconv.Quote(shorten(heading)))
		b.WriteString(pathWords(g.met[0].path))
	}
	cell := ""
	if grid != nil && len(g.met) > 0 {
		cell = s.place(g.met[0]).Cell
	}
	if cell != "" && rows <= 1 {
		b.WriteString(" (cell " + cell + ")")
	} else if cell != "" {
		cell = ", cell " + cell
	}
	if rows > 1 {
		b.WriteString(", " + strconv.Itoa(rows) + many + " (the first: row " + strconv.Itoa(int(g.met[0].number)) + cell + ")")
	}
	b.WriteString(": ")
	for i, found := range g.found {
		if i > 0 {
			b.WriteString(", ")
		}
		if found[0] == '[' || found[0] == '{' {
			b.WriteString(found)
		} else {
			b.WriteString(`"` + found + `"`)
		}
	}
	if len(g.found) == mostFound {
		b.WriteString(" …")
	}
	if len(g.found) > 0 {
		b.WriteString(" ")
	}
	b.WriteString(agree(g.fault.says, len(g.found)))
	if g.fault.todo != "" {
		b.WriteString("; " + g.fault.todo)
	}
	b.WriteString(until(g, rows, single))
	return b.String()
}

// agree brings the verb at the start of what is said into agreement with n values.
func agree(says string, n int) string {
	if n > 1 {
		for one, many := range map[string]string{"has ": "have ", "is ": "are ", "does ": "do ", "says ": "say "} {
			if rest, ok := strings.CutPrefix(says, one); ok {
				return many + rest
			}
		}
	}
	return says
}

// pathWords says where in the value of a field something stands: `, item 2, "share"`.
func pathWords(path []step) string {
	words := ""
	for _, p := range path {
		if p.name == "" {
			words += ", item " + strconv.Itoa(p.index+1)
		} else {
			words += ", " + strconv.Quote(shorten(p.name))
		}
	}
	return words
}

// until says what becomes of the rows or values as long as they stay as they are.
func until(g *group, rows int, single bool) string {
	many := strconv.Itoa(rows)
	switch {
	case g.effect == FileRefused && rows > 0 && g.rest > 0:
		return "; until then this row and the " + strconv.Itoa(g.rest) + " found after it are set aside"
	case g.effect == FileRefused && rows > 0:
		return "; until then the row is set aside"
	case g.effect == SetAside && single:
		return "; until then the file is set aside"
	case g.effect == SetAside && rows+g.rest > 1:
		return "; until then " + strconv.Itoa(rows+g.rest) + " rows are set aside"
	case g.effect == SetAside:
		return "; until then the row is set aside"
	case g.fault.meanwhile != "" && rows > 1:
		return "; until then the " + many + " values are " + g.fault.meanwhile
	case g.fault.meanwhile != "":
		return "; until then it is " + g.fault.meanwhile
	case g.fault.kept && g.effect == Dropped && rows > 1:
		return "; until then the " + many + " days are read without their clocks"
	case g.fault.kept && g.effect == Dropped:
		return "; until then the day is read without its clock"
	case g.effect == Dropped && rows > 1:
		return "; until then the " + many + " values count as not written"
	case g.effect == Dropped:
		return "; until then it counts as not written"
	}
	return ""
}
