package audit

import (
	"slices"
	"strings"

	"footing/internal/practice"
	"footing/internal/result"
)

// bundle is the answer about a complaint, with the files that hold a row of it.
func bundle(p *practice.Practice, id string, a *Answer) *result.Bundle {
	b := &result.Bundle{Words: a.Asked.Words, Says: a.Says, Now: a.Now, Decides: a.Decides, Chains: a.Chains, Others: a.Others, Missing: a.Missing, Limits: a.Limits}
	var own []Located
	for i := range p.Complaints {
		if c := &p.Complaints[i]; practice.Key(&c.Row) == id {
			b.Client, b.Received, b.ReplyBy = c.Client, c.ReceivedOn.String(), c.ReplyBy.String()
			own = append(own, evidence(At(&c.Row, "")))
		}
	}
	if len(a.Chains) > 0 && b.Client == "" {
		b.Client = a.Chains[0].Client
	}
	b.Files = kept(p, own, a.Chains)
	return b
}

// kept lists the files of some places, each with its checksum and with how many rows of
// it are among them. A workbook has a line a sheet, and one checksum.
func kept(p *practice.Practice, own []Located, chains []Chain) []result.Kept {
	type row struct {
		file, sheet string
		row, line   int
	}
	rows, later := map[row]bool{}, map[row]bool{}
	at := func(e *Located) row {
		r := row{file: e.File, sheet: e.Sheet, row: e.Row}
		if e.Kind != "traces" && e.Row == 0 {
			r.line = e.Line
		}
		return r
	}
	see := func(list []Located) {
		for i := range list {
			if list[i].File != "" {
				rows[at(&list[i])] = true
			}
		}
	}
	see(own)
	for i := range chains {
		c := &chains[i]
		see([]Located{c.Record})
		see(c.Copies)
		for j := range c.Links {
			see(c.Links[j].Evidence)
		}
		for j := range c.Copies {
			later[at(&c.Copies[j])] = true
		}
	}
	sums := checksums(p)
	byFile := map[string]*result.Kept{}
	for r := range rows {
		name := r.file
		if r.sheet != "" {
			name += ", sheet " + r.sheet
		}
		k := byFile[name]
		if k == nil {
			k = &result.Kept{File: name, SHA256: sums[name]}
			byFile[name] = k
		}
		k.Places++
		if later[r] {
			k.Later++
		}
	}
	list := make([]result.Kept, 0, len(byFile))
	for _, k := range byFile {
		list = append(list, *k)
	}
	slices.SortFunc(list, func(a, b result.Kept) int { return strings.Compare(a.File, b.File) })
	return list
}

// checksums are those of every file that was read, by name.
func checksums(p *practice.Practice) map[string]string {
	sums := map[string]string{}
	for _, f := range p.Intake.Files {
		sums[f.Name] = f.SHA256
	}
	for _, t := range p.Traces() {
		sums[t.File] = t.SHA256
	}
	return sums
}
