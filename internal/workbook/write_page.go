package workbook

import (
	"fmt"

	"github.com/xuri/excelize/v2"
)

// A4 lying with our margins, in points, and the least size at which a form can still be
// filled in by hand.
const (
	pageWide  = 842 - 2*0.4*72
	pageHigh  = 595 - 2*0.6*72
	leastSize = 0.62
)

// points is the width of a column on paper: a character of the usual font has 7 pixels,
// a column 5 more, and a pixel is three quarters of a point (ECMA-376 part 1, 18.3.1.13).
func (c *Column) points() float64 { return (c.width()*7 + 5) * 0.75 }

// spread is on how many pages across a table is printed, and at what size.
func (t *Table) spread() (pages int, size float64) {
	all, fixed := 0.0, 0.0
	for i := range t.Columns {
		all += t.Columns[i].points()
		if i < t.Fixed {
			fixed += t.Columns[i].points()
		}
	}
	for pages = 1; ; pages++ {
		// Columns are not cut, so that of each page but the last some is left over.
		whole := all + float64(pages-1)*(fixed+40)
		if size = min(1, float64(pages)*pageWide/max(whole, 1)); size >= leastSize || pages == len(t.Columns) {
			return pages, size
		}
	}
}

// room is how many empty rows a table gets.
func (t *Table) room() int {
	if t.Room != FillPage {
		return t.Room
	}
	_, size := t.spread()
	high := pageHigh/size - t.headHigh() - roomHeight
	return max(0, int(high/roomHeight)-t.count())
}

// page sets how a sheet is printed: A4, lying, as wide as one or more pages, headings and
// fixed columns on each.
func (b *builder) page(t *Table) error {
	f := b.file
	pages, tall, a4, lying, fit := 1, 0, 9, "landscape", true
	if len(t.Columns) == 0 {
		lying = "portrait"
	} else {
		pages, _ = t.spread()
	}
	if err := f.SetSheetProps(t.Name, &excelize.SheetPropsOptions{FitToPage: &fit}); err != nil {
		return err
	}
	if err := f.SetPageLayout(t.Name, &excelize.PageLayoutOptions{Size: &a4, Orientation: &lying, FitToWidth: &pages, FitToHeight: &tall}); err != nil {
		return err
	}
	side, top, edge := 0.4, 0.6, 0.3 // inches
	if err := f.SetPageMargins(t.Name, &excelize.PageLayoutMarginsOptions{Left: &side, Right: &side, Top: &top, Bottom: &top, Header: &edge, Footer: &edge}); err != nil {
		return err
	}
	if err := f.SetHeaderFooter(t.Name, &excelize.HeaderFooterOptions{OddHeader: "&L&A", OddFooter: "&L&F&RPage &P of &N"}); err != nil {
		return err
	}
	if len(t.Columns) == 0 {
		return nil
	}
	first := t.heading()
	if t.noted() {
		first--
	}
	again := fmt.Sprintf("%s!$%d:$%d", quoted(t.Name), first, t.heading())
	if t.Fixed > 0 {
		again = fmt.Sprintf("%s!$A:$%s,%s", quoted(t.Name), Letters(t.Fixed-1), again)
	}
	return f.SetDefinedName(&excelize.DefinedName{Name: "_xlnm.Print_Titles", RefersTo: again, Scope: t.Name})
}

// panes keep headings and fixed columns in sight.
func (t *Table) panes() *excelize.Panes {
	corner, pane := Name(t.Fixed, t.top()+1), "bottomLeft"
	if t.Fixed > 0 {
		pane = "bottomRight"
	}
	return &excelize.Panes{Freeze: true, XSplit: t.Fixed, YSplit: t.top(), TopLeftCell: corner, ActivePane: pane,
		Selection: []excelize.Selection{{SQRef: corner, ActiveCell: corner, Pane: pane}}}
}
