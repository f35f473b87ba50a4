package record

import (
	"strings"
	"testing"
)

// What is said of a file that is no text, and what to do, has no words of computing that
// a practitioner could not act on.
func TestWordsAboutTextArePlain(t *testing.T) {
	for _, r := range []*refusal{errDamaged, looksBinary([]byte("a\x00b"))} {
		said := r.says + " " + r.todo
		for _, jargon := range []string{"byte", "encoding", "text in UTF-8"} {
			if strings.Contains(said, jargon) {
				t.Errorf("%q says %q", said, jargon)
			}
		}
		if !strings.Contains(said, "CSV UTF-8") {
			t.Errorf("%q does not name the choice to make when saving", said)
		}
	}
}
