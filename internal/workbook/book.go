package workbook

import (
	"fmt"
	"path"
	"strings"
)

// link is one line of a part that says where other parts are.
type link struct {
	id       string
	kind     string // the last word of its type: "worksheet"; the same in the strict and the usual form
	part     string // "xl/worksheets/sheet1.xml"
	external bool
}

// links reads the relationships of a part, "" for the whole file.
func (p *pack) links(of string) (links []link, err error) {
	dir, base := path.Split(of)
	part := dir + "_rels/" + base + ".rels"
	if of != "" && !p.has(part) { // a sheet need not have any
		return links, nil
	}
	x, err := p.scan(part)
	if err != nil {
		return nil, err
	}
	return links, x.each(func(at []byte) error {
		if string(at) != "Relationships/Relationship" {
			return nil
		}
		var a [3]string
		for i, name := range [...]string{"Id", "Type", "Target"} {
			if a[i], err = x.attrText(name); err != nil {
				return err
			}
		}
		target := strings.ReplaceAll(a[2], `\`, "/")
		if !strings.HasPrefix(target, "/") {
			target = dir + target
		}
		links = append(links, link{id: a[0], kind: a[1][strings.LastIndexByte(a[1], '/')+1:],
			part: path.Join("/", target)[1:], external: string(x.attr("TargetMode")) == "External"})
		if len(links) > mostEntries {
			return tooLarge("has more than %d links in its part %s", mostEntries, part)
		}
		return nil
	})
}

// each gives every element that opens, with the names of those it is in
// ("workbook/sheets/sheet"), until the end of the part.
func (x *scanner) each(yield func(path []byte) error) error {
	var path []byte
	var ends [deepest + 1]int
	for {
		switch t, err := x.next(); {
		case err != nil || t == atEnd:
			return err
		case t == opened:
			d := x.depth
			if path = path[:ends[d-1]]; d > 1 {
				path = append(path, '/')
			}
			path = append(path, x.name...)
			ends[d] = len(path)
			if err := yield(path); err != nil {
				return err
			}
		}
	}
}

// workbookPart finds the part that lists the sheets.
func (p *pack) workbookPart() (string, error) {
	links, err := p.links("")
	if err != nil {
		return "", err
	}
	for _, l := range links {
		switch {
		case l.kind != "officeDocument" || l.external:
		case strings.HasSuffix(l.part, ".bin"):
			return "", &Refusal{Cause: "binary", Says: "is a binary workbook (.xlsb), whatever its name says",
				Todo: "open it in the spreadsheet program and save it as a workbook (.xlsx)"}
		default:
			return l.part, nil
		}
	}
	return "", noSpreadsheet
}

// sheets reads the list of sheets, and what they share.
func (p *pack) sheets(part string) (*Book, error) {
	links, err := p.links(part)
	if err != nil {
		return nil, err
	}
	x, err := p.scan(part)
	if err != nil {
		return nil, err
	}
	book, shared := &Book{}, &common{pack: p}
	byID := make(map[string]link, len(links))
	for _, l := range links {
		byID[l.id] = l
	}
	names, isBook := map[string]bool{}, false
	err = x.each(func(path []byte) error {
		switch string(path) {
		case "workbook":
			isBook = true
		case "workbook/workbookPr":
			shared.from1904 = yes(x.attr("date1904"))
		case "workbook/sheets/sheet":
			s, err := x.sheet(byID, shared)
			if s == nil || err != nil {
				return err
			}
			low := strings.ToLower(s.Name)
			if names[low] {
				return damaged("has two sheets with the name %q", s.Name)
			}
			names[low] = true
			if book.Sheets = append(book.Sheets, s); len(book.Sheets) > mostSheets {
				return tooLarge("has more than %d sheets", mostSheets)
			}
		}
		return nil
	})
	switch {
	case err != nil:
		return nil, err
	case !isBook:
		return nil, noSpreadsheet
	}
	book.Remarks = remarks(links)
	return book, p.shared(links, shared)
}

// sheet reads one line of the list; nil for a chart or another tab without cells.
func (x *scanner) sheet(links map[string]link, shared *common) (*Sheet, error) {
	name, err := x.attrText("name")
	if err != nil {
		return nil, err
	}
	id, err := x.attrAny("id")
	if err != nil {
		return nil, err
	}
	l, ok := links[id]
	switch {
	case !ok || l.external:
		return nil, damaged("lacks the part of its sheet %q", name)
	case l.kind != "worksheet":
		return nil, nil
	}
	state := string(x.attr("state"))
	return &Sheet{Name: name, Hidden: state == "hidden" || state == "veryHidden", part: l.part, common: shared}, nil
}

// shared reads what all sheets share: the formats and the texts.
func (p *pack) shared(links []link, shared *common) (err error) {
	for _, l := range links {
		switch {
		case err != nil || l.external:
		case l.kind == "styles" && shared.looks == nil:
			shared.looks, err = p.readLooks(l.part)
		case l.kind == "sharedStrings" && !shared.texts.read:
			err = shared.texts.load(p, l.part)
		}
	}
	return err
}

// remarks tells what a workbook holds besides its sheets, in a fixed order.
func remarks(links []link) (list []string) {
	has := map[string]int{}
	for _, l := range links {
		has[l.kind]++
	}
	if has["vbaProject"]+has["xlMacrosheet"]+has["xlIntlMacrosheet"] > 0 {
		list = append(list, "it holds macros, which are not run")
	}
	if has["externalLink"] > 0 {
		list = append(list, "it takes values from other workbooks; the values last saved are read")
	}
	if has["connections"] > 0 {
		list = append(list, "it takes values from elsewhere; the values last saved are read")
	}
	if n := has["chartsheet"]; n == 1 {
		list = append(list, "it has a tab that is a chart, which is not read")
	} else if n > 1 {
		list = append(list, fmt.Sprintf("it has %d tabs that are charts, which are not read", n))
	}
	return list
}
