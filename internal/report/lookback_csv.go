package report

import (
	"bytes"
	"encoding/csv"
	"strconv"
	"strings"

	"footing/internal/result"
)

// byteOrderMark tells a spreadsheet program that the text is UTF-8.
const byteOrderMark = "\ufeff"

var sheetColumns = []string{"kind", "id", "on", "site", "client", "window", "how", "file", "row"}

// sheetOf writes the rows of an answer: its packs, loads and visits, then its chains.
func sheetOf(a *result.Answer) []byte {
	var b bytes.Buffer
	b.WriteString(byteOrderMark)
	w := csv.NewWriter(&b)
	put := func(cells ...string) {
		for i := range cells {
			cells[i] = harmlessCell(cells[i])
		}
		_ = w.Write(cells) // into memory, which cannot fail
	}
	put(sheetColumns...)
	for i := range a.Lookbacks {
		l := &a.Lookbacks[i]
		for _, k := range l.Pull {
			put("pack", packName(k), k.On, k.Site, "", windowName(k.Narrow), k.State+fromLoad(k.Load), file(k.Record), rowOf(k.Record))
		}
		for _, o := range l.Loads {
			put("load", ident("loads", o.Load), o.On, "", "", windowName(o.Narrow), list(o.Decision, o.Shows, o.Packs), file(o.Record), rowOf(o.Record))
		}
		for _, v := range l.Affected {
			put("visit", ident("visits", v.Visit), v.On, v.Site, ident("clients", v.Client), windowName(v.Narrow), v.How, file(v.Record), rowOf(v.Record))
		}
	}
	for i := range a.Chains {
		c := &a.Chains[i]
		put("visit", ident("visits", c.Visit), c.On, c.Site, ident("clients", c.Client), "", chainStands(c), file(c.Record), rowOf(c.Record))
		for _, l := range c.Links {
			for _, e := range rowsOf(l.Evidence) {
				put("link of visit "+ident("visits", c.Visit), strings.TrimSpace(record(e)), c.On, c.Site, ident("clients", c.Client), "", l.Name+": "+list(l.State, l.What), file(e), rowOf(e))
			}
		}
		for _, e := range c.Copies {
			put("later copy", record(e), "", "", "", "", "typed after the complaint was received", file(e), rowOf(e))
		}
	}
	w.Flush()
	return b.Bytes()
}

// harmlessCell puts an apostrophe before what a spreadsheet program would take for a
// formula: its first mark is = + - or @, in the wide forms of East Asia too. Signs
// that steer are gone from it, so that none can stand before such a mark.
func harmlessCell(s string) string {
	s = plain(s)
	for _, lead := range []string{"=", "+", "-", "@", "＝", "＋", "－", "＠"} {
		if strings.HasPrefix(s, lead) {
			return "'" + s
		}
	}
	return s
}

// rowsOf is evidence with each row once; a link without a row is a line too.
func rowsOf(all []result.Evidence) (out []result.Evidence) {
	seen := map[string]bool{}
	for _, e := range all {
		if at := place(e); !seen[at] {
			seen[at] = true
			out = append(out, e)
		}
	}
	if len(out) == 0 {
		return []result.Evidence{{}}
	}
	return out
}

func fromLoad(load string) string {
	if load == "" {
		return ""
	}
	return "; of load " + ident("loads", load)
}

// list joins those that say something.
func list(parts ...string) string {
	var out []string
	for _, p := range parts {
		if plain(p) != "" {
			out = append(out, p)
		}
	}
	return strings.Join(out, "; ")
}

func file(e result.Evidence) string {
	if e.Sheet != "" {
		return e.File + ", sheet " + e.Sheet
	}
	return e.File
}

func rowOf(e result.Evidence) string {
	if e.Row == 0 {
		return ""
	}
	return strconv.Itoa(e.Row)
}
