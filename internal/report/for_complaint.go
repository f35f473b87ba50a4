package report

import (
	"strconv"
	"strings"

	"footing/internal/result"
)

// forComplaint are the first lines after a complaint. Nothing in them judges what happened.
func (ix *index) forComplaint() (lines []firstLine) {
	b := ix.Bundle
	if b == nil {
		return ix.said()
	}
	first, rest := cut(b.Says)
	lines = append(lines, firstLine{lead: stop(upper(orElse(first, b.Words)))})
	for _, n := range b.Now {
		l := firstLine{lead: "Today:", text: stop(lower(n))}
		if strings.Contains(n, " today") {
			l = firstLine{text: stop(upper(n))}
		}
		lines = append(lines, l)
	}
	lines = append(lines, firstLine{text: noCorrection})
	unseen := firstLine{text: ix.Conclusion.Unseen, see: "[not judged](#unseen)"}
	if ix.Conclusion.Stop {
		lines = append(lines, firstLine{lead: stop(ix.Conclusion.Sentence), text: "This is of all that is typed, not of these visits alone.", see: "[what to do first](#first)"})
	} else {
		unseen.lead = ix.Conclusion.Sentence
	}
	for _, s := range rest {
		lines = append(lines, firstLine{text: stop(upper(s))})
	}
	if len(b.Missing) > 0 {
		lines = append(lines, firstLine{lead: "Not in the folder, which does not mean not done:", text: lower(strings.Join(b.Missing, " ")), see: "[what is missing](#missing)"})
	}
	if n := len(b.Files); n > 0 {
		lines = append(lines, firstLine{text: "What touches it stands in " + several(n, "file", "files") + ", each listed with its checksum.", see: "[the files](#evidence)"})
	}
	if b.Decides != "" {
		lines = append(lines, firstLine{text: stop(upper(b.Decides))})
	}
	return append(lines, unseen)
}

// noCorrection goes before steps of findings, some of which ask for rows to be added.
const noCorrection = "Where a step of a finding asks to add or correct a row about these visits, leave it until your insurer has seen the records."

// bundle prints everything that touches the complaint.
func (p *page) bundle() {
	b := p.Bundle
	if b == nil {
		return
	}
	p.behind(b)
	p.evidenceFiles(b)
	p.touching()
	look := &lookPage{page: page{index: p.index}, a: &result.Answer{Others: b.Others}}
	look.others()
	look.bullets(titleMissing, b.Missing)
	look.bullets(titleLimits, b.Limits)
	p.b.Write(look.b.Bytes())
}

func (p *page) behind(b *result.Bundle) {
	p.heading(2, titleChains)
	if len(b.Chains) == 0 {
		p.para("No visit that it may be about is typed.")
		return
	}
	p.para("“Not found” means that such rows are kept and there is none for this visit. “Never typed” means that no such row is in the folder, so it is not judged. Neither says that it was not done: look on paper first.")
	for i := range b.Chains {
		if i == mostListed {
			p.para(say("And %s; every one is in audit.json.", several(len(b.Chains)-mostListed, "more visit", "more visits")))
			break
		}
		p.heading(3, text(chainTitle(&b.Chains[i])))
		p.chain(&b.Chains[i])
	}
}

// evidenceFiles lists the files that hold a row of it, with their checksums.
func (p *page) evidenceFiles(b *result.Bundle) {
	p.heading(2, titleEvidence)
	p.para("The paper is the record; these files are what was typed from it. A checksum (SHA-256) is a number worked out from every character of a file: as long as it is the same, the file is as it was when it was read. Copy this folder to a place where nobody works in it, and work on in another copy.")
	rows := make([][]md, 0, len(b.Files))
	for _, f := range b.Files {
		later := md("")
		if f.Later > 0 {
			later = say("%s", f.Later)
		}
		rows = append(rows, []md{text(f.File), text(strconv.Itoa(f.Places)), later, text(orElse(f.SHA256, "not read"))})
	}
	p.para("Later copies are rows typed after the complaint was received.")
	p.table([]md{"File", "Rows of it", "Of these later copies", "SHA-256"}, rows)
}

// touching links to the findings that rest on a row of the complaint.
func (p *page) touching() {
	p.heading(2, titleTouching)
	own := ownRows(p.Bundle)
	var items []md
	for _, i := range p.order {
		f := &p.Findings[i]
		for j := range f.Evidence {
			if own[placedAt(&f.Evidence[j])] {
				items = append(items, say("%s %s: %s %s", p.link(i), md(string(mark(f.Grade))+" "+f.Grade), p.about(f)+".", stop(upper(f.Summary))))
				break
			}
		}
	}
	if len(items) == 0 {
		p.para("No finding rests on a row that is listed here, as far as could be seen.")
		return
	}
	p.para("A finding may rest on other rows as well, and says nothing of what happened at the visit.")
	p.list(items...)
}

// row is a row or file by its place.
type placed struct {
	file, sheet string
	row         int
}

func placedAt(e *result.Evidence) placed {
	if e.Kind == kindTraces {
		return placed{file: e.File}
	}
	return placed{e.File, e.Sheet, e.Row}
}

// ownRows are the rows behind the visits of a complaint.
func ownRows(b *result.Bundle) map[placed]bool {
	own := map[placed]bool{}
	if b == nil {
		return own
	}
	see := func(list ...result.Evidence) {
		for i := range list {
			if list[i].File != "" {
				own[placedAt(&list[i])] = true
			}
		}
	}
	for i := range b.Chains {
		see(b.Chains[i].Record)
		see(b.Chains[i].Copies...)
		for j := range b.Chains[i].Links {
			see(b.Chains[i].Links[j].Evidence...)
		}
	}
	return own
}

// clientKinds are the kinds whose rows are about one client.
const clientKinds = " clients histories screens consents visits referrals incidents complaints "

// forPage is a result as the pages of its occasion show it: no sentence names what reads
// like a person's name, and of a complaint, places in rows about other clients become a
// count. The findings stay; audit.json holds all.
func forPage(r *result.Result) *result.Result {
	if len(r.AskedFor) > 0 {
		out := *r
		out.AskedFor = *veiled(&r.AskedFor)
		return &out
	}
	if r.Purpose.Kind != result.Complaint || r.Bundle == nil {
		return r
	}
	own := ownRows(r.Bundle)
	about := func(kind string) bool { return kind != "" && strings.Contains(clientKinds, " "+kind+" ") }
	ours := map[string]bool{"clients " + r.Bundle.Client: true, "complaints " + r.Purpose.Complaint: true}
	for i := range r.Bundle.Chains {
		ours["visits "+r.Bundle.Chains[i].Visit] = true
	}
	out := *r
	out.Bundle = veiled(r.Bundle)
	out.Findings = make([]result.Finding, len(r.Findings))
	for i, f := range r.Findings {
		if about(f.Subject.Kind) && f.Subject.ID != "" && !ours[f.Subject.Kind+" "+f.Subject.ID] {
			f.Subject.ID = "(another, not shown)"
		}
		var shown []result.Evidence
		others := 0
		for j := range f.Evidence {
			e := f.Evidence[j]
			if about(e.Kind) && !own[placedAt(&e)] && !ours[e.Kind+" "+e.ID] {
				others++
				continue
			}
			shown = append(shown, e)
		}
		if others > 0 {
			shown = append(shown, result.Evidence{Note: several(others, "row about another client or visit, as a count only", "rows about other clients or visits, as a count only")})
		}
		f.Evidence = shown
		out.Findings[i] = f
	}
	return &out
}
