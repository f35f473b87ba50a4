package practice

import (
	"testing"

	"github.com/stretchr/testify/assert"
)

// One item of a list that is no known id, each part of which is one, is those parts.
func TestReferencesPartedWhereEachIsKnown(t *testing.T) {
	for said, want := range map[string][]string{
		"clinic, bag":       {"clinic", "bag"},
		"clinic,bag & home": {"clinic", "bag", "home"},
		"clinic and bag":    {"clinic", "bag"},
		"bag; clinic, home": {"bag", "clinic", "home"},
		"north, south":      {"north, south"}, // an id of its own
		"clinic, shed":      {"clinic, shed"},
		"clinic,":           {"clinic,"},
		"clinic":            {"clinic"},
	} {
		p := folder(t, map[string]string{
			"sites.csv":  "id,kind\nclinic,clinic\nbag,mobile\nhome,clinic\n\"north, south\",clinic\nnorth,clinic\nsouth,clinic\n",
			"people.csv": "id,role,sites\nP1,nurse,\"" + said + "\"\nP2,nurse,\"" + said + "\"\n",
		})
		assert.Len(t, p.People, 2, said)
		for i := range p.People {
			assert.Equal(t, want, p.People[i].Sites.Items, said)
		}
		assert.Equal(t, want[0] == "clinic, shed" || want[0] == "clinic,", len(p.Dangling) > 0, said)
	}
}
