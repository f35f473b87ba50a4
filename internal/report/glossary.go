package report

import (
	"strings"
	"unicode"
	"unicode/utf8"

	glossary "footing/internal/words"

	"github.com/yuin/goldmark/ast"
)

// wordLead begins the id of a word that is explained.
const wordLead = "w-"

// terms finds the words to explain in running text: by the first word of each form
// in lower case, the longer forms first.
type terms map[string][]term

type term struct {
	form  []string // in lower case, split at spaces
	exact string   // as it is spelled, where its letters matter: "F0", "class B"
	entry *glossary.Entry
}

func newTerms() terms {
	t := terms{}
	for _, e := range glossary.All() {
		for _, form := range e.Running {
			words := strings.Fields(strings.ToLower(form))
			exact := ""
			if len(words[len(words)-1]) <= 2 {
				exact = form
			}
			list := append(t[words[0]], term{words, exact, e})
			for i := len(list) - 1; i > 0 && len(list[i].form) > len(list[i-1].form); i-- {
				list[i], list[i-1] = list[i-1], list[i]
			}
			t[words[0]] = list
		}
	}
	return t
}

// each calls found for every term in s, with where it begins and ends.
func (t terms) each(s string, found func(e *glossary.Entry, from, to int)) {
	for at := 0; at < len(s); {
		from, to := nextWord(s, at)
		if from < 0 {
			return
		}
		at = to
		for _, one := range t[strings.ToLower(s[from:to])] {
			if end := one.end(s, from, to); end > 0 {
				found(one.entry, from, end)
				at = end
				break
			}
		}
	}
}

// end is where the term ends that begins with the word from..to of s; 0 if it is not that term.
func (one *term) end(s string, from, to int) int {
	for _, word := range one.form[1:] {
		next, after := nextWord(s, to)
		if next != to+1 || s[to] != ' ' || strings.ToLower(s[next:after]) != word {
			return 0
		}
		to = after
	}
	if one.exact != "" && !strings.HasSuffix(s[from:to], one.exact[strings.LastIndex(one.exact, " ")+1:]) {
		return 0
	}
	return to
}

// nextWord is the next run of letters, figures and hyphens from at on; -1 if there is
// none. The name of a check or criterion, cycles/exposure, is one word.
func nextWord(s string, at int) (from, to int) {
	from = -1
	for i, r := range s[at:] {
		in := unicode.IsLetter(r) || unicode.IsDigit(r) || r == '-' || r == '_' ||
			(r == '.' || r == '/') && from >= 0 && at+i+1 < len(s) && (s[at+i+1] >= 'a' && s[at+i+1] <= 'z')
		switch {
		case in && from < 0:
			from = at + i
		case !in && from >= 0:
			return from, at + i
		}
	}
	return from, len(s)
}

// explain leads the first use of each word in a text to what it means. What stands
// in a link or is marked as code stays as it is.
func (p *page) explain(m md) md {
	if p.explained == nil {
		p.explained = map[*glossary.Entry]bool{}
	}
	s := string(m)
	if strings.ContainsAny(s, "[`") {
		return m
	}
	var b strings.Builder
	last := 0
	p.terms().each(s, func(e *glossary.Entry, from, to int) {
		if p.explained[e] {
			return
		}
		p.explained[e] = true
		b.WriteString(s[last:from] + "[" + s[from:to] + "](#" + wordID(e) + ")")
		last = to
	})
	return md(b.String() + s[last:])
}

// explainEach escapes each text and explains it.
func (p *page) explainEach(list []string) []md {
	out := texts(list)
	for i := range out {
		out[i] = p.explain(out[i])
	}
	return out
}

func (p *page) terms() terms {
	if p.wordTerms == nil {
		p.wordTerms = newTerms()
	}
	return p.wordTerms
}

// wordID is the id of a word's line on the page.
func wordID(e *glossary.Entry) string { return wordLead + slug(e.Word) }

func slug(word string) string { return strings.ReplaceAll(strings.ToLower(word), " ", "-") }

// wordIDs gives each line of the list of words its id, by the word it begins with.
func wordIDs(l *ast.List, source []byte) {
	for item := l.FirstChild(); item != nil; item = item.NextSibling() {
		if block := item.FirstChild(); block != nil && block.FirstChild() != nil && block.FirstChild().Kind() == ast.KindEmphasis {
			item.SetAttributeString("id", []byte(wordLead+slug(words(block.FirstChild(), source))))
		}
	}
}

// words explains the words that stand in the report so far.
func (p *page) words() {
	met := map[*glossary.Entry]bool{}
	p.terms().each(p.b.String(), func(e *glossary.Entry, _, _ int) { met[e] = true })
	var items []md
	for _, e := range glossary.All() {
		if met[e] {
			items = append(items, say("**%s**: %s", upperWord(e.Word), e.Meaning))
		}
	}
	if len(items) == 0 {
		return
	}
	p.heading(2, titleWords)
	p.para("What words here mean. “footing explain WORD” says more: where each is typed, and which texts it rests on.")
	p.list(items...)
}

// upperWord writes a word with a capital, unless it has one further on: kPa.
func upperWord(s string) string {
	if _, n := utf8.DecodeRuneInString(s); strings.ToLower(s[n:]) != s[n:] {
		return s
	}
	return upper(s)
}
