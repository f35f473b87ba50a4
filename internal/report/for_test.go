package report

import (
	"bytes"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"footing/checks"
	"footing/internal/audit"
	"footing/internal/demo"
	"footing/internal/practice"
	"footing/internal/quantity"
	intakes "footing/internal/record"
	"footing/internal/result"

	"github.com/stretchr/testify/require"
)

// occasionOf is what the command asks for.
func occasionOf(kind, complaint string) audit.Occasion {
	return audit.Occasion{Kind: kind, Complaint: complaint, Check: checks.TrailCheck(), Walks: checks.TrailWalks, Bundle: func(x *audit.Examination) (audit.Answer, error) {
		return checks.Lookback(x, checks.LookbackQuestion{Kind: "complaints", ID: complaint})
	}}
}

func auditedFor(t testing.TB, dir string, ask audit.Occasion) *result.Result {
	t.Helper()
	criteria, err := checks.Criteria()
	require.NoError(t, err)
	day, err := quantity.ParseDay(demo.AsOf, quantity.ISO)
	require.NoError(t, err)
	p, err := practice.Read(t.Context(), dir, day, intakes.Options{})
	require.NoError(t, err)
	r, err := audit.Run(t.Context(), p, checks.All(), criteria, audit.Options{Tool: "footing", Seed: 1, For: ask})
	require.NoError(t, err)
	return r
}

// thinFolder is the thin practice, with a letter of complaint and a declaration.
func thinFolder(t testing.TB) string {
	dir := filepath.Join(t.TempDir(), "records")
	require.NoError(t, os.CopyFS(dir, os.DirFS("../../testdata/practices/thin")))
	require.NoError(t, os.WriteFile(filepath.Join(dir, "complaints.csv"), []byte("id,received_on,client,about_from,about_until,subject,reply_by\nK-1,2026-11-20,14,2026-10-01,2026-11-15,a sore toe,2026-12-04\n"), 0o644))
	self := filepath.Join(dir, "practice.yaml")
	data, err := os.ReadFile(self)
	require.NoError(t, err)
	data = append(data, "declarations:\n  - {text: I hold liability cover, rests_on: [credentials]}\n  - {text: I keep records of sterilization, rests_on: [loads, cleanings]}\n"...)
	require.NoError(t, os.WriteFile(self, data, 0o644))
	return dir
}

func demoFolder(t testing.TB) string {
	dir := filepath.Join(t.TempDir(), "records")
	require.NoError(t, demo.Write(dir))
	return dir
}

// ofOccasion keeps the sections that occasions have, in the order in which they stand.
func ofOccasion(text []byte) string {
	var out strings.Builder
	keep := false
	for line := range strings.Lines(string(text)) {
		if title, ok := strings.CutPrefix(line, "## "); ok {
			switch strings.TrimSpace(title) {
			case titleShort, titleAsked, titleDeclared, titleChains, titleEvidence, titleTouching, titleOthers, titleMissing, titleLimits:
				keep = true
			default:
				keep = false
				out.WriteString("(" + strings.TrimSpace(line) + ")\n")
			}
		}
		if keep {
			out.WriteString(line)
		}
	}
	return out.String()
}

// Each occasion as it opens, from real audits of the demo and of a thin practice. After a
// change of wording: go test ./internal/report -run Occasions -update, then read it.
func TestOccasionsOpenAsTheirEveningAsks(t *testing.T) {
	for name, of := range map[string]struct{ dir, complaint string }{"demo": {demoFolder(t), "CP-1"}, "thin": {thinFolder(t), "K-1"}} {
		for _, kind := range []string{result.Renewal, result.Inspection, result.Complaint} {
			id := ""
			if kind == result.Complaint {
				id = of.complaint
			}
			r := auditedFor(t, of.dir, occasionOf(kind, id))
			golden(t, "for-"+name+"-"+kind+".md", []byte(ofOccasion(Markdown(r))))
			for _, l := range newIndex(forPage(r)).firstLines() {
				require.Contains(t, strings.Join(strings.Fields(summarised(t, r, SummaryOptions{})), " "), strings.Join(strings.Fields(plain(l.lead+" "+l.text)), " "), "the terminal says the same")
			}

			var doc bytes.Buffer
			require.NoError(t, result.Write(&doc, r))
			back, err := result.Read(&doc)
			require.NoError(t, err)
			require.Equal(t, string(Markdown(r)), string(Markdown(back)), "the same page from audit.json")
			page, err := HTML(r)
			require.NoError(t, err)
			again, err := HTML(back)
			require.NoError(t, err)
			require.True(t, bytes.Equal(page, again))
			require.Empty(t, never.FindAllString(ofOccasion(Markdown(r)), -1))
		}
	}
}

// The findings are the same in each; so is every link to them, and every heading once.
func TestOccasionsKeepTheFindings(t *testing.T) {
	dir := demoFolder(t)
	heads := regexp.MustCompile(`(?m)^#### .*$`)
	plainly := heads.FindAllString(string(Markdown(auditedFor(t, dir, audit.Occasion{}))), -1)
	require.NotEmpty(t, plainly)
	for _, kind := range []string{result.Renewal, result.Inspection} {
		text := string(Markdown(auditedFor(t, dir, occasionOf(kind, ""))))
		require.Equal(t, plainly, heads.FindAllString(text, -1), kind)
		seen := map[string]bool{}
		for _, h := range regexp.MustCompile(`(?m)^## .*$`).FindAllString(text, -1) {
			require.False(t, seen[h], "%s stands twice: %s", kind, h)
			seen[h] = true
		}
	}
}

// In the pages of a complaint no other client is named, nor a visit of one; the count of
// findings is that of any other report.
func TestAComplaintNamesNoOtherClient(t *testing.T) {
	r := auditedFor(t, demoFolder(t), occasionOf(result.Complaint, "CP-1"))
	page, err := HTML(r)
	require.NoError(t, err)
	text := string(Markdown(r)) + summarised(t, r, SummaryOptions{}) + string(page)
	require.Contains(t, text, "C-017")
	for _, other := range regexp.MustCompile(`\bC-0\d\d\b`).FindAllString(text, -1) {
		require.Equal(t, "C-017", other)
	}
	visits := regexp.MustCompile(`\bV-\d\d\d\b`).FindAllString(text, -1)
	require.NotEmpty(t, visits)
	for _, v := range visits {
		require.Equal(t, r.Bundle.Chains[0].Visit, v)
	}
	require.Contains(t, text, "about other clients or visits, as a count only")
	named := 0
	for _, f := range r.Findings {
		for _, e := range f.Evidence {
			if e.Kind == "visits" && e.ID != r.Bundle.Chains[0].Visit {
				named++
			}
		}
	}
	require.Positive(t, named, "audit.json holds every place")
	for _, f := range r.Bundle.Files {
		require.Contains(t, text, f.SHA256)
		require.Len(t, f.SHA256, 64)
	}
}

// Without --for, the page is the one of the dates of practice.yaml.
func TestNobodyAskedForAnOccasion(t *testing.T) {
	r := full()
	before := string(Markdown(r))
	r.Purpose.Chosen = true
	require.NotEqual(t, before, string(Markdown(r)))
	require.Empty(t, (&index{Result: full()}).firstLines())
}

// Hostile words in what occasions print change no structure.
func TestHostileWordsInAnOccasion(t *testing.T) {
	const bad = "<script>alert(1)</script> | ## x ](javascript:alert(1)) `` ` ``\n# y"
	for _, kind := range []string{result.Renewal, result.Inspection, result.Complaint} {
		r := full()
		r.Purpose = result.Purpose{Kind: kind, On: "2027-01-06", Complaint: bad, Chosen: true}
		r.Declarations = []result.Declaration{{Text: bad, State: bad, Rests: []string{bad}, Support: []result.Support{{Kind: bad}}}}
		chain := result.Chain{Visit: bad, Client: bad, On: bad, Person: bad, Site: bad, Links: []result.Link{{Name: bad, State: bad, What: bad, Evidence: []result.Evidence{{File: bad, Note: bad}}}}}
		r.AskedFor = []result.AskedFor{{Topic: bad, Question: bad, State: bad, Things: bad, What: bad, Lacks: []string{bad}, Look: bad, KeptAt: []string{bad}, Evidence: []result.Evidence{{File: bad}}, Walk: &chain}}
		r.Bundle = &result.Bundle{Words: bad, Client: bad, Says: []string{bad, bad}, Now: []string{bad}, Decides: bad, Chains: []result.Chain{chain}, Others: &result.Others{Shares: []string{bad}}, Missing: []string{bad}, Limits: []string{bad},
			Files: []result.Kept{{File: bad, SHA256: bad, Places: 1, Later: 1}}}
		page, err := HTML(r)
		require.NoError(t, err)
		require.NotContains(t, string(page), "<script")
		require.NotContains(t, string(page), `href="javascript`)
		for _, h := range regexp.MustCompile(`(?m)^# .*$`).FindAllString(string(Markdown(r)), -1) {
			require.Contains(t, h, "Readiness report")
		}
	}
}
