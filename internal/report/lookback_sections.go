package report

// now is what to do, on the first screen. It has no table above it.
func (p *lookPage) now() {
	p.heading(2, titleNow)
	if len(p.a.Now) == 0 {
		p.para("Keep everything as it is: add to, correct and throw away nothing. Nothing more is asked for by what was read.")
		return
	}
	items := make([]md, 0, len(p.a.Now))
	for _, n := range p.a.Now {
		items = append(items, text(stop(upper(n))))
	}
	p.steps(items)
}

// short is the rest of what the look-back says, and of what it was read.
func (p *lookPage) short(says []string) {
	p.heading(2, titleShort)
	var items []md
	for _, s := range says {
		items = append(items, text(stop(upper(s))))
	}
	if s := span(p.a.Asked.Since, p.a.Asked.Until); s != "" {
		items = append(items, say("Asked for: %s.", s))
	}
	p.list(append(items, text(p.readAs()), notOf)...)
}

// readAs says of whom, when and from what a look-back was read.
func (ix *index) readAs() string {
	return orElse(plain(ix.Practice.Name), "A practice without a name") + ". " + ix.readOn()
}

// notOf is what no look-back says.
const notOf = "A reading of what is written, not of what happened. It says of nobody that anything happened to them. Keep it as you keep the cards of clients."

func (p *lookPage) decides() {
	if p.a.Decides == "" {
		return
	}
	p.heading(2, titleDecides)
	p.para(text(stop(upper(p.a.Decides))))
}

// telephone lists the numbers as the practice wrote them.
func (p *lookPage) telephone() {
	p.heading(2, titleTelephone)
	var rows [][]md
	for _, who := range sortedKeys(p.Contacts) {
		if number := plain(p.Contacts[who]); number != "" {
			rows = append(rows, []md{box, text(contactName(who)), text(number)})
		}
	}
	if len(rows) == 0 {
		p.para(say("No number is written in practice, under “contacts”. Look up those of public health and of %s, and write them there.", p.regulator()))
		return
	}
	p.para("As written in practice, under “contacts”. Write down when you called, and whom you spoke to.")
	p.table([]md{tick, "Whom", "Number or address"}, rows)
}

func (p *lookPage) others() {
	o := p.a.Others
	if o == nil {
		return
	}
	p.heading(2, titleOthers)
	p.para(say("As counts only: %s.", several(o.Clients, "other client", "other clients")))
	items := make([]md, 0, len(o.Shares))
	for _, s := range o.Shares {
		items = append(items, text(stop(upper(s))))
	}
	p.list(items...)
}

func (p *lookPage) bullets(title md, lines []string) {
	if len(lines) == 0 {
		return
	}
	p.heading(2, title)
	items := make([]md, 0, len(lines))
	for _, l := range lines {
		items = append(items, text(stop(upper(l))))
	}
	p.list(items...)
}
