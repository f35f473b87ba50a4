package cli

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	terminal "github.com/jedib0t/go-pretty/v6/text"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"github.com/xuri/excelize/v2"

	"footing/internal/audit"
	"footing/internal/practice"
	"footing/internal/quantity"
	"footing/internal/record"
	"footing/internal/result"
	"footing/schemas"
)

func practiceIn(t *testing.T, files map[string]string) *practice.Practice {
	t.Helper()
	dir := put(t, t.TempDir(), map[string]string{"practice.yaml": practiceOfTest})
	put(t, dir, files)
	p, err := practice.Read(t.Context(), dir, quantity.NewDay(2026, 11, 24), record.Options{})
	require.NoError(t, err)
	return p
}

// Our own estimate, said to be one: the arithmetic is all that can be checked.
func TestAbout(t *testing.T) {
	for seconds, want := range map[int]string{
		0: "about a minute", 89: "about a minute", 90: "about 2 minutes", 149: "about 2 minutes", 150: "about 2 minutes", 151: "about 3 minutes", 9 * 60: "about 9 minutes",
		599: "about 10 minutes", 600: "about 10 minutes", 20 * 60: "about 20 minutes", 22*60 + 29: "about 20 minutes", 22*60 + 30: "about 25 minutes", 57*60 + 29: "about 55 minutes", 57*60 + 30: "about an hour",
		74 * 60: "about an hour", 75 * 60: "about an hour and a half", 104 * 60: "about an hour and a half", 105 * 60: "about 2 hours", 150 * 60: "about 2 and a half hours", 9 * 3600: "about 9 hours", 9*3600 + 44*60: "about 9 and a half hours", 9*3600 + 45*60: "about 10 hours", 50*3600 + 60: "about 50 hours", 1500 * 3600: "about 1,500 hours",
	} {
		assert.Equal(t, want, about(seconds), seconds)
	}
}

func TestRowsToType(t *testing.T) {
	alone := practiceIn(t, nil)
	log := practiceIn(t, map[string]string{
		"sterilizers.csv": "id,method\nS1,steam\nS2,steam\n",
		"loads.csv":       "started,sterilizer,program,packs made,released by\n2026-11-02,S1,Wrapped,4,P-01\n2026-11-15,S1,Wrapped,,P-02\n2026-11-16,S2,Unwrapped,3,P-01\n",
		"clients.csv":     "id\nC-1\nC-2\n",
		"traces/a.csv":    "time,t\n",
	})
	logger := practiceIn(t, map[string]string{"traces/a.csv": "time,t\n", "traces/b.csv": "time,t\n"})
	for _, c := range []struct {
		p     *practice.Practice
		kind  string
		rows  int
		basis string
	}{
		{alone, "practice", 1, ""},
		{alone, "loads", 52, "our guess"},
		{alone, "waste", 10, "our guess"},
		{alone, "credentials", 8, "our guess"},
		{logger, "loads", 2, "one for each data-logger file"},
		{log, "people", 2, "as many as other rows name"},
		{log, "programs", 2, "as many as other rows name"},
		{log, "credentials", 8, "four for each person"},
		{log, "upkeep", 6, "three for each sterilizer"},
		{log, "tests", 3, "a spore test for each week of the loads typed"}, // 2 to 16 November: 15 days
		{log, "visits", 60, "our guess: 20 for each week of the loads typed"},
		{log, "screens", 2, "one for each client"},
		{log, "packs", 4 + 6 + 3, "as many as the loads made, or six a load"},
	} {
		w := workOf(c.p, c.kind)
		assert.Equal(t, c.basis, w.basis, c.kind)
		assert.Equal(t, c.rows, w.rows, c.kind)
	}
	assert.Equal(t, 52*(10*5+5), workOf(alone, "loads").seconds)
	assert.Equal(t, 10*(6*5+5), workOf(alone, "waste").seconds)
	for _, kind := range audit.FirstEvening() {
		typed, told := audit.TypingOf(kind)
		require.True(t, told, kind)
		k, ok := schemas.Lookup(kind)
		require.True(t, ok, kind)
		assert.Less(t, typed.Fields, len(k.Fields), kind)
	}
}

func TestNearIDs(t *testing.T) {
	p := practiceIn(t, map[string]string{
		"people.csv":      "id,role\nP-01,practitioner\nP-02,student\nmarlowe,student\nfenwick,student\nfenwich,student\nkl,student\n",
		"sterilizers.csv": "id,method\nS1,steam\n",
		"products.csv":    "id,name\nX9,Hand rub\n",
	})
	for _, c := range []struct{ kind, id, want string }{
		{"people", "p01", "P-01"}, {"people", "P-1", "P-01"}, {"people", "P-O1", "P-01"}, {"people", "P-0l", "P-01"}, {"people", "P 02", "P-02"},
		{"people", "P-03", ""}, // another person, as likely as not
		{"people", "P-010", ""},
		{"people", "marlow", "marlowe"}, {"people", "Marlove", "marlowe"}, {"people", "malrowe", "marlowe"}, {"people", "amlroew", ""}, {"people", "fenwica", ""}, {"people", "barlove", ""},
		{"people", "km", ""}, // too short to tell
		{"people", "", ""}, {"people", "—", ""},
		{"sterilizers", "s-1", "S1"}, {"sterilizers", "Autoclave", ""},
		{"products", "hand-rub", "Hand rub"}, {"sites", "S1", ""},
	} {
		look := &looker{p: p, names: map[string]*namesOf{}, budget: apartBudget}
		assert.Equal(t, c.want, look.near(&astray{id: c.id, kinds: []string{c.kind}}), "%s %q", c.kind, c.id)
	}
	spent := &looker{p: p, names: map[string]*namesOf{}}
	assert.Empty(t, spent.near(&astray{id: "marlow", kinds: []string{"people"}}))
}

func TestPlaces(t *testing.T) {
	q := &record.Problem{Places: []record.Place{{Row: 3}}}
	assert.Empty(t, places(q, false), "the sentence has it")
	q.Places = append(q.Places, record.Place{Row: 3}, record.Place{Row: 5})
	assert.Equal(t, "Rows 3, 5.", places(q, false))
	for i := range 7 {
		q.Places = append(q.Places, record.Place{Row: 10 + i})
	}
	assert.Equal(t, "Rows 3, 5, 10, 11, 12, 13, 14, 15 and 1 more.", places(q, false))
	assert.Equal(t, "Rows 3, 5, 10, 11, 12, 13, 14, 15, 16.", places(q, true))
	q = &record.Problem{Places: []record.Place{{Row: 3, Cell: "F3"}, {Row: 9, Cell: "F9"}}}
	assert.Equal(t, "Cells F3, F9.", places(q, false))
	assert.Empty(t, places(&record.Problem{Places: []record.Place{{Line: 3}, {Line: 9}}}, false))
}

// What is typed of a person's health, or reads like a name, is on the person's own
// screen and goes no further: proofread is piped and copied.
func TestPrivateValuesStayInTheRecords(t *testing.T) {
	dir := put(t, t.TempDir(), map[string]string{
		"practice.yaml": practiceOfTest,
		"people.csv":    "id,role\nP-01,practitioner\n",
		"screens.csv":   "client,asked_on,latex\nC-1,2026-10-01,blistered badly\nC-2,2026-10-01,swollen\nC-3,Grete Moor,no\n",
		"histories.csv": "client,taken_on,diabetes\nC-1,2026-10-01,since childhood\n",
		"loads.csv":     "started,released_by,decision\n2026-11-02,Grete Moor,released\n2026-11-02,GRETE MOOR,Quite Fine\n",
	})
	got := call(t.Context(), "proofread", dir, "--whole")
	require.Equal(t, Done, got.status, got.err)
	for _, secret := range []string{"blistered", "swollen", "childhood", "Grete", "GRETE", "Moor"} {
		assert.NotContains(t, got.out, secret)
	}
	flat := strings.Join(strings.Fields(got.out), " ")
	assert.Contains(t, flat, `screens.csv, column "latex", 2 rows (the first: row 1): what is typed there cannot be read as it must be; write yes, no, unsure or not-asked`)
	assert.Contains(t, flat, `histories.csv row 1, column "diabetes": what is typed there cannot be read`)
	assert.Contains(t, flat, `column "asked_on": (reads like a name, not shown) is not a date`)
	assert.Contains(t, flat, `"Quite Fine" is not one of the choices`, "a choice is no name")
	assert.Contains(t, flat, "2 ids are on no row of people: (reads like a name, not shown) (row 1)")
}

func TestSectionsAreCutAndToldWhole(t *testing.T) {
	var rows strings.Builder
	headings := []string{"started"}
	for i := range 20 {
		headings = append(headings, fmt.Sprintf("mine%02d", i))
		fmt.Fprintf(&rows, "2026-11-02\n")
	}
	files := map[string]string{"practice.yaml": practiceOfTest, "loads.csv": strings.Join(headings, ",") + "\n" + rows.String()}
	for i := range 20 {
		files[fmt.Sprintf("letter%02d.txt", i)] = "x"
	}
	dir := put(t, t.TempDir(), files)
	short, whole := call(t.Context(), "proofread", dir), call(t.Context(), "proofread", dir, "--whole")
	assert.Contains(t, short.out, "letter11.txt")
	assert.NotContains(t, short.out, "letter12.txt")
	assert.Contains(t, short.out, "- and 8 more; --whole shows them all\n")
	assert.Contains(t, whole.out, "letter19.txt")
	assert.NotContains(t, whole.out, "--whole")
	assert.Contains(t, short.out, "“mine11” and 8 more.")
	assert.Contains(t, whole.out, "“mine19”.")
}

// A workbook, a folder or a heading of any width or alphabet stays on the screen; the
// folder's name is printed whole, to be copied.
func TestProofreadKeepsToTheScreen(t *testing.T) {
	base := filepath.Join(t.TempDir(), "my records")
	dir := put(t, base, map[string]string{
		"practice.yaml":                     "name: \"" + strings.Repeat("Fußpflege", 30) + " \\e[31mred\\u202E\"\nregulator: R\ndates: " + strings.Repeat("漢字", 60) + "\n",
		"loads.csv":                         "id,started,sterilizer,exposure,temprature" + strings.Repeat("wide", 50) + ",\x1b[31mred\nL1,2026-11-02," + strings.Repeat("S", 190) + "," + strings.Repeat("x", 300) + ",1,2\n",
		"sterilizers.csv":                   "id,method\n\x1b[2JS1,steam\n",
		strings.Repeat("long", 30) + ".csv": "a,b\n",
	})
	got := call(t.Context(), "proofread", dir)
	require.Equal(t, Done, got.status, got.err)
	for line := range strings.Lines(got.out) {
		line = strings.TrimSuffix(line, "\n")
		for _, r := range line {
			require.False(t, r < ' ' || r == 0x7f || r == 0x202e, "%q", line)
		}
		if !strings.Contains(line, base) {
			assert.LessOrEqual(t, terminal.StringWidth(line), screen, line)
		}
	}
	assert.True(t, strings.HasSuffix(got.out, "  footing audit \""+base+"\"\n"), got.out)
}

// Every row, whatever the section shows of it, is counted as the audit counts it, and
// the records stay as they are.
func TestProofreadCountsAsTheAuditDoes(t *testing.T) {
	base := t.TempDir()
	dir := loads(t, filepath.Join(base, "records"))
	put(t, dir, map[string]string{"visits.csv": "client,started\nC-1,2026-11-02\nC-2,soon\n,2026-11-02\n"})
	before := tree(t, base)
	got := call(t.Context(), "proofread", dir)
	assert.Equal(t, Done, got.status)
	assert.Equal(t, before, tree(t, base), "it writes nothing")
	assert.Equal(t, got, call(t.Context(), "proofread", dir), "and says the same again")
	assert.Contains(t, got.out, "visits.csv: 3 rows: 1 taken in, 2 set aside.")
	assert.Contains(t, got.out, "next: look at these 2 places, mend")
	require.Equal(t, Findings, call(t.Context(), "audit", dir, "--out", filepath.Join(base, "out")).status)
	r := audited(t, filepath.Join(base, "out"))
	i := slices.IndexFunc(r.Intake, func(f result.File) bool { return f.File == "visits.csv" })
	require.GreaterOrEqual(t, i, 0)
	assert.Equal(t, []int{3, 1, 2}, []int{r.Intake[i].Rows, r.Intake[i].Accepted, r.Intake[i].SetAside})
}

// Nothing that is said claims more than a reading of the rows.
func TestProofreadClaimsNothing(t *testing.T) {
	got := call(t.Context(), "proofread", loads(t, filepath.Join(t.TempDir(), "records")))
	assert.Contains(t, got.out, "Every row that was found can be read.")
	for _, word := range []string{"all good", "safe", "compliant", "guarantee", "correct", "complete", "no error"} {
		assert.NotContains(t, strings.ToLower(got.out), word)
	}
}

func TestProofreadWrongUse(t *testing.T) {
	for _, args := range [][]string{{"proofread"}, {"proofread", "a", "b"}, {"proofread", "nowhere"}, {"proofread", ".", "--as-of", "2026-02-30"}, {"proofread", t.TempDir()}, {"proofread", ".", "--frob"}} {
		got := call(t.Context(), args...)
		assert.Equal(t, CouldNot, got.status, args)
		assert.Regexp(t, `^footing: [^A-Z\n][^\n]*\nnext: [^\n]+\n$`, got.err, args)
		assert.Empty(t, got.out, args)
	}
}

func TestProofreadOnAFullDisk(t *testing.T) {
	a := &app{out: &printed{Writer: full{}}, err: full{}, now: dayNow}
	require.NoError(t, a.proofread(t.Context(), loads(t, filepath.Join(t.TempDir(), "records")), "", false))
	assert.Error(t, a.out.failed)
}

// book writes a workbook: sheets by name, in order, each with rows of cells from A1.
func book(t *testing.T, path string, names []string, sheets map[string][][]any) {
	t.Helper()
	f := excelize.NewFile()
	for i, name := range names {
		if i == 0 {
			require.NoError(t, f.SetSheetName("Sheet1", name))
		} else {
			_, err := f.NewSheet(name)
			require.NoError(t, err)
		}
		for r, row := range sheets[name] {
			for c, v := range row {
				at, err := excelize.CoordinatesToCellName(c+1, r+1)
				require.NoError(t, err)
				require.NoError(t, f.SetCellValue(name, at, v))
			}
		}
	}
	require.NoError(t, f.SaveAs(path))
	require.NoError(t, f.Close())
}

// Sheets are told of as sheets, and places as cells.
func TestProofreadOfAWorkbook(t *testing.T) {
	dir := put(t, t.TempDir(), map[string]string{"practice.yaml": practiceOfTest})
	book(t, filepath.Join(dir, "records.xlsx"), []string{"loads", "sterilizers", "people", "tests", "Shopping"}, map[string][][]any{
		"loads": {{"Our autoclave log"}, {}, {"cycle no", "date", "autoclave", "temp", "hold time", "colour"},
			{101, "2026-11-02", "S1", "121 °C", "30 min", "blue"}, {102, "someday", "S1", "121 °C", 30, ""}, {103, "soon", "S1", "121 °C", 30, ""}, {104, "2026-11-04", "s-1", "121 °C", 30, ""}},
		"sterilizers": {{"The machines"}, {}, {"id", "method"}, {"S1", "steam"}},
		"people":      {{"id", "role"}}, "tests": {{"kind", "run_at"}}, "Shopping": {{"soap"}},
	})
	got := call(t.Context(), "proofread", dir)
	require.Equal(t, Done, got.status, got.err)
	flat := strings.Join(strings.Fields(got.out), " ")
	assert.Contains(t, flat, "records.xlsx, sheet loads: 4 rows: 2 taken in, 2 set aside. Read as: “cycle no” as counter, “date” as started, “autoclave” as sterilizer, “temp” as temperature, “hold time” as exposure.")
	assert.Contains(t, flat, "records.xlsx, sheet sterilizers (1 row)")
	assert.Contains(t, flat, "No rows yet: records.xlsx, sheets people and tests.")
	assert.Contains(t, flat, "records.xlsx, sheets loads and sterilizers: what stands above the table is taken for titles and notes")
	assert.Contains(t, flat, "Cells E5, E6, E7.")
	assert.Contains(t, flat, "Cells B5, B6.")
	assert.Contains(t, flat, "“s-1” under autoclave is on no row of sterilizers; “S1” is.")
	assert.Contains(t, flat, "records.xlsx, sheet loads: “colour”")
	assert.Contains(t, flat, "Shopping")
}

// A list under the wrong name has rows that all lack what they need.
func TestALikelierKind(t *testing.T) {
	dir := put(t, t.TempDir(), map[string]string{
		"practice.yaml": practiceOfTest,
		"machines.csv":  "id,method\nS1,steam\n",                      // by its name equipment
		"loads.csv":     "client,started,person\nC-1,someday,P-01\n",  // the headings of visits
		"tests.csv":     "kind,run_at,result\nspore,someday,pass\n",   // its own
		"people.csv":    "id\nP-01\n",                                 // could be any kind
		"visits.csv":    "client,started\nC-1,2026-11-01\nC-2,soon\n", // rows of it are read
	})
	out := call(t.Context(), "proofread", dir).out
	flat := strings.Join(strings.Fields(out), " ")
	assert.Contains(t, flat, "machines.csv: 1 row of equipment: 0 taken in, 1 set aside. Its headings look like those of sterilizers. If that is what it holds, name it sterilizers.")
	assert.Contains(t, flat, "loads.csv: 1 row: 0 taken in, 1 set aside. Its headings look like those of visits. If that is what it holds, name it visits.")
	assert.Equal(t, 2, strings.Count(flat, "Its headings look like"))
}

// What a person reads are the headings that stand above her columns, or those of a new
// workbook; the practice file may be a sheet.
func TestProofreadSpeaksInHeadings(t *testing.T) {
	dir := t.TempDir()
	book(t, filepath.Join(dir, "records.xlsx"), []string{"practice", "loads", "tests"}, map[string][][]any{
		"practice": {{"practice name", "regulator", "altitude"}, {"Fen Road Foot Care", "Council of the Fens", "12 m"}},
		"loads":    {{"load id", "date", "hold time [min]", "packs in", "emptied by"}, {"L1", "2026-11-02", nil, 3, "P-9"}},
		"tests":    {{"test", "date", "batch of the cycle"}, {"spore", "2026-11-02", "L9"}},
	})
	flat := strings.Join(strings.Fields(call(t.Context(), "proofread", dir).out), " ")
	assert.Contains(t, flat, "records.xlsx, sheet practice: the practice file. Read as: “practice name” as name.")
	assert.NotContains(t, flat, ": .")
	assert.Contains(t, flat, "“packs in” may be “number of packs” (how many packs the load held). If so, let that be its heading.")
	assert.Contains(t, flat, "sheet loads: “emptied by”")
	assert.Contains(t, flat, "footing explain loads")
	assert.NotContains(t, flat, "packs_made")
	assert.NotContains(t, flat, "docs/records")

	for file, heading := range map[string]string{"id,started\n": "hold time", "id,started,Minutes held [min],packs\n": "hold time", "id,started,holding time [min]\n": "holding time"} {
		p := practiceIn(t, map[string]string{"loads.csv": file + "L1,2026-11-02\n"})
		assert.Contains(t, wantedField(p, audit.Want{Field: audit.Field{Kind: "loads", Name: "exposure"}, See: 1}), "the column "+heading+" of loads", file)
	}
}

// Only what footing new itself wrote above a table is no news.
func TestOwnTitles(t *testing.T) {
	const needs = `"A column marked NEEDED is needed in every row. Anything else…" are taken for a title or a note above the table, and not for a record`
	for sentence, own := range map[string]bool{
		`records.xlsx, sheet stock, cells A1:O5: "Stock", "A ledger of gear.", ` + needs:                  true,
		`records.xlsx, sheet stock, cells A1:O5: "Cupboard list", "Stock", "A ledger of gear…" are taken`: false,
		`records.xlsx, sheet stock, cells A1:O5: "Stock", "counted by AM", "A ledger of gear…" are taken`: false,
		`records.xlsx, sheet stock, cell A1: "Stock" is taken for a title or a note above the table`:      false,
	} {
		assert.Equal(t, own, ownTitle(&record.Problem{Kind: "stock", Cause: "title", Sentence: sentence}), sentence)
	}
	assert.False(t, ownTitle(&record.Problem{Kind: "stock", Cause: "total", Sentence: `x: "Stock", "A.", ` + needs}))
}

// Cells that no heading stands above are left out, so they are not among what is only noticed.
func TestProofreadTellsOfCellsWithoutAHeading(t *testing.T) {
	dir := t.TempDir()
	book(t, filepath.Join(dir, "records.xlsx"), []string{"loads", "my sums"}, map[string][][]any{
		"loads":   {{"cycle no", "date", "hold time [min]", nil, "x"}, {1, "2026-10-01", 4, "beside", "y"}},
		"my sums": {{"a", "b"}, {1, 2}},
	})
	out := call(t.Context(), "proofread", dir).out
	_, after, found := strings.Cut(out, "\nCells that are not read\n")
	assert.True(t, found, out)
	assert.Contains(t, after, "column D: 1 cell without a heading")
	assert.NotContains(t, out, "nothing is left out by it")
	assert.Contains(t, out, "what was not read stands above")
	assert.Equal(t, 1, strings.Count(out, "sheet my sums"), "told once")
}

// A value that is kept is not told under words that say it counts as not written.
func TestProofreadOfAKeptValue(t *testing.T) {
	dir := t.TempDir()
	require.NoError(t, os.WriteFile(filepath.Join(dir, "stock.csv"), []byte("item,on,reason,quantity\nnitrile gloves,2026-01-01,count,1\n"), 0o600))
	out := call(t.Context(), "proofread", dir).out
	assert.Contains(t, strings.Join(strings.Fields(out), " "), "until then it is read as gloves")
	assert.NotContains(t, out, "as not written")
}
