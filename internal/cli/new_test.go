package cli

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"

	"footing/internal/practice"
	"footing/internal/quantity"
	"footing/internal/record"
	"footing/internal/result"
	"footing/internal/workbook"
	"footing/schemas"
)

// fieldRead is the field that a heading is read as, without its unit.
func fieldRead(k *schemas.Kind, heading string) (*schemas.Field, bool) {
	base, _, _ := strings.Cut(heading, " [")
	if f, ok := k.Match(base); ok {
		return f, true
	}
	for _, part := range []string{" date", " time"} {
		if before, ok := strings.CutSuffix(base, part); ok {
			return k.Match(before)
		}
	}
	if base == "time" {
		return k.Field(k.When)
	}
	return nil, false
}

// Every heading of every sheet is read as the field that it was made for, every field
// has a column, and no field has two but the moment that dates the row.
func TestHeadingsAreRead(t *testing.T) {
	for _, units := range []headingUnits{{"°C", ""}, {"°F", "psi gauge"}} {
		book := blankBook{kinds: rowKinds(), units: units, every: true}
		tables := book.tables()
		require.Len(t, tables, len(rowKinds())+1)
		for _, table := range tables[1:] {
			k, ok := schemas.Lookup(table.Name)
			require.True(t, ok)
			read := map[string][]string{}
			for _, c := range table.Columns {
				f, ok := fieldRead(k, c.Heading)
				if assert.True(t, ok, "%s: nothing reads %q", k.Name, c.Heading) {
					read[f.Name] = append(read[f.Name], c.Heading)
					if strings.HasSuffix(c.Heading, "time") && len(read[f.Name]) == 2 {
						continue
					}
					assert.Equal(t, f.Required, c.Required, "%s %s", k.Name, c.Heading)
				}
				assert.NotEmpty(t, c.Note, "%s %s", k.Name, c.Heading)
				assert.NotContains(t, c.Note, "`")
				assert.LessOrEqual(t, len([]rune(c.Note)), 255, "%s %s: a prompt has 255 characters at most", k.Name, c.Heading)
			}
			for _, f := range k.Fields {
				want := 1
				if f.Form == schemas.Moment && f.Name == k.When {
					want = 2
				}
				assert.Len(t, read[f.Name], want, "%s.%s: %v", k.Name, f.Name, read[f.Name])
			}
			assert.Empty(t, table.Rows, "no row is invented")
		}
	}
}

// Words for headings are those of fields that there are.
func TestHeadingWordsHaveTheirFields(t *testing.T) {
	for at, word := range headingWords {
		kind, name, _ := strings.Cut(at, ".")
		k, ok := schemas.Lookup(kind)
		require.True(t, ok, at)
		f, ok := k.Match(word)
		assert.True(t, ok && f.Name == name, "%s: %q is not read as it", at, word)
	}
	for _, list := range []map[string]string{spanUnits} {
		for at := range list {
			kind, name, _ := strings.Cut(at, ".")
			k, ok := schemas.Lookup(kind)
			require.True(t, ok, at)
			_, ok = k.Field(name)
			assert.True(t, ok, at)
		}
	}
}

func TestColumnsOfASheet(t *testing.T) {
	book := blankBook{kinds: evening, units: headingUnits{"°C", ""}}
	columns := map[string]workbook.Column{}
	sheet := book.sheet("loads")
	for _, c := range sheet.Columns {
		columns[c.Heading] = c
	}
	assert.Equal(t, []string{"load id", "date", "time"}, []string{sheet.Columns[0].Heading, sheet.Columns[1].Heading, sheet.Columns[2].Heading})
	assert.Equal(t, 2, sheet.Fixed)
	assert.Equal(t, "note", sheet.Columns[len(sheet.Columns)-1].Heading)
	assert.Equal(t, workbook.Day, columns["date"].Kind)
	assert.Equal(t, workbook.Clock, columns["time"].Kind)
	assert.Equal(t, workbook.Number, columns["temperature [°C]"].Kind)
	assert.Equal(t, workbook.Text, columns["pressure"].Kind, "without a unit in the heading the cell has it")
	assert.Contains(t, columns["pressure"].Note, "gauge or absolute as the dial shows")
	assert.Equal(t, &workbook.Source{Table: "sterilizers", Heading: "sterilizer"}, columns["sterilizer"].From)
	assert.Equal(t, &workbook.Source{Table: "people", Heading: "initials"}, columns["released by"].From)
	assert.Equal(t, []string{"released", "rejected", "pending"}, columns["decision"].Choices)
	assert.False(t, columns["decision"].Open)
	assert.True(t, columns["wrapped"].Open, "a tick is a yes too")
	assert.NotContains(t, columns, "entered on")
	assert.Contains(t, strings.Join(sheet.About, " "), "entered on or corrects")

	tests := book.sheet("tests")
	at := slices.IndexFunc(tests.Columns, func(c workbook.Column) bool { return c.Heading == "machine" })
	assert.Equal(t, &workbook.Source{Table: "sterilizers", Heading: "sterilizer"}, tests.Columns[at].From, "the first kind that is in the book")
	instruments := book.sheet("instruments")
	at = slices.IndexFunc(instruments.Columns, func(c workbook.Column) bool { return c.Heading == "owner" })
	assert.Nil(t, instruments.Columns[at].From, "no sheet of clients is in the book")

	book.units = headingUnits{"°F", "psi gauge"}
	headings := []string{}
	for _, c := range book.sheet("loads").Columns {
		headings = append(headings, c.Heading)
	}
	assert.Contains(t, headings, "temperature [°F]")
	assert.Contains(t, headings, "pressure [psi gauge]")
}

// practice.yaml names every field, and each example in it can be taken as it stands.
func TestPracticeFile(t *testing.T) {
	text := string(practiceText())
	k, _ := schemas.Lookup("practice")
	for _, f := range k.Fields {
		assert.Regexp(t, `(?m)^#?`+f.Name+`:`, text)
		assert.Contains(t, strings.Join(strings.Fields(strings.ReplaceAll(text, "\n# ", " ")), " "), f.Description)
	}
	var used strings.Builder
	for line := range strings.Lines(text) {
		assert.LessOrEqual(t, len([]rune(line)), 101, line)
		switch {
		case strings.HasPrefix(line, "name:"), strings.HasPrefix(line, "regulator:"):
			used.WriteString(strings.TrimSpace(line) + " Something\n")
		case strings.HasPrefix(line, "# ") && !strings.HasPrefix(line, "#  "): // the second line of an example
		default:
			used.WriteString(strings.TrimPrefix(line, "#"))
		}
	}
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, "practice.yaml"), []byte(used.String()), 0o600))
	p := readPractice(t, dir)
	assert.Empty(t, p.Intake.Problems, used.String())
	assert.Equal(t, "Something", p.Profile.Name)
	assert.NotEmpty(t, p.Profile.Coverage)
	assert.NotEmpty(t, p.Profile.Contacts.PublicHealth)
}

// A file that nobody has filled in is told of as one without a name; what was filled in
// without name and regulator is told by these two, and is used all the same.
func TestPracticeFileAsItIsWritten(t *testing.T) {
	dir := t.TempDir()
	at := filepath.Join(dir, "practice.yaml")
	require.NoError(t, os.WriteFile(at, practiceText(), 0o600))
	p := readPractice(t, dir)
	assert.Empty(t, p.Intake.Problems)
	assert.Empty(t, p.Profile.Name)

	require.NoError(t, os.WriteFile(at, bytes.Replace(practiceText(), []byte("\n#dates: dmy"), []byte("\ndates: dmy"), 1), 0o600))
	require.NoError(t, os.WriteFile(filepath.Join(dir, "loads.csv"), []byte("id,started\nL1,03/04/2026\n"), 0o600))
	p = readPractice(t, dir)
	var said []string
	for _, problem := range p.Intake.Problems {
		said = append(said, problem.Sentence)
	}
	require.Len(t, said, 2)
	assert.Contains(t, said[0], `"name": nothing is written`)
	assert.Contains(t, said[1], `"regulator": nothing is written`)
	assert.Equal(t, "2026-04-03", p.Loads[0].Started.String())
}

func readPractice(t *testing.T, dir string) *practice.Practice {
	t.Helper()
	day, err := quantity.ParseDay("2026-11-25", quantity.ISO)
	require.NoError(t, err)
	p, err := practice.Read(t.Context(), dir, day, record.Options{})
	require.NoError(t, err)
	return p
}

// A workbook of someone's own is left alone, and its sheets are not made twice.
func TestAWorkbookThatIsThere(t *testing.T) {
	for sheet, want := range map[string]string{"Autoclave Log": "", "Recipes": "sites, people"} {
		dir := t.TempDir()
		var b bytes.Buffer
		require.NoError(t, workbook.Write(&b, []workbook.Table{{Name: sheet, Columns: []workbook.Column{{Heading: "date"}}}}))
		require.NoError(t, os.WriteFile(filepath.Join(dir, "mine.xlsx"), b.Bytes(), 0o600))
		got := call(t.Context(), "new", dir)
		require.Equal(t, Done, got.status, got.err)
		assert.Contains(t, got.out, "mine.xlsx is there already and stays as it is.")
		assert.Contains(t, got.out, "practice.yaml")
		if want == "" {
			assert.Contains(t, got.out, "No sheet was added")
			got = call(t.Context(), "new", dir, "--with", "loads,visits")
			assert.Contains(t, got.out, "Its sheets: visits.")
		} else {
			assert.Contains(t, got.out, "Its sheets: "+want)
		}
		after, err := os.ReadFile(filepath.Join(dir, "mine.xlsx"))
		require.NoError(t, err)
		assert.Equal(t, b.Bytes(), after)
	}
}

func TestKindsNamed(t *testing.T) {
	got, err := kindsNamed([]string{"visits", " Packs", "allergies", ""})
	require.NoError(t, err)
	assert.Equal(t, []string{"visits", "packs", "screens"}, got)
	for name, near := range map[string]string{"vists": "visits", "pouchs": "packs", "practice": "practice"} {
		_, err := kindsNamed([]string{name})
		require.Error(t, err)
		var said trouble
		require.ErrorAs(t, err, &said)
		if near != "practice" {
			assert.Contains(t, said.next, "did you mean "+near+"?")
		}
	}
}

// A kind counts by the checks that could not look without it, each by its gravest
// grade, shared among what it lacks; what is kept or has no sheet counts for nothing.
func TestMissedMost(t *testing.T) {
	check := func(id, outcome string, grade string, kinds ...string) result.Check {
		c := result.Check{ID: id, Outcome: outcome, Grades: []string{grade, result.Observation}}
		for _, k := range kinds {
			c.Missing = append(c.Missing, result.Missing{Kind: k})
		}
		return c
	}
	r := &result.Result{Intake: []result.File{{Kind: "loads", Rows: 3}, {Kind: "tests", Rows: 0}}, Checks: []result.Check{
		check("a", result.NotAssessed, result.Critical, "visits", "packs"),
		check("b", result.NotAssessed, result.Critical, "packs"),
		check("c", result.NotAssessed, result.Minor, "policies"),
		check("d", result.NotAssessed, result.Minor, "tests", "loads", "traces", "practice"),
		check("e", result.Conforming, result.Critical, "waste"),
		{ID: "f", Outcome: result.NotAssessed, Grades: []string{result.Critical}, Missing: []result.Missing{{Kind: "screens", Field: "latex"}}},
	}}
	names := func() (names []string) {
		for _, w := range missedMost(r, &newPlace{sheets: map[string]bool{}}) {
			names = append(names, fmt.Sprintf("%s %g %v", w.kind, w.weight, w.checks))
		}
		return names
	}
	assert.Equal(t, []string{"packs 12 [a b]", "visits 4 [a]", "policies 2 [c]", "tests 0.5 [d]"}, names())
	r.NextField = &result.NextField{Kind: "policies"}
	assert.Equal(t, "policies 2 [c]", names()[0], "what the audit itself asked for stands first")
	assert.Len(t, missedMost(r, &newPlace{sheets: map[string]bool{"packs": true}}), 3)
}

func TestTheNewestAuditIsTaken(t *testing.T) {
	base := t.TempDir()
	records := loads(t, filepath.Join(t.TempDir(), "records"))
	write := func(dir, day string) {
		require.NoError(t, os.MkdirAll(filepath.Join(base, dir), 0o700))
		out := filepath.Join(t.TempDir(), "audit")
		got := call(t.Context(), "audit", records, "--as-of", day, "--out", out)
		require.NotEqual(t, CouldNot, got.status, got.err)
		data, err := os.ReadFile(filepath.Join(out, auditFile))
		require.NoError(t, err)
		require.NoError(t, os.WriteFile(filepath.Join(base, dir, auditFile), data, 0o600))
	}
	_, _, err := lastAudit(filepath.Join(base, "rec"))
	require.ErrorContains(t, err, "no audit of")
	write("rec-audit-2026-03-01", "2026-03-01")
	write("rec/old", "2026-02-01")
	write("other-audit-2026-12-01", "2026-12-01")
	last := func() string {
		_, path, err := lastAudit(filepath.Join(base, "rec"))
		require.NoError(t, err)
		at, err := filepath.Rel(base, filepath.Dir(path))
		require.NoError(t, err)
		return filepath.ToSlash(at)
	}
	assert.Equal(t, "rec-audit-2026-03-01", last())
	write("rec-audit-2026-03-01-2", "2026-03-01")
	write("rec-audit-2026-03-01-10", "2026-03-01")
	assert.Equal(t, "rec-audit-2026-03-01-10", last())
	write("rec", "2026-03-02")
	assert.Equal(t, "rec", last())
	require.NoError(t, os.WriteFile(filepath.Join(base, "rec", auditFile), []byte(`{"format":"footing audit 2"`), 0o600))
	assert.Equal(t, "rec-audit-2026-03-01-10", last(), "one that cannot be read is passed over")
}

func TestNewIsTheSameTwice(t *testing.T) {
	var books [2][]byte
	for i := range books {
		dir := filepath.Join(t.TempDir(), "records")
		got := call(t.Context(), "new", dir, "--all")
		require.Equal(t, Done, got.status, got.err)
		data, err := os.ReadFile(filepath.Join(dir, bookFile))
		require.NoError(t, err)
		books[i] = data
	}
	assert.True(t, bytes.Equal(books[0], books[1]))
	f, err := excelize.OpenReader(bytes.NewReader(books[0]))
	require.NoError(t, err)
	defer f.Close()
	assert.Equal(t, append(append([]string{"_start"}, allInOrder()...), "_lists"), f.GetSheetList())
}

// allInOrder is the evening's kinds, then the others.
func allInOrder() []string {
	all := slices.Clone(evening)
	for _, k := range rowKinds() {
		if !slices.Contains(all, k) {
			all = append(all, k)
		}
	}
	return all
}
