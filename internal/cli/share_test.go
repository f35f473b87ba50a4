package cli

import (
	"bytes"
	"context"
	"encoding/csv"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"footing/internal/demo"
	"footing/internal/practice"
	"footing/internal/record"
	"footing/internal/result"
	"footing/schemas"
)

const phrase = "four words for tests"

// shareOf calls a command with --share, and gives its own folder, the copy and the key.
func shareOf(t testing.TB, args ...string) (own, copied string, key map[string]string) {
	t.Helper()
	own = filepath.Join(t.TempDir(), "own")
	got := call(context.Background(), append(args, "--out", own, "--share", "--share-phrase", phrase)...)
	require.NotEqual(t, CouldNot, got.status, got.err)
	require.Contains(t, got.out, own+"-share-key/key.csv")
	return own, own + "-share", keyOf(t, own+"-share-key")
}

// keyOf reads a key: name in the copy → id.
func keyOf(t testing.TB, dir string) map[string]string {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(dir, keyFile))
	require.NoError(t, err)
	rows, err := csv.NewReader(bytes.NewReader(bytes.TrimPrefix(data, []byte("\ufeff")))).ReadAll()
	require.NoError(t, err)
	require.Equal(t, []string{"name in the copy", "kind", "id"}, rows[0])
	key := map[string]string{}
	for _, r := range rows[1:] {
		key[r[0]] = r[2]
	}
	return key
}

func sharedAudit(t testing.TB, dir string) *result.Result {
	t.Helper()
	data, err := os.ReadFile(filepath.Join(dir, auditFile))
	require.NoError(t, err)
	r, err := result.Read(bytes.NewReader(data))
	require.NoError(t, err)
	return r
}

// secrets are the words that no copy of a folder may hold: ids of clients and people, and
// what stands in private fields, as far as no sentence of ours has them too.
func secrets(t testing.TB, folder string) (words []string) {
	t.Helper()
	asOf, err := dayOf("as-of", demo.AsOf)
	require.NoError(t, err)
	p, err := practice.Read(context.Background(), folder, asOf, record.Options{})
	require.NoError(t, err)
	ids, known := sharing(context.Background(), &copyPlaces{})
	noteIDs(ids, p)
	for _, kind := range []string{"clients", "people"} {
		for _, id := range known[kind] {
			if strings.ContainsAny(id, "0123456789") && len(id) > 2 { // "5", and C-1 of a book's table, say nothing by themselves
				words = append(words, id)
			}
		}
	}
	p.EachRow(func(j practice.Judged) bool {
		kind, _ := schemas.Lookup(j.Row.Kind())
		for _, f := range kind.Fields {
			if text := strings.TrimSpace(j.Row.Text(f.Name)); f.Private && (strings.Contains(text, " ") || f.Form == schemas.Text && len(text) > 5) {
				words = append(words, text)
			}
		}
		return true
	})
	slices.Sort(words)
	return slices.DeleteFunc(slices.Compact(words), func(w string) bool { return w == "" || w == "C-1" })
}

// noSecret looks for whole words in every file of a copy, and in their names.
func noSecret(t testing.TB, folder, copied string) {
	t.Helper()
	words := secrets(t, folder)
	for name, text := range tree(t, copied) {
		for _, w := range words {
			if !strings.Contains(text, w) && !strings.Contains(name, w) {
				continue
			}
			whole := regexp.MustCompile(`(^|[^\pL\pN])` + regexp.QuoteMeta(w) + `($|[^\pL\pN])`)
			if at := whole.FindStringIndex(text); at != nil {
				t.Errorf("%s holds %q: …%s…", name, w, text[max(0, at[0]-80):min(len(text), at[1]+80)])
			}
			assert.False(t, whole.MatchString(name), name)
		}
	}
}

// practices are the folders that the copies are tried on.
func practices(t testing.TB) (folders []string) {
	dir := filepath.Join(t.TempDir(), "demo")
	require.NoError(t, demo.Write(dir))
	folders = append(folders, dir)
	for _, name := range []string{"hand-csv", "hand-yaml", "stranger-csv", "chain-csv", "messy"} {
		folder, err := filepath.Abs("../../testdata/practices/" + name)
		require.NoError(t, err)
		folders = append(folders, folder)
	}
	return folders
}

// said is what a finding says, without whom it is about.
type findingSaid struct {
	check, grade, summary, matter, steps, verify string
	extent                                       result.Extent
}

func saidOf(r *result.Result) (list []findingSaid) {
	for _, f := range r.Findings {
		list = append(list, findingSaid{f.Check, f.Grade, f.Summary, f.Matter, strings.Join(f.Steps, "\n"), f.Verify, f.Extent})
	}
	return list
}

// The findings of a copy are word for word those of the audit; nothing in it tells who.
func TestShareOfPractices(t *testing.T) {
	for _, folder := range practices(t) {
		t.Run(filepath.Base(folder), func(t *testing.T) {
			for _, more := range [][]string{nil, {"--for", "inspection"}, {"--for", "renewal"}} {
				own, copied, key := shareOf(t, append([]string{"audit", folder, "--as-of", demo.AsOf}, more...)...)
				a, b := sharedAudit(t, own), sharedAudit(t, copied)
				assert.ElementsMatch(t, saidOf(a), saidOf(b))
				assert.Equal(t, a.Counts, b.Counts)
				assert.Equal(t, a.Checks, b.Checks)
				assert.Equal(t, a.Headline, b.Headline)
				assert.Equal(t, a.Figures, b.Figures)
				assert.Equal(t, a.NextField, b.NextField)
				assert.Equal(t, a.Lookback, b.Lookback)
				assert.Equal(t, []any{a.Conclusion.Stop, a.Conclusion.Sentence, a.Conclusion.Unseen, len(a.Conclusion.Stops)},
					[]any{b.Conclusion.Stop, b.Conclusion.Sentence, b.Conclusion.Unseen, len(b.Conclusion.Stops)})
				assert.Empty(t, a.Shared)
				noSecret(t, folder, copied)
				if strings.HasSuffix(folder, "demo") {
					assert.NotEmpty(t, secrets(t, folder))
					assert.NotEmpty(t, key)
				}
				for name, id := range key {
					assert.NotEqual(t, name, id)
				}
				for _, f := range []string{markdownFile, pageFile} {
					text, err := os.ReadFile(filepath.Join(copied, f))
					require.NoError(t, err)
					assert.Contains(t, string(text), "This is a copy for someone else", f)
				}
			}
		})
	}
}

// Look-backs and draws of the demo tell nobody either.
func TestShareOfLookbacksAndDraws(t *testing.T) {
	folder := practices(t)[0]
	for _, args := range [][]string{
		{"lookback", folder, "--client", "C-007"}, {"lookback", folder, "--complaint", "CP-1"}, {"lookback", folder, "--sterilizer", "S1"},
		{"lookback", folder, "--visit", "V-004"}, {"draw", folder, "--visits", "30"}, {"audit", folder, "--for", "complaint", "--complaint", "CP-1"},
	} {
		own, copied, key := shareOf(t, append(args, "--as-of", demo.AsOf)...)
		noSecret(t, folder, copied)
		assert.NotEmpty(t, key, args)
		assert.ElementsMatch(t, fileNames(t, own), fileNames(t, copied))
	}
}

func fileNames(t testing.TB, dir string) (names []string) {
	for name := range tree(t, dir) {
		names = append(names, name)
	}
	return names
}

// A copy is what an audit of the records would be, had they held these names from the
// beginning: whatever the ids, common words among them.
func TestShareIsAuditOfOtherNames(t *testing.T) {
	base := t.TempDir()
	n := 0
	for turn := range uint64(10) { // each takes two audits
		rt, rnd := t, rand.New(rand.NewPCG(turn, 1))
		pool := []string{"AB", "1", "M", "client", "sharps", "K-7", "anna", "2026", "S1", "L1", "person-1", "latex", "nitrile", "no", "C-0147", "clinic", "134", "visits"}
		ids := pool
		rnd.Shuffle(len(ids), func(i, k int) { ids[i], ids[k] = ids[k], ids[i] })
		write := func(name func(kind, id string) string) string {
			n++
			dir := filepath.Join(base, "records"+strings.Repeat("x", n))
			c, p := func(i int) string { return name("clients", ids[i]) }, func(i int) string { return name("people", ids[i+6]) }
			return put(t, dir, map[string]string{
				"practice.yaml":   practiceOfTest,
				"people.csv":      "id,role,started_on,latex_sensitive,glove_size\n" + p(0) + ",practitioner,2021-03-01,no,M\n" + p(1) + ",student,2026-01-01,yes,S\n",
				"credentials.csv": "id,person,kind,valid_from,valid_until\nR1," + p(0) + ",registration,2025-01-01,2025-12-31\nR2," + p(0) + ",first-aid,2025-01-01,2026-12-31\n",
				"clients.csv":     "id,birth_year,note\n" + c(0) + ",1944,the baker's mother\n" + c(1) + ",1951,\n" + c(2) + ",1960,\n",
				"screens.csv":     "id,client,asked_on,latex\nQ1," + c(0) + ",2026-01-02,yes\nQ2," + c(1) + ",2026-01-02,unsure\n",
				"visits.csv": "id,client,started,ended,person,site,procedures,gloves\n" +
					"V1," + c(0) + ",2026-11-02 09:00,2026-11-02 09:40," + p(0) + ",clinic,nail-trim,latex\n" +
					"V2," + c(1) + ",2026-11-03 09:00,2026-11-03 09:40," + p(1) + ",clinic,nail-trim,latex\n" +
					"V3," + c(3) + ",2026-11-04 09:00,2026-11-04 09:40," + p(2) + ",clinic,nail-trim,nitrile\n",
				"sterilizers.csv": "id,method,air_removal\nS1,steam,gravity\n",
				"loads.csv": "id,started,ended,sterilizer,temperature,exposure,wrapped,released by,decision\n" +
					"L1,2026-11-02 09:00,2026-11-02 10:10,S1,121 °C,3 min,yes," + p(0) + ",released\n",
			})
		}
		folder := write(func(_, id string) string { return id })
		own := filepath.Join(base, "own"+strings.Repeat("x", n))
		got := call(context.Background(), "audit", folder, "--out", own, "--share", "--share-phrase", phrase)
		require.NotEqual(rt, CouldNot, got.status, got.err)
		names := map[string]string{} // kind and id → name
		data, err := os.ReadFile(filepath.Join(own+"-share-key", keyFile))
		require.NoError(rt, err)
		rows, err := csv.NewReader(bytes.NewReader(bytes.TrimPrefix(data, []byte("\ufeff")))).ReadAll()
		require.NoError(rt, err)
		for _, r := range rows {
			names[r[1]+" "+r[2]] = r[0]
		}
		other := write(func(kind, id string) string {
			if name, ok := names[kind+" "+id]; ok {
				return name
			}
			return kind + "-unnamed-" + id // is nowhere in the copy
		})
		otherOut := filepath.Join(base, "other"+strings.Repeat("x", n))
		got = call(context.Background(), "audit", other, "--out", otherOut)
		require.NotEqual(rt, CouldNot, got.status, got.err)

		a, b := sharedAudit(t, own+"-share"), sharedAudit(t, otherOut)
		assert.Equal(rt, whomOf(b), whomOf(a), "ids %q", ids[:9])
		assert.Equal(rt, saidOf(b), saidOf(a), "in the same order too")
		assert.Equal(rt, b.Gear, a.Gear)
		assert.ElementsMatch(rt, whatDue(b), whatDue(a))
		assert.Equal(rt, b.Checks, a.Checks)
	}
}

// whomOf is whom each finding is about, and whom its evidence names.
func whomOf(r *result.Result) (list []string) {
	for _, f := range r.Findings {
		line := f.Check + "|" + f.Subject.Kind + "|" + f.Subject.ID
		var seen []string
		for _, e := range f.Evidence {
			value, id := e.Value, e.ID
			if e.Private {
				value = "private"
			}
			if e.Kind == "screens" {
				id = "a screen"
			}
			seen = append(seen, strings.Join([]string{e.Kind, id, e.Field, value, e.Note, e.File}, "|"))
		}
		slices.Sort(seen)
		list = append(list, line+"\n"+strings.Join(seen, "\n"))
	}
	return list
}

func whatDue(r *result.Result) (list []string) {
	for _, d := range r.Due {
		list = append(list, d.On+" "+d.Kind+" "+d.What)
	}
	return list
}

// The key is for the account that made it; no copy or key is written over.
func TestShareKeepsTheKey(t *testing.T) {
	dir := t.TempDir()
	records, out := loads(t, filepath.Join(dir, "records")), filepath.Join(dir, "out")
	require.NoError(t, os.Mkdir(out+"-share-key", 0o755))
	got := call(context.Background(), "audit", records, "--out", out, "--share")
	require.Equal(t, Findings, got.status, got.err)
	assert.Contains(t, got.out, out+"-share-2/report.html")
	assert.NoDirExists(t, out+"-share")
	assert.Empty(t, tree(t, out+"-share-key"))
	assert.Empty(t, keyOf(t, out+"-share-key-2"), "nobody stands in what was found")
	for _, path := range []string{"", keyFile, keyRead} {
		info, err := os.Stat(filepath.Join(out+"-share-key-2", path))
		require.NoError(t, err)
		if runtime.GOOS != "windows" {
			assert.Zero(t, info.Mode().Perm()&0o077, path)
		}
	}
	for name, text := range tree(t, out+"-share-2") {
		assert.NotContains(t, text, "P-01", name)
	}
}

// Where the copy cannot be written, no key is left of it.
func TestShareLeavesNoKeyAlone(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, "no folder"), nil, 0o644))
	var out bytes.Buffer
	a := &app{out: &printed{Writer: &out}, now: dayNow}
	at := &copyPlaces{copy: filepath.Join(dir, "no folder", "copy"), key: filepath.Join(dir, "key")}
	require.Error(t, a.shareOut(context.Background(), at, []file{{auditFile, nil}}, pageFile, nil))
	assert.NoDirExists(t, at.key)
	assert.Empty(t, out.String())
}
