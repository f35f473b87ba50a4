package cli

import (
	"bytes"
	"fmt"
	"strings"

	"github.com/jedib0t/go-pretty/v6/text"

	"footing/internal/report"
)

// mostShown is how many things a section shows unless all are asked for.
const mostShown = 12

// proof is what proofread prints, as it grows.
type proof struct {
	b     bytes.Buffer
	opt   report.SummaryOptions
	whole bool

	places, causes int // to look at
}

// mend counts something to look at, at so many places.
func (w *proof) mend(places int) {
	w.places += places
	w.causes++
}

// heading begins a section.
func (w *proof) heading(title string) {
	if w.b.Len() > 0 {
		w.b.WriteByte('\n')
	}
	w.hang("", title, text.Colors{text.Bold})
}

func (w *proof) para(words string) { w.hang("", words, nil) }

// item is one thing of a list: its first line stands out by a hyphen.
func (w *proof) item(words string) { w.hang("- ", words, nil) }

// under is what belongs to the item above.
func (w *proof) under(words string) { w.hang("  ", words, nil) }

// hang writes words wrapped to the width, with lead before the first line and as many
// spaces before the others.
func (w *proof) hang(lead, words string, style text.Colors) {
	const wide = 1 // column by which the last letter of a line may stand out, where it is two wide
	for i, l := range strings.Split(text.WrapSoft(plain(words), max(w.opt.Width-wide-len(lead), 30)), "\n") {
		l = strings.TrimSpace(l)
		if w.opt.Color && len(style) > 0 {
			l = style.EscapeSeq() + l + text.EscapeReset
		}
		if i > 0 {
			lead = strings.Repeat(" ", len(lead))
		}
		w.b.WriteString(strings.TrimRight(lead+l, " ") + "\n")
	}
}

// command is a line that is not broken, so that it can be copied.
func (w *proof) command(line string) { w.b.WriteString(line + "\n") }

// some shows the first of n things and counts the rest.
func (w *proof) some(n int, show func(i int)) {
	shown := n
	if !w.whole && n > mostShown {
		shown = mostShown
	}
	for i := range shown {
		show(i)
	}
	if n > shown {
		w.item(fmt.Sprintf("and %d more; --whole shows them all", n-shown))
	}
}

// few joins the first words of a list and counts the rest.
func (w *proof) few(words []string) string {
	if more := len(words) - mostShown; more > 0 && !w.whole {
		return strings.Join(words[:mostShown], ", ") + " and " + thousands(more) + " more"
	}
	return strings.Join(words, ", ")
}
