package audit

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"footing/internal/practice"
	"footing/internal/quantity"
	"footing/internal/result"
)

// declarations says, for each statement to be signed, what the folder holds of the
// kinds it rests on. It never says what to sign.
func declarations(p *practice.Practice) []result.Declaration {
	var list []result.Declaration
	d := declared{p: p, rows: map[string][]practice.Judged{}}
	if len(p.Profile.Declarations) > 0 {
		d.gather()
	}
	for _, of := range p.Profile.Declarations {
		list = append(list, d.of(of))
	}
	return list
}

// declared looks up what declarations rest on.
type declared struct {
	p           *practice.Practice
	from, until quantity.Day // the time that was read
	rows        map[string][]practice.Judged
}

func (d *declared) gather() {
	d.from, d.until = recorded(d.p)
	for row := range d.p.EachRow {
		kind := row.Row.Kind()
		d.rows[kind] = append(d.rows[kind], row)
	}
}

// recorded is the time that the records of a practice cover: from the day that
// practice.yaml names, else the first event, to the day of the audit.
func recorded(p *practice.Practice) (from, until quantity.Day) {
	from, _ = p.Period()
	if d := p.Profile.RecordsFrom; d.Written() && d <= p.AsOf {
		from = d
	}
	return from, p.AsOf
}

func (d *declared) of(of practice.Declaration) result.Declaration {
	out := result.Declaration{Text: of.Text, Rests: of.RestsOn.Items, Level: result.NoSupport}
	if len(of.RestsOn.Items) == 0 {
		out.State = "no kinds of record are named under rests_on, so these records neither support nor contradict it"
		return out
	}
	var said, untyped, lost []string
	whole, named := true, certificatesNamed(of.Text)
	for i, kind := range of.RestsOn.Items {
		if slices.Contains(of.RestsOn.Items[:i], kind) {
			continue
		}
		s := d.support(kind, named)
		out.Support = append(out.Support, s)
		name := kind
		switch {
		case kind == "credentials" && len(named) > 0 && d.p.Count(kind) > 0:
			name += " (" + strings.ReplaceAll(words(named), "-", " ") + ")"
		case len(s.KeptAt) > 0:
			name += " (kept at: " + strings.Join(s.KeptAt, "; ") + ")"
		}
		switch {
		case s.Rows == 0 && slices.Contains(mayBeNone, kind) && d.from.Written() && d.p.Whole(kind, d.from, d.until):
			said = append(said, fmt.Sprintf("no %s typed, and the folder is said to hold all since %s", kind, d.from.Words()))
		case s.Rows > 0:
			said = append(said, supportSays(&s))
			whole = whole && supports(&s)
		case name == kind && (d.p.Typed(kind) || d.p.Unread(kind)):
			lost, whole = append(lost, kind), false
		default:
			untyped, whole = append(untyped, name), false
		}
	}
	var without []string
	if len(untyped) > 0 {
		without = append(without, "nothing in the folder for "+words(untyped))
	}
	if len(lost) > 0 {
		without = append(without, "what is typed for "+words(lost)+" could not be read, or lies outside this time")
	}
	switch {
	case len(said) == 0:
		out.State = strings.Join(without, "; ") + ", so these records neither support nor contradict it"
		return out
	case whole:
		out.Level = result.Supported
	default:
		out.Level = result.PartSupport
	}
	out.State = out.Level + ": " + strings.Join(append(said, without...), "; ")
	if len(without) > 0 {
		out.State += ", which neither supports nor contradicts it"
	}
	return out
}

// certificateWords are the words by which a declaration names a kind of certificate. A
// declaration that names none rests on all of them.
var certificateWords = []struct {
	kind  string
	words []string
}{
	{"registration", []string{"regist", "licen"}},
	{"liability-cover", []string{"liabil", "insur", "indemnity", "cover"}},
	{"first-aid", []string{"first aid", "first-aid", "resuscitation"}},
	{"infection-control", []string{"infection"}},
	{"reprocessing", []string{"reprocess"}},
	{"respirator-fit", []string{"respirator"}},
	{"hazardous-products", []string{"hazardous"}},
	{"education", []string{"education", "professional development", "learning"}},
}

// certificatesNamed are the kinds of certificate that the words of a declaration name.
func certificatesNamed(text string) (kinds []string) {
	text = strings.ToLower(text)
	for _, c := range certificateWords {
		if slices.ContainsFunc(c.words, func(w string) bool { return strings.Contains(text, w) }) {
			kinds = append(kinds, c.kind)
		}
	}
	return kinds
}

// monthly are the kinds of which a practice at work has rows in each month; of another
// kind a month without one says nothing.
var monthly = []string{"visits", "loads", "tests", "cleanings", "soaks", "housekeeping"}

// mayBeNone are the kinds of which there may rightly be no row.
var mayBeNone = []string{"incidents", "complaints", "referrals", "actions"}

// support is what the folder holds of one kind; of certificates, of the kinds named
// where there are any.
func (d *declared) support(kind string, named []string) result.Support {
	s := result.Support{Kind: kind, KeptAt: keptAt(d.p, kind, nil)}
	if kind == "credentials" {
		d.certificates(&s, named)
		return s
	}
	rows := d.rows[kind]
	if slices.Contains(monthly, kind) && d.from.Written() {
		rows = slices.DeleteFunc(slices.Clone(rows), func(r practice.Judged) bool { return r.On < d.from || r.On > d.until })
		months := monthsOf(d.from, d.until)
		s.Of = len(months)
		typed := map[string]bool{}
		for _, r := range rows {
			typed[monthOf(r.On)] = true
		}
		for _, m := range months {
			switch {
			case typed[m]:
				s.Months++
			case !(&asking{p: d.p}).covered(kind, m):
				s.Without = append(s.Without, m)
			}
		}
	}
	s.Rows = len(rows)
	slices.SortStableFunc(rows, func(a, b practice.Judged) int { return cmp.Compare(a.On, b.On) })
	s.Evidence = firstAndLast(len(rows), func(i int) Evidence { return At(rows[i].Row, rows[i].When) })
	return s
}

// supports reports whether nothing of a kind is in want: each month has a row, each
// certificate is in force.
func supports(s *result.Support) bool {
	ended := func(p result.Paper) bool { return p.State != inForce }
	return len(s.Without) == 0 && !slices.ContainsFunc(s.Papers, ended)
}

// supportSays is what is typed of one kind, in words.
func supportSays(s *result.Support) string {
	if len(s.Papers) > 0 {
		var parts []string
		for _, p := range s.Papers {
			parts = append(parts, paperSays(p))
		}
		const most = 6
		if more := len(parts) - most; more > 0 {
			parts = append(parts[:most:most], fmt.Sprintf("and %d more", more))
		}
		return strings.Join(parts, ", ")
	}
	out := fmt.Sprintf("%s of %s typed", Plural(s.Rows, "row", "rows"), s.Kind)
	if s.Of > 0 {
		out += fmt.Sprintf(", for %d of %s", s.Months, Plural(s.Of, "month", "months"))
	}
	if len(s.Without) > 0 {
		out += "; none for " + words(monthRuns(s.Without))
		if len(s.KeptAt) > 0 {
			out += " (look first: " + strings.Join(s.KeptAt, "; ") + ")"
		}
	}
	return out
}

// How a certificate or policy stands on the day of the audit.
const (
	inForce     = "in force"
	hasEnded    = "ended"
	beginsLater = "begins later"
	isSuspended = "suspended"
)

func paperSays(p result.Paper) string {
	day := func(s string) string {
		if d, err := quantity.ParseDay(s, quantity.ISO); err == nil {
			return d.Words()
		}
		return s
	}
	out := p.What
	switch {
	case p.From != "" && p.Until != "":
		out += " " + day(p.From) + " to " + day(p.Until)
	case p.Until != "":
		out += " until " + day(p.Until)
	case p.From != "":
		out += " from " + day(p.From) + ", no last day written"
	default:
		out += ", no days written"
	}
	if p.State != inForce {
		out += " (" + p.State + ")"
	}
	return out
}

// certificates are, of each person who works here and each kind, the one in force that
// lasts longest, else the last one.
func (d *declared) certificates(s *result.Support, named []string) {
	var rows []*practice.Credential
	for _, c := range currentCertificates(d.p) {
		if len(named) > 0 && !slices.Contains(named, c.Type) {
			continue
		}
		what := strings.ReplaceAll(c.Type, "-", " ")
		if c.Person != "" {
			what += " of " + shownID("people", c.Person)
		}
		if len(c.Sites.Items) > 0 {
			what += " (for " + words(c.Sites.Items) + ")"
		}
		rows = append(rows, c)
		s.Papers = append(s.Papers, result.Paper{What: what, From: c.ValidFrom.String(), Until: c.ValidUntil.String(), State: certificateState(c, d.p.AsOf)})
	}
	s.Rows = len(rows)
	s.Evidence = firstAndLast(len(rows), func(i int) Evidence { return At(&rows[i].Row, "valid_until") })
}

// currentCertificates are, of each person who works here and each kind, the certificate
// in force that lasts longest, else the one that ended last, by person and kind.
func currentCertificates(p *practice.Practice) (list []*practice.Credential) {
	type key struct{ person, kind string }
	best := map[key]*practice.Credential{}
	var order []key
	for i := range p.Credentials {
		c := &p.Credentials[i]
		if v, state := p.Person(c.Person); state == practice.One && !v.Works(p.AsOf) {
			continue
		}
		k := key{c.Person, c.Type}
		switch old := best[k]; {
		case old == nil:
			best[k], order = c, append(order, k)
		case better(c, old, p.AsOf):
			best[k] = c
		}
	}
	slices.SortFunc(order, func(a, b key) int { return cmp.Or(cmp.Compare(a.person, b.person), cmp.Compare(a.kind, b.kind)) })
	for _, k := range order {
		list = append(list, best[k])
	}
	return list
}

func better(c, old *practice.Credential, asOf quantity.Day) bool {
	a, b := certificateState(c, asOf) == inForce, certificateState(old, asOf) == inForce
	if a != b {
		return a
	}
	last := func(c *practice.Credential) quantity.Day {
		if !c.ValidUntil.Written() && a {
			return quantity.NewDay(9999, time.December, 31)
		}
		return c.ValidUntil
	}
	return last(c) > last(old)
}

func certificateState(c *practice.Credential, asOf quantity.Day) string {
	switch {
	case c.Status == "suspended":
		return isSuspended
	case c.ValidFrom > asOf:
		return beginsLater
	case c.ValidUntil.Written() && c.ValidUntil < asOf:
		return hasEnded
	}
	return inForce
}
