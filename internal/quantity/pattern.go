package quantity

import (
	"regexp"
	"sync"
)

// pattern is a regular expression that is compiled when it is first asked: most runs of
// the program meet nothing that the strict readers do not read.
type pattern struct {
	text string
	once sync.Once
	re   *regexp.Regexp
}

func when(text string) *pattern { return &pattern{text: text} }

func (p *pattern) get() *regexp.Regexp {
	p.once.Do(func() { p.re = regexp.MustCompile(p.text) })
	return p.re
}

func (p *pattern) MatchString(s string) bool            { return p.get().MatchString(s) }
func (p *pattern) FindString(s string) string           { return p.get().FindString(s) }
func (p *pattern) FindStringSubmatch(s string) []string { return p.get().FindStringSubmatch(s) }
func (p *pattern) ReplaceAllString(s, instead string) string {
	return p.get().ReplaceAllString(s, instead)
}
