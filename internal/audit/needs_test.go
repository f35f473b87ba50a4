package audit

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
)

func wanting(id string, needs, helps []string) Check {
	c := needing(id, needs...)
	c.Helps = helps
	return c
}

func wants(list []Want) (said []string) {
	for _, w := range list {
		said = append(said, fmt.Sprintf("%s.%s look=%d then=%d see=%d", w.Kind, w.Name, w.Look, w.Then, w.See))
	}
	return said
}

func TestReachCountsByNeeds(t *testing.T) {
	p := readOfTest(t, map[string]string{"practice.yaml": "name: P\nregulator: R\n", "loads.csv": "started\n2026-11-02\n"})
	battery := []Check{
		wanting("a/a", []string{"loads"}, nil),
		wanting("a/b", []string{"practice"}, []string{"loads", "tests"}),
		wanting("a/c", []string{"loads", "sterilizers"}, nil),
		wanting("a/d", []string{"sterilizers", "tests"}, nil),
		wanting("a/e", []string{"visits"}, nil),
		wanting("a/f", []string{"visits"}, nil),
		wanting("a/g", []string{"traces"}, nil),
		wanting("a/h", nil, []string{"waste"}),
	}
	r := NewReach(p, battery)
	assert.Equal(t, 3, r.Looking(), "loads, practice, and the one that needs nothing")
	assert.Equal(t, []string{
		"visits. look=2 then=5 see=0",
		"sterilizers. look=1 then=6 see=0",
		"tests. look=1 then=7 see=1",
	}, wants(r.Kinds(nil, 9)), "data-logger files where no logger is known of, and what helps one check only, are not asked for")
	assert.Equal(t, []string{
		"sterilizers. look=1 then=4 see=0", // it alone lets one look, and is half of what another waits for
		"tests. look=1 then=5 see=1",
		"visits. look=2 then=7 see=0",
	}, wants(r.Kinds([]string{"tests", "sterilizers"}, 9)))
	assert.Len(t, r.Kinds(nil, 2), 2)
	assert.Equal(t, 3, r.Looking(), "asking changes nothing")
}

// What was typed and could not be read is not to be typed again.
func TestReachAsksForNothingTwice(t *testing.T) {
	p := readOfTest(t, map[string]string{
		"practice.yaml": "name: P\nregulator: R\n", "visits.csv": "client,started\nC-1,2027-01-01\n", "stock.json": "%PDF-1.7",
		"sterilizers.csv": "id,method,logger\nS1,steam,yes\n",
	})
	r := NewReach(p, []Check{needing("a/a", "visits"), needing("a/b", "stock"), needing("a/c", "traces")})
	assert.Equal(t, 0, r.Looking())
	assert.Equal(t, []string{"traces. look=1 then=1 see=0"}, wants(r.Kinds(nil, 9)))
}

func TestReachOfFields(t *testing.T) {
	p := readOfTest(t, map[string]string{
		"practice.yaml": "name: P\nregulator: R\nunits: {temperature: cubits}\n",
		"loads.csv":     "started,exposure,temperature,decision\n2026-11-02,30,121 °C,\n",
	})
	helps := []string{"loads.exposure", "loads.temperature", "loads.decision", "loads.fault", "visits.packs", "practice.coverage", "practice.units"}
	list := []Check{wanting("a/a", []string{"loads"}, helps), wanting("a/b", []string{"loads"}, helps), wanting("a/c", []string{"loads"}, helps), wanting("a/d", []string{"visits"}, helps),
		wanting("a/e", nil, []string{"practice.coverage"}), wanting("a/f", nil, []string{"loads.drying"})}
	got := NewReach(p, list).Fields(9)
	assert.Equal(t, []string{"practice.coverage look=0 then=0 see=4", "loads.decision look=0 then=0 see=3"}, wants(got),
		"not what is written, what was typed and cannot be read, what is honestly empty, nor what helps one check")
	assert.NotEmpty(t, got[0].Gloss)
	assert.Len(t, NewReach(p, list).Fields(1), 1)
}
