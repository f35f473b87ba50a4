package result

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// shareSample is a small result about clients and people of given ids.
func shareSample(client, person string) *Result {
	r := &Result{Format: Format, Tool: "footing test", AsOf: "2026-11-24", Purpose: Purpose{Kind: "self-audit"}, Practice: Practice{Name: "Heron Lane"},
		Rules:    []Rule{{Criterion: "scope", When: "to " + person + ", from 3 Jun 2026", Ours: "no grant"}},
		Accepted: []Accepted{{Finding: "clients/screen", By: person, Reason: "seen to"}},
		Conclusion: Conclusion{Stop: true, Sentence: "1 thing written here says: stop, and see to it before the next client.",
			Stops: []string{Fingerprint("clients/screen", "clients", client, "")}},
		Findings: []Finding{{
			Fingerprint: Fingerprint("clients/screen", "clients", client, ""), Check: "clients/screen", Grade: Critical, Subject: Subject{Kind: "clients", ID: client},
			Summary: "latex gloves size M at 1 visit of a client whose answer is unsure; no latex until it is known",
			Steps:   []string{"Ask the client again.", "Lay out size M without latex."}, Verify: "The next screen says yes or no.",
			Evidence: []Evidence{
				{Kind: "clients", ID: client, Field: "id", Value: client, File: "clients.csv", Line: 8, Row: 7, Column: 1, EndColumn: 4},
				{Kind: "clients", ID: client, Field: "note", Value: "daughter of the baker", Private: true, File: "clients.csv", Line: 8},
				{Kind: "visits", ID: "V-1", Field: "person", Value: person, File: "visits.csv", Line: 2},
				{Kind: "visits", ID: "V-1", Field: "client", Value: client, File: "visits.csv", Line: 2},
				{Kind: "loads", ID: "L-1", Field: "note", Value: "told the baker's daughter", File: "loads.csv", Line: 3},
				{Kind: "loads", ID: "L-1", Field: "temperature", Value: "134", File: "loads.csv", Line: 3, Note: "the load of size M"},
			},
		}},
		Due:          []Due{{ID: Fingerprint("people", "x", person, "2026-12-31"), On: "2026-12-31", Kind: "credentials", Record: "CR-1", What: "first aid of " + person}},
		Gear:         []Gear{{Item: "gloves", Site: "clinic", Size: "M", People: []string{person}}},
		Declarations: []Declaration{{Text: "I am trained", State: "supported: first aid of " + person + " (for clinic) 1 Jan 2026 to 31 Dec 2026"}},
		Bundle: &Bundle{Words: "complaint CP-1", Client: client, Says: []string{"About client " + client + ", 2 visits."},
			Chains: []Chain{{Visit: "V-1", Client: client, Person: person}}},
	}
	return r
}

// wordOfOurs are ids that are words or numbers of our sentences too, or look like pseudonyms.
var wordsOfOurs = []string{"AB", "1", "M", "134", "client", "size", "next", "person-1", "client-1", "clinic", "Ada Vale", "of", "wren", "C-0147", "yes", "L-1", "=1+1"}

func TestShareReplacesByStructure(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		id := rapid.OneOf(rapid.SampledFrom(wordsOfOurs), rapid.StringMatching(`[A-Za-z0-9][A-Za-z0-9 .-]{0,8}[A-Za-z0-9]`))
		client := id.Draw(t, "client")
		person := id.Filter(func(s string) bool { return s != client }).Draw(t, "person")
		others := rapid.SliceOfN(id, 0, 20).Draw(t, "others")
		r := shareSample(client, person)
		var before bytes.Buffer
		require.NoError(t, Write(&before, r))
		out, key := Share(r, map[string][]string{"clients": others}, []byte("a secret"))
		var after bytes.Buffer
		require.NoError(t, Write(&after, r))
		require.Equal(t, before.String(), after.String(), "the result itself is not changed")

		f := out.Findings[0]
		name := f.Subject.ID
		assert.Regexp(t, `^client-\d+$`, name)
		assert.NotContains(t, append([]string{client, person}, others...), name, "no name of the copy is somebody's id")
		who := out.Gear[0].People[0]
		assert.Regexp(t, `^person-\d+$`, who)
		find := func(field, kind string) Evidence {
			i := slices.IndexFunc(f.Evidence, func(e Evidence) bool { return e.Kind == kind && e.Field == field })
			require.GreaterOrEqual(t, i, 0, "%s.%s", kind, field)
			return f.Evidence[i]
		}
		assert.Equal(t, name, find("id", "clients").Value)
		assert.Equal(t, name, find("client", "visits").Value)
		assert.Equal(t, who, find("person", "visits").Value)
		assert.Zero(t, find("id", "clients").Row, "the row of a client tells its place in the list")
		assert.Equal(t, leftOut, find("note", "clients").Value)
		assert.Equal(t, leftOut, find("note", "loads").Value)
		assert.Equal(t, "134", find("temperature", "loads").Value)
		assert.Equal(t, who, out.Accepted[0].By)
		assert.Equal(t, "first aid of "+who, out.Due[0].What)
		assert.Equal(t, "to "+who+", from 3 Jun 2026", out.Rules[0].When)
		assert.Equal(t, []string{name, who}, []string{out.Bundle.Chains[0].Client, out.Bundle.Chains[0].Person})
		assert.Equal(t, "About client "+name+", 2 visits.", out.Bundle.Says[0])
		assert.Equal(t, "supported: first aid of "+who+" (for clinic) 1 Jan 2026 to 31 Dec 2026", out.Declarations[0].State)
		assert.NotEqual(t, r.Findings[0].Fingerprint, f.Fingerprint, "it could be guessed from the id")
		assert.Equal(t, []string{f.Fingerprint}, out.Conclusion.Stops)

		if !strings.ContainsFunc(client+person, func(r rune) bool { return r == ' ' || r == '-' || r >= '0' && r <= '9' }) {
			assert.Equal(t, r.Findings[0].Summary, f.Summary)
			assert.Equal(t, r.Findings[0].Steps, f.Steps)
			assert.Equal(t, r.Conclusion.Sentence, out.Conclusion.Sentence)
		}
		seen := map[string]bool{}
		for _, p := range key {
			assert.False(t, seen[p.Name], "one name, one id")
			seen[p.Name] = true
		}
		assert.Contains(t, key, Pseudonym{name, "clients", strings.TrimSpace(client)})
		assert.Contains(t, key, Pseudonym{who, "people", strings.TrimSpace(person)})

		again, _ := Share(r, map[string][]string{"clients": others}, []byte("a secret"))
		assert.Equal(t, out, again)
	})
}

// Short ids, and ids that are words of ours, leave the sentences as they are.
func TestShareKeepsSentences(t *testing.T) {
	for _, id := range []string{"AB", "1", "M", "134", "client", "size", "next", "of", "wren", "answer", "latex", "2"} {
		r := shareSample(id, "P-01")
		out, _ := Share(r, nil, []byte("s"))
		assert.Equal(t, r.Findings[0].Summary, out.Findings[0].Summary, id)
		assert.Equal(t, r.Findings[0].Steps, out.Findings[0].Steps, id)
		assert.Equal(t, r.Findings[0].Verify, out.Findings[0].Verify, id)
		assert.Equal(t, r.Conclusion.Sentence, out.Conclusion.Sentence, id)
		assert.Equal(t, "the load of size M", out.Findings[0].Evidence[5].Note, id)
	}
}

// The numbers come from the secret, not from the order of the ids.
func TestShareNumbersTellNothing(t *testing.T) {
	var ids []string
	for i := range 40 {
		ids = append(ids, fmt.Sprintf("C-%03d", i))
	}
	names := func(secret string) (list []string) {
		s := newSharer(map[string][]string{"clients": ids}, []byte(secret))
		s.number()
		for _, id := range ids {
			name, ok := s.who("clients", id)
			require.True(t, ok)
			list = append(list, name)
		}
		return list
	}
	one, two := names("one"), names("two")
	assert.Equal(t, one, names("one"))
	assert.NotEqual(t, one, two)
	assert.ElementsMatch(t, one, two)
	// Of 40 places each stays with a chance of 1 in 40: more than 8 that stay has a chance below one in a million.
	stay := 0
	for i := range one {
		if one[i] == fmt.Sprintf("client-%d", i+1) {
			stay++
		}
	}
	assert.Less(t, stay, 9)
	slices.Reverse(ids)
	backwards := names("one")
	slices.Reverse(backwards)
	assert.Equal(t, one, backwards, "nor from the order in which they were met")
}

func TestShareTexts(t *testing.T) {
	s := newSharer(map[string][]string{"clients": {"C-0147", "147", "0148", "wren", "M", "Ada Vale", "loads"}, "people": {"P-01", "M2", "RH", "J.D."}}, []byte("s"))
	s.number()
	of := func(kind, id string) string { name, _ := s.who(kind, id); return name }
	for _, c := range []struct {
		what, from, want string
		by               func(string) string
	}{
		{"a file's name", "traces/C-0147.csv", "traces/" + of("clients", "C-0147") + ".csv", s.typed},
		{"set otherwise", "traces/c_0147 export.csv", "traces/" + of("clients", "C-0147") + " export.csv", s.typed},
		{"with no mark between", "scans/C0147-2.pdf", "scans/" + of("clients", "C-0147") + "-2.pdf", s.typed},
		{"part of a longer word", "C-01471.csv", "C-01471.csv", s.typed},
		{"a number of four figures", "card 0148", "card " + of("clients", "0148"), s.typed},
		{"a number of three figures is none", "load 147", "load 147", s.typed},
		{"but after the word", "of client 147", "of client " + of("clients", "147"), s.typed},
		{"a word", "ring wren's daughter", "ring " + of("clients", "wren") + "'s daughter", s.typed},
		{"a word of file names", "loads.csv row 3", "loads.csv row 3", s.typed},
		{"a sentence of ours keeps words", "a wren; 0148; size M", "a wren; 0148; size M", s.spoken},
		{"but not what is like no word", "about C-0147.", "about " + of("clients", "C-0147") + ".", s.spoken},
		{"nor a name", "seen by Ada Vale", "seen by " + of("clients", "Ada Vale"), s.spoken},
		{"one letter after the word", "Client M, 3 visits", "Client " + of("clients", "M") + ", 3 visits", s.said},
		{"not within a word", "subclient M", "subclient M", s.said},
		{"small letters after the word", "client wren, 2 visits", "client " + of("clients", "wren") + ", 2 visits", s.said},
		{"a certificate", "first aid of RH (for clinic)", "first aid of " + of("people", "RH") + " (for clinic)", s.said},
		{"initials in capitals", "shelf of RH", "shelf of " + of("people", "RH"), s.typed},
		{"initials set otherwise", "ask JD, or J. D.", "ask " + of("people", "J.D.") + ", or " + of("people", "J.D.") + ".", s.typed},
		{"initials in small letters are a word", "rh factor", "rh factor", s.typed},
		{"initials in a sentence of ours", "the relative humidity, RH", "the relative humidity, RH", s.spoken},
		{"up to an edge", "client 147-2", "client " + of("clients", "147") + "-2", s.said},
	} {
		assert.Equal(t, c.want, c.by(c.from), c.what)
	}
	assert.Equal(t, "S1", s.id("sterilizers", "S1"))
	assert.Equal(t, "M2", s.id("sterilizers", "M2"), "a sterilizer may be called as a person is")
	assert.Equal(t, "RH", s.id("sterilizers", "RH"), "by initials too")
	assert.Equal(t, "V-"+of("clients", "C-0147")+"-3", s.id("visits", "V-C-0147-3"))
}

// What the practice typed of its contacts stands in sentences of ours too, and reads there as
// it does in the list.
func TestShareQuotes(t *testing.T) {
	for _, id := range []string{"wren", "RH", "Ada Vale", "P-01"} {
		r := shareSample("C-7", id)
		r.Contacts = map[string]string{"regulator": " ask " + id + ", extension 4"}
		r.AskedFor = []AskedFor{{Look: "Look at the log (kept: shelf of " + id + ").", KeptAt: []string{"shelf of " + id}}}
		r.Bundle.Now = []string{"Telephone your regulator (ask " + id + ", extension 4) of client C-7."}
		out, key := Share(r, nil, []byte("s"))
		who := out.Gear[0].People[0]
		assert.Equal(t, " ask "+who+", extension 4", out.Contacts["regulator"])
		assert.Equal(t, "Telephone your regulator (ask "+who+", extension 4) of client client-1.", out.Bundle.Now[0])
		assert.Equal(t, "Look at the log (kept: shelf of "+who+").", out.AskedFor[0].Look)
		assert.Contains(t, key, Pseudonym{who, "people", id})
	}
	for _, id := range []string{"size", "lay", "answer"} { // one word alone is no quote where it may be a word of ours
		r := shareSample("C-7", id)
		r.Contacts = map[string]string{"insurer": id}
		r.Bundle.Now = []string{"Tell your insurer (" + id + ") of the mislayings and sizes."}
		out, _ := Share(r, nil, []byte("s"))
		assert.Equal(t, "Tell your insurer ("+out.Gear[0].People[0]+") of the mislayings and sizes.", out.Bundle.Now[0])
		assert.Equal(t, r.Findings[0].Steps, out.Findings[0].Steps)
		assert.Equal(t, r.Findings[0].Summary, out.Findings[0].Summary)
	}
}

func TestShareList(t *testing.T) {
	s := newSharer(map[string][]string{"people": {"P-01", "M"}}, []byte("s"))
	s.number()
	m, p := s.names["people"]["M"], s.names["people"]["P-01"]
	e := Evidence{Kind: "stock", Field: "x", Value: "M"}
	s.evidence(&e)
	assert.Equal(t, "M", e.Value, "a size")
	e = Evidence{Kind: "complaints", Field: "persons", Value: "P-01"}
	s.evidence(&e)
	assert.Equal(t, p, e.Value)
	e = Evidence{Kind: "loads", Field: "released_by", Value: "M"}
	s.evidence(&e)
	assert.Equal(t, m, e.Value)
}

// Evidence of many clients stands in the order of their names, not in that of the file;
// other evidence stays where it is.
func TestShareOrderTellsNothing(t *testing.T) {
	r := &Result{Findings: []Finding{{Grade: Minor, Check: "clients/screen", Evidence: []Evidence{{Kind: "policies", ID: "Z"}}}}}
	for i := range 9 {
		r.Findings[0].Evidence = append(r.Findings[0].Evidence, Evidence{Kind: "screens", ID: fmt.Sprintf("Q-%d", i+10), File: "screens.csv", Row: i + 1, Line: i + 2, Cell: "A7"})
	}
	r.Findings[0].Evidence = append(r.Findings[0].Evidence, Evidence{Kind: "loads", ID: "A", Row: 4})
	for i := range 9 {
		r.Findings = append(r.Findings, Finding{Grade: Minor, Check: "clients/history", Subject: Subject{"clients", fmt.Sprintf("C-%d", i+10)}, Fingerprint: fmt.Sprintf("%012x", i)})
	}
	r.Since = &Since{}
	for _, f := range r.Findings {
		r.Since.Findings = append(r.Since.Findings, Followed{Finding: f.Fingerprint, Grade: f.Grade})
	}
	out, _ := Share(r, nil, []byte("s"))
	var subjects []string
	for i, f := range out.Findings {
		assert.Equal(t, f.Fingerprint, out.Since.Findings[i].Finding, "what became of a finding stands in the order of the findings")
		if f.Check == "clients/history" {
			subjects = append(subjects, f.Subject.ID)
		}
	}
	require.Len(t, subjects, 9)
	assert.True(t, slices.IsSorted(subjects), "%q", subjects)
	list := out.Findings[slices.IndexFunc(out.Findings, func(f Finding) bool { return f.Check == "clients/screen" })].Evidence
	assert.Equal(t, []string{"Z", "A"}, []string{list[0].ID, list[10].ID})
	assert.Equal(t, 4, list[10].Row)
	for i, e := range list[1:10] {
		assert.Equal(t, fmt.Sprintf("screen-%d", i+1), e.ID)
		assert.Equal(t, Evidence{Kind: "screens", ID: e.ID, File: "screens.csv"}, e)
	}
}

// A copy reads back like any other document.
func TestShareReadsBack(t *testing.T) {
	r := shareSample("C-1", "P-1")
	r.Conclusion.Stops = []string{r.Findings[0].Fingerprint}
	out, _ := Share(r, nil, []byte("s"))
	assert.Contains(t, out.Shared, "Heron Lane keeps it apart")
	var b bytes.Buffer
	require.NoError(t, WriteAnswer(&b, first(ShareAnswer(&Answer{Format: LookbackFormat, Tool: "footing test", AsOf: "2026-11-24", Asked: Asked{Kind: "clients", ID: "C-1", Words: "client C-1"}}, nil, []byte("s")))))
	a, err := ReadAnswer(&b)
	require.NoError(t, err)
	assert.Equal(t, "client-1", a.Asked.ID)
	assert.Equal(t, "client client-1", a.Asked.Words)
	b.Reset()
	require.NoError(t, WriteDraw(&b, first(ShareDraw(&Draw{Format: DrawFormat, Tool: "footing test", AsOf: "2026-11-24", Chains: []Chain{{Visit: "V-C-21", Client: "C-21", Person: "P-1"}}}, nil, []byte("s")))))
	d, err := ReadDraw(&b)
	require.NoError(t, err)
	assert.Equal(t, "V-client-1", d.Chains[0].Visit)
}

func first[T any](document *T, _ []Pseudonym) *T { return document }
