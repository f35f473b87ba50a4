// Package words explains the words of the trade that stand in records and reports:
// what exposure is, gravity and dynamic, gauge and absolute, class, coverage.
package words

// Entry explains one word.
type Entry struct {
	Word    string   `yaml:"word"`
	Also    []string `yaml:"also"`    // other words and spellings for it
	Meaning string   `yaml:"meaning"` // one or two sentences
	Short   string   `yaml:"short"`   // a clause to stand in brackets after the word where it is first met: "how long the load was held at temperature"
	Where   []string `yaml:"where"`   // KIND.FIELD that it is written in
	See     []string `yaml:"see"`     // other words
	Sources []string `yaml:"sources"` // ids in checks/criteria/sources.yaml; none for common practice
}

// All gives every entry, by word.
func All() []*Entry { return nil }

// Find gives the entry of a word, or of another word or spelling for it; else the words
// that are nearest.
func Find(word string) (e *Entry, near []string) { return nil, nil }
