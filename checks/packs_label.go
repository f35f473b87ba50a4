package checks

import (
	"slices"
	"strings"

	"footing/internal/audit"
	"footing/internal/practice"
	"footing/internal/quantity"
)

var _ = define(audit.Check{
	ID:    "packs/label",
	Title: "the labels of packs are complete",
	Why: "When a load turns out to have failed, its packs are found by their labels alone. A label that leaves out the load or the day means that every pack of that time has to be put aside. " +
		"Where the practice has one sterilizer, its name tells nothing and may be left out.",
	Grades:  []audit.Grade{audit.Minor, audit.Observation},
	Subject: "sites", Thing: "pack", Things: "packs",
	Needs: []string{"packs"},
	Helps: []string{"packs.label", "packs.packaging", "sterilizers"},
	Uses:  []string{"packs.label"},
	Fix: []string{
		"Look at the packs still on the shelf: where the label has more than was typed, write that.",
		"Add what is lacking to the labels of closed packs only where the log shows it beyond doubt, dated today; leave the labels of used packs as they are.",
		"From today on, write the label before the pack goes into the sterilizer, with everything that your rule asks for.",
	},
	Verify: "The packs on the shelf bear everything that your rule asks for.",
	Run: func(x *audit.Examination) {
		x.Nothing("no pack has a label: all are bare items")
		labels := packsLabels{packsLabelSeveral(x.P), map[string]packsLabelAnswer{}}
		for i := range x.P.Packs {
			packsLabelOf(x, &x.P.Packs[i], labels)
		}
	},
})

// packsLabelSeveral says whether packs come from several sterilizers: Yes with more
// than one in use, No with one row alone.
func packsLabelSeveral(p *practice.Practice) quantity.Tri {
	use := 0
	for i := range p.Sterilizers {
		if !p.Sterilizers[i].RetiredOn.Written() {
			use++
		}
	}
	switch {
	case use > 1:
		return quantity.Yes
	case len(p.Sterilizers) == 1 && !p.Unread("sterilizers"):
		return quantity.No
	}
	return quantity.Unsure
}

// packsLabels keeps what was answered for labels that read alike, as most do.
type packsLabels struct {
	several quantity.Tri // whether there is more than one sterilizer
	known   map[string]packsLabelAnswer
}

type packsLabelAnswer struct {
	ruling audit.Ruling
	fault  audit.Fault
	needed map[string]string // what it leaves out, by rule set
}

func (a packsLabelAnswer) need(c audit.Criterion) string { return a.needed[c.Set] }

func packsLabelOf(x *audit.Examination, k *practice.Pack, labels packsLabels) {
	site := packsSite(k)
	switch {
	case k.Packaging == "none":
		x.Pass()
		return
	case !k.Label.Written:
		x.Unclear(site, "what the label shows is not written", audit.Field{Kind: "packs", Name: "label"})
		return
	}
	key := strings.Join(k.Label.Items, ", ")
	a, told := labels.known[key]
	if !told {
		a = labels.answer(x, k.Label, key)
		labels.known[key] = a
	}
	if a.ruling.Verdict == audit.Meets {
		x.Met(site)
		return
	}
	f := a.fault
	f.Evidence = []audit.Evidence{audit.At(&k.Row, "label")}
	if l, state := x.P.LoadOfPack(k); state == practice.One {
		f.Day = l.Started.Day()
	}
	x.Settle(site, a.ruling, f, a.need, "the label leaves out the sterilizer alone, which tells something only where there are several", audit.Field{Kind: "sterilizers"})
}

// answer puts one label to the rules.
func (labels packsLabels) answer(x *audit.Examination, label quantity.List, shows string) packsLabelAnswer {
	a := packsLabelAnswer{needed: map[string]string{}}
	a.ruling = x.Ask("packs.label", nil, func(c audit.Criterion) audit.Verdict {
		lacks := slices.DeleteFunc(slices.Clone(c.Items()), func(item string) bool {
			return label.Has(item) || labels.several == quantity.No && item == "sterilizer"
		})
		a.needed[c.Set] = "it leaves out " + strings.Join(lacks, ", ")
		switch {
		case len(lacks) == 0:
			a.needed[c.Set] = "nothing is lacking"
			return audit.Meets
		case labels.several == quantity.Unsure && slices.Equal(lacks, []string{"sterilizer"}):
			return audit.CannotTell
		}
		return audit.Fail
	})
	if shows == "" {
		shows = "nothing, as written"
	}
	a.fault = audit.Fault{Grade: audit.Minor, Matter: a.needed[a.ruling.Criterion.Set], Found: "a label that shows " + shows}
	return a
}
