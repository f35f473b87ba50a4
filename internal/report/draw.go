package report

import (
	"bytes"
	_ "embed"
	"io"
	"slices"
	"strconv"
	"strings"

	"footing/internal/result"
)

//go:embed draw.css
var drawStyle string

// DrawMarkdown writes the pages of visits drawn at random: a cover with the result,
// then a heading a visit with each link found or missing, and where it is written.
// The HTML page is made from exactly this text. The same draw gives the same bytes.
func DrawMarkdown(d *result.Draw) []byte { return drawPageOf(d).markdown() }

// DrawHTML makes one self-contained page from the Markdown of d, as HTML does of a
// result. Printed, each visit begins a sheet of its own.
func DrawHTML(d *result.Draw) ([]byte, error) {
	p := drawPageOf(d)
	page, err := p.html(p.markdown())
	return bytes.Replace(page, []byte("</style>"), []byte(drawStyle+"</style>"), 1), err
}

// DrawText writes d for a terminal: the result, and a line a visit. It writes once.
func DrawText(w io.Writer, d *result.Draw, opt SummaryOptions) {
	d = veiled(d)
	s := newSummary(drawIndex(d), opt)
	s.draw(d)
	if opt.ReportPath != "" {
		s.b.WriteString("\nPages to pull the papers by: " + strings.Map(printable, opt.ReportPath) + "\n")
	}
	_, _ = w.Write(s.b.Bytes())
}

// drawPage collects the Markdown of a draw.
type drawPage struct {
	page
	d *result.Draw
}

func drawPageOf(d *result.Draw) *drawPage {
	d = veiled(d)
	return &drawPage{page{index: drawIndex(d)}, d}
}

// drawIndex is what a draw shares with an audit: whose it is, and of when.
func drawIndex(d *result.Draw) *index {
	return newIndex(&result.Result{Tool: d.Tool, AsOf: d.AsOf, Practice: d.Practice, Period: d.Period, Contacts: d.Contacts, RuleSet: d.RuleSet, Rules: d.Rules})
}

func (p *drawPage) markdown() []byte {
	p.b = bytes.Buffer{}
	p.heading(1, say("Visits drawn at random: %s", orElse(p.Practice.Name, "a practice without a name")))
	p.para(text(p.readOn()))
	p.sharedNote(p.d.Shared)
	p.what()
	p.short()
	p.counted()
	if p.RuleSet != "" || len(p.Rules) > 0 {
		p.rules()
	}
	p.visits()
	return p.b.Bytes()
}

func (p *drawPage) what() {
	p.heading(2, titleWhat)
	p.list(
		"Visits pulled by chance, as an inspector pulls files, and what is typed behind each. A reading of records, not an inspection.",
		say("The rules of %s, public health, the makers' instructions and licensed practice come first.", p.regulator()),
		"Not found does not mean not done. Nothing here says that anyone was exposed to anything, and nothing here judges what was done at a visit.",
		"Add to, correct or throw away nothing because of this page. What turns up on paper is added as a late entry, with the date of the day on which it is written.",
	)
}

func (p *drawPage) short() {
	t := &p.d.Trail
	p.heading(2, titleShort)
	items := []md{text(trailSays(t))}
	if t.Weakest != "" {
		items = append(items, say("**The weakest link: %s.** Look there first.", t.Weakest))
	}
	items = append(items, text(drawHow(t)))
	items = append(items, texts(p.d.Missing)...)
	items = append(items,
		"Pull the paper for each sheet that follows, and tick what you find. What is not found on paper either is what an inspector would ask about.",
		say("Made by %s on this machine; nothing was sent anywhere.", orElse(strings.TrimSpace(p.Tool), "footing")))
	p.list(items...)
}

// drawHow says how the visits were drawn, so that it can be done again.
func drawHow(t *result.Trail) string {
	if len(t.Drawn) == t.Of {
		return "There are no more visits than were asked for, so all of them are here. The range speaks of visits like these."
	}
	return "Drawn without anyone's choice: each visit at which treatment took place was as likely as any other. The same records and the number " + strconv.FormatInt(t.Seed, 10) + " give the same visits again."
}

// counted is the table of links over the visits drawn.
func (p *drawPage) counted() {
	p.heading(2, titleTrail)
	var rows [][]md
	for _, l := range p.d.Trail.Links {
		rows = append(rows, []md{text(upper(plain(l.Name))), say("%s", l.Found), say("%s", l.Missing), say("%s", l.Unkept), say("%s", l.None)})
	}
	p.table([]md{"Link", "Found", "Not found, or in part", "Never typed", "Does not apply"}, rows)
	p.para("“Not found” means that such rows are kept and there is none for this visit. “Never typed” means that no such row is in the folder for that time, so it is not judged.")
}

// visits prints a sheet a visit.
func (p *drawPage) visits() {
	if len(p.d.Chains) == 0 {
		return
	}
	p.heading(2, titleChains)
	for i := range p.d.Chains {
		c := &p.d.Chains[i]
		p.heading(3, text(chainTitle(c)))
		p.para(text(strconv.Itoa(i+1) + " of " + strconv.Itoa(len(p.d.Chains)) + ". " + drawStands(c, &p.d.Trail) + drawWho(c)))
		p.table([]md{"On paper", "Link", "State", "What is written", "Where"}, drawRows(c))
		p.para("Looked for on paper by: ………………………… on: ……………………")
		if !drawNamesPack(c) {
			p.para("From what is typed this visit cannot be followed to its pack. Until it can, nobody can tell whether the pack was in date, used once and released, what its own indicator showed, or whether a failed load could have reached this visit: a look-back counts the visit as one that could have been. The pouch's label on the card settles it.")
		}
	}
}

// drawStands says how far one visit could be followed.
func drawStands(c *result.Chain, t *result.Trail) string {
	missing := drawMissing(c, t)
	switch {
	case c.Whole:
		return "Every link that is kept was found."
	case !slices.ContainsFunc(c.Links, func(l result.Link) bool { return drawKept(l, t) }):
		return "Nothing that could be followed is typed."
	case len(missing) == 0:
		return "It could not be followed from end to end."
	}
	return "Not found, or only in part: " + join(missing) + "."
}

// drawKept reports whether a link of the trail is kept for a visit.
func drawKept(l result.Link, t *result.Trail) bool {
	counted := slices.ContainsFunc(t.Links, func(k result.TrailLink) bool { return k.Name == l.Name })
	return counted && l.State != result.LinkUnkept && l.State != result.LinkNone
}

// drawRows is a chain as a table: a box to tick, and each place once.
func drawRows(c *result.Chain) (rows [][]md) {
	for _, l := range c.Links {
		var at []string
		for _, e := range l.Evidence {
			at = append(at, place(e))
		}
		rows = append(rows, []md{box, text(upper(plain(l.Name))), text(stateMark(l.State) + " " + l.State), text(l.What), text(join(unique(at)))})
	}
	return rows
}

// drawMissing names the links of the trail that a chain lacks. What lies behind a pack
// or load that is not known is lacking with it, and is not named again.
func drawMissing(c *result.Chain, t *result.Trail) (names []string) {
	for _, l := range c.Links {
		if !drawKept(l, t) || l.State == result.LinkFound {
			continue
		}
		if l.Name == "pack" || l.Name == "load" {
			return append(names, plain(l.Name)+", with what lies behind it")
		}
		names = append(names, plain(l.Name))
	}
	return names
}

// drawWho says who treated, where, and where the visit is written.
func drawWho(c *result.Chain) (out string) {
	if c.Person != "" {
		out += " By " + ident("people", c.Person) + "."
	}
	if c.Site != "" {
		out += " At " + plain(c.Site) + "."
	}
	if s := place(c.Record); s != "" {
		out += " Written in " + s + "."
	}
	return out
}

// drawNamesPack reports whether a visit is known to have a pack, or to need none.
func drawNamesPack(c *result.Chain) bool {
	for _, l := range c.Links {
		if l.Name == "pack" {
			return l.State == result.LinkFound || l.State == result.LinkPart || l.State == result.LinkNone
		}
	}
	return true
}

// draw writes the result and a line a visit for a terminal.
func (s *summary) draw(d *result.Draw) {
	t := &d.Trail
	s.line(strong, "Visits drawn at random: "+orElse(s.Practice.Name, "a practice without a name"))
	s.line(nil, s.readOn()+" A reading of records, not an inspection; the rules of "+s.regulator()+", the makers' instructions and licensed practice come first. Not found does not mean not done.")
	s.b.WriteByte('\n')
	s.line(strong, trailSays(t))
	if t.Weakest != "" {
		s.line(nil, "The weakest link: "+plain(t.Weakest)+". Look there first.")
	}
	s.line(nil, drawHow(t))
	for _, m := range d.Missing {
		s.line(nil, m)
	}
	s.b.WriteByte('\n')
	var rows [][]string
	for i := range d.Chains {
		c := &d.Chains[i]
		stands := "every link that is kept was found"
		switch missing := drawMissing(c, t); {
		case c.Whole:
		case len(missing) > 0:
			stands = "not found, or in part: " + join(missing)
		default:
			stands = strings.ToLower(drawStands(c, t)[:1]) + strings.TrimSuffix(drawStands(c, t)[1:], ".")
		}
		rows = append(rows, []string{ident("visits", c.Visit), day(c.On), stands})
	}
	s.grid([]string{"Visit", "When", "Behind it"}, rows)
}
