package checks

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"
	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"footing/internal/audit"
	"footing/internal/practice"
	"footing/internal/quantity"
)

// asked puts one question to a small folder, as the command does.
func asked(t require.TestingT, p *practice.Practice, q LookbackQuestion) (a audit.Answer, err error) {
	criteria, bad := Criteria()
	require.NoError(t, bad)
	bad = audit.Put(context.Background(), p, All(), criteria, audit.Options{Workers: 1}, LookbackCheck(q.Kind), func(x *audit.Examination, _ *audit.Book) {
		a, err = Lookback(x, q)
	})
	require.NoError(t, bad)
	return a, err
}

func folder(t testing.TB, text string) *practice.Practice {
	files := map[string]string{}
	for _, f := range txtar.Parse([]byte(text)).Files {
		files[f.Name] = string(f.Data)
	}
	return openCase(t, t.Name(), files).practice
}

func isoDay(t require.TestingT, s string) quantity.Day {
	d, err := quantity.ParseDay(s, quantity.ISO)
	require.NoError(t, err)
	return d
}

// week is a fortnight of one sterilizer: a pass with a growing control on 2 November, a
// failure on 16 November, packs with numbers, by count, and in a bag. Invented.
const week = `
-- practice.yaml --
name: Practice of the case
regulator: Council of the case
contacts: {public_health: "Health desk, 12"}
-- sites.csv --
id,kind
clinic,clinic
bag,mobile
-- sterilizers.csv --
id,method,air_removal,site
S1,steam,gravity,clinic
S2,steam,gravity,clinic
-- tests.csv --
id,kind,run_at,equipment,control,result,reported_on,read_at
T-1,spore,2026-11-02 08:00,S1,growth,pass,,
T-2,spore,2026-11-09 08:00,S1,,pass,,2026-11-10
T-3,spore,2026-11-16 08:00,S1,growth,fail,2026-11-18,
T-4,spore,2026-11-20 08:00,S1,,pending,,
T-5,leak,2026-11-09 07:00,S1,,fail,,
T-6,spore,2026-11-09 08:00,S9,growth,fail,,
-- loads.csv --
id,started,sterilizer,packs_made,decision,outside_indicator,inside_indicator
L-1,2026-11-02 17:00,S1,2,released,pass,pass
L-2,2026-11-09 17:00,S1,3,released,pass,
L-3,2026-11-13,S1,2,released,,
L-4,2026-11-13 18:00,S1,2,rejected,fail,
L-5,2026-11-13 18:00,S9,,released,,
-- instruments.csv --
id,kind
N-1,double-action-nipper
-- packs.csv --
id,load,set,instruments,stored_at,counted_on
K-1,L-1,nail,N-1,clinic,
K-2,L-1,nail,,clinic,
K-3,L-2,nail,N-1,bag,
K-4,L-2,nail,,clinic,2026-11-20
K-5,,nail,,clinic,
K-6,L-99,corn,,clinic,
-- clients.csv --
id,first_visit_on
C-1,2026-11-03
C-2,2026-11-03
C-3,2026-11-03
C-9,2026-11-03
-- visits.csv --
id,client,started,site,status,procedures,packs,loads,instruments,entered_on
V-1,C-1,2026-11-03 10:00,clinic,done,nail-trim,K-1,,,2026-11-03
V-2,C-2,2026-11-04 10:00,clinic,done,nail-trim,K-2,,,2026-11-20
V-3,C-3,2026-11-10 10:00,clinic,done,nail-trim,,,N-1,2026-11-10
V-4,C-1,2026-11-12 10:00,bag,done,nail-trim,,L-2,,2026-11-21
V-5,C-2,2026-11-15 10:00,clinic,cancelled,nail-trim,,,,
-- trips.csv --
id,on,packs_out,packs_back
R-1,2026-11-12,K-3; K-2,K-2
-- complaints.csv --
id,received_on,client,visit,about_from,about_until,reply_by
Q-1,2026-11-19,C-1,,2026-11-10,2026-11-30,
Q-2,2026-11-19,C-2,,,,2026-12-01
Q-3,2026-11-19,,V-1,,,
Q-4,2026-11-19,,,,,
Q-5,2026-11-19,C-1,V-77,,,2026-11-20
`

func pulls(l audit.Lookback) (out []string) {
	for _, p := range l.Pull {
		out = append(out, fmt.Sprintf("%s%s ×%d %s", p.Pack, map[bool]string{true: "of " + p.Load}[p.Pack == ""], p.Count, p.State))
	}
	return out
}

func visits(l audit.Lookback) (out []string) {
	for _, v := range l.Affected {
		out = append(out, fmt.Sprintf("%s %v %v", v.Visit, v.Named, v.Narrow))
	}
	return out
}

func TestAFailedSporeTest(t *testing.T) {
	a, err := asked(t, folder(t, week), LookbackQuestion{Kind: "tests", ID: "T-3"})
	require.NoError(t, err)
	require.Len(t, a.Lookbacks, 1)
	l := a.Lookbacks[0]
	assert.Equal(t, "tests", l.Kind)
	assert.Equal(t, "S1", l.Sterilizer)
	assert.Equal(t, "2026-11-02", l.Windows[0].Since)
	assert.Equal(t, "2026-11-09", l.Windows[1].Since, "the lenient rule takes the pass of which no control is written")
	assert.Equal(t, "2026-11-24", l.Windows[0].Until, "a pending test ends nothing")
	assert.Equal(t, "Spore test T-3, sterilizer S1: run on 16 Nov 2026, failed, known on 18 Nov 2026. Take it as real until public health or the maker tells you otherwise.", a.Says[0])
	assert.Contains(t, a.Now[0], "Stop using sterilizer S1")
	assert.Contains(t, a.Now[1], "Put on hold every closed pack of the sterilizer dated 2 Nov 2026 to 24 Nov 2026, at clinic and in the mobile bag (bag): up to")
	assert.Contains(t, strings.Join(a.Now, "\n"), "Telephone public health (Health desk, 12) and your regulator (Council of the case; number not typed: write it into practice.yaml, contacts) today")
	assert.Contains(t, a.Decides, "Public health decides")
	assert.Equal(t, []string{"K-3 ×1 whereabouts not written; went out on 12 Nov 2026, and no return is written", "K-4 ×1 counted on the shelf",
		"of L-2 ×1 made by the load's count, without a number", "of L-3 ×2 made by the load's count, without a number", "of L-5 ×0 how many the load made is not written"}, sorted(pulls(l)))
	assert.Equal(t, []string{"V-1 true false", "V-2 true false", "V-3 false true", "V-4 true true"}, sorted(visits(l)))
	for _, w := range l.Loads {
		assert.NotEqual(t, "L-4", w.Load, "no pack of a rejected load went to anyone")
	}
	assert.Contains(t, strings.Join(a.Limits, "\n"), "They do not say that anyone was exposed")
	assert.Contains(t, strings.Join(a.Limits, "\n"), "does not overrule a spore test")
}

func sorted(s []string) []string { slices.Sort(s); return s }

func TestTestsOtherThanAFailedSporeTest(t *testing.T) {
	p := folder(t, week)
	for id, want := range map[string][]string{
		"T-2": {"run on 9 Nov 2026, and written as passed (known on 10 Nov 2026). What follows answers as if it had failed", "A spore test that failed is written in this time, run on 16 Nov 2026: ask with --test T-3 too."},
		"T-4": {"run on 20 Nov 2026, and its result is pending. What follows answers as if it had failed; find its result first"},
		"T-5": {"Leak test T-5, sterilizer S1: run on 9 Nov 2026, failed, the day on which that was known is not written"},
	} {
		a, err := asked(t, p, LookbackQuestion{Kind: "tests", ID: id})
		require.NoError(t, err, id)
		for _, w := range want {
			assert.Contains(t, strings.Join(a.Says, "\n"), w, id)
		}
	}
	_, err := asked(t, p, LookbackQuestion{Kind: "tests", ID: "T-6"})
	assert.ErrorContains(t, err, "names no sterilizer that stands once in the folder")
}

func TestASterilizer(t *testing.T) {
	p := folder(t, week)
	a, err := asked(t, p, LookbackQuestion{Kind: "sterilizers", ID: "S1"})
	require.NoError(t, err)
	assert.Contains(t, a.Says[0], "a spore test that failed is written in this time, run on 16 Nov 2026")
	assert.True(t, strings.HasPrefix(a.Lookbacks[0].Summary, "a spore test of the sterilizer failed (run on 16 Nov 2026), and these records narrow the question to 22 days and"), a.Lookbacks[0].Summary)

	a, err = asked(t, p, LookbackQuestion{Kind: "sterilizers", ID: "S2"})
	require.NoError(t, err)
	assert.Contains(t, a.Says[0], "Nothing typed of this time says that it did")
	assert.Contains(t, a.Now[0], "Nothing typed here asks you to do this today")

	_, err = asked(t, p, LookbackQuestion{Kind: "sterilizers", ID: "S3"})
	var no *LookbackRefusal
	require.ErrorAs(t, err, &no)
	assert.Equal(t, practice.Absent, no.State)
}

func TestALoadsOfATimeAreExactlyThose(t *testing.T) {
	p := folder(t, week)
	for span, want := range map[[2]string][]string{
		{"2026-11-09", "2026-11-13"}: {"L-2", "L-3", "L-5"},
		{"2026-11-10", "2026-11-12"}: nil,
		{"2026-11-13", ""}:           {"L-3", "L-5"},
		{"", "2026-11-09"}:           {"L-1", "L-2"},
	} {
		q := LookbackQuestion{Kind: "sterilizers", ID: "S1"}
		for i, d := range []*quantity.Day{&q.Since, &q.Until} {
			if span[i] != "" {
				*d = isoDay(t, span[i])
			}
		}
		a, err := asked(t, p, q)
		require.NoError(t, err)
		require.Len(t, a.Lookbacks[0].Windows, 1)
		assert.Equal(t, want == nil, strings.Contains(strings.Join(a.Says, " "), "No load of it is written that started then"))
		var got []string
		for _, l := range a.Lookbacks[0].Loads {
			got = append(got, l.Load)
		}
		assert.Equal(t, want, got, span)
		if len(want) > 0 {
			assert.Contains(t, a.Lookbacks[0].Windows[0].Why, "Around them the strict rule finds: from the spore test of 2 Nov 2026")
		}
	}
}

func TestALoad(t *testing.T) {
	a, err := asked(t, folder(t, week), LookbackQuestion{Kind: "loads", ID: "L-2"})
	require.NoError(t, err)
	w := a.Lookbacks[0].Windows
	assert.Equal(t, 1, w[1].Loads)
	assert.Equal(t, "2026-11-02", w[0].Since)
	assert.Equal(t, []string{"V-1 true false", "V-2 true false", "V-3 false true", "V-4 true true"}, sorted(visits(a.Lookbacks[0])))
	assert.Contains(t, a.Now[0], "Use no pack of the load. If the fault may lie in sterilizer S1")
	assert.Contains(t, strings.Join(a.Now, "\n"), "Begin with those of this load: 3 packs.")

	a, err = asked(t, folder(t, week), LookbackQuestion{Kind: "loads", ID: "L-5"})
	require.NoError(t, err)
	assert.Len(t, a.Lookbacks[0].Windows, 1, "its sterilizer is not in the folder")
	assert.Contains(t, strings.Join(a.Says, "\n"), "Which sterilizer ran it cannot be told")
}

func TestAPack(t *testing.T) {
	p := folder(t, week)
	a, err := asked(t, p, LookbackQuestion{Kind: "packs", ID: "K-1"})
	require.NoError(t, err)
	assert.Equal(t, []string{"V-1 true true", "V-2 true false"}, sorted(visits(a.Lookbacks[0])))
	assert.Contains(t, a.Says[0], "Pack K-1 of load L-1, started 2 Nov 2026 17:00: used 3 Nov 2026 10:00, as 1 visit names it")

	for _, id := range []string{"K-5", "K-6"} {
		a, err = asked(t, p, LookbackQuestion{Kind: "packs", ID: id})
		require.NoError(t, err)
		var got []string
		for _, l := range a.Lookbacks[0].Loads {
			got = append(got, l.Load)
		}
		assert.Equal(t, []string{"L-2", "L-3", "L-5"}, got, "each but the rejected one, and the one whose packs all have rows")
		assert.Contains(t, strings.Join(a.Says, "\n"), "What that costs")
		assert.Contains(t, strings.Join(a.Missing, "\n"), "The load of pack "+id)
	}
}

func TestAnInstrument(t *testing.T) {
	p := folder(t, week)
	a, err := asked(t, p, LookbackQuestion{Kind: "instruments", ID: "N-1"})
	require.NoError(t, err)
	l := a.Lookbacks[0]
	assert.Equal(t, []int{2, 5}, []int{l.Windows[1].Packs, l.Windows[0].Packs}, "named by K-1 and K-3; K-2, K-4 and K-5 are of the same set and list none")
	assert.Equal(t, []string{"V-1 true true", "V-2 true false", "V-3 true true"}, sorted(slices.DeleteFunc(visits(l), func(v string) bool { return strings.HasPrefix(v, "V-4") })))
	i := slices.IndexFunc(l.Affected, func(v audit.Affected) bool { return v.Visit == "V-3" })
	assert.Equal(t, "names the instrument", l.Affected[i].How)

	a, err = asked(t, p, LookbackQuestion{Kind: "instruments", ID: "N-1", Since: isoDay(t, "2026-11-08")})
	require.NoError(t, err)
	assert.NotContains(t, strings.Join(visits(a.Lookbacks[0]), " "), "V-1")
}

// The check and the command cannot differ: for small practices drawn at random the
// figures of each sterilizer are the same, and the lists are as long as the figures say.
func TestTheCheckAndTheCommandAgree(t *testing.T) {
	criteria, err := Criteria()
	require.NoError(t, err)
	rapid.Check(t, func(r *rapid.T) {
		p := openCase(t, "random", drawnPractice(r)).practice
		res, err := audit.Run(context.Background(), p, battery(t, "monitoring/exposed"), criteria, audit.Options{Workers: 1})
		require.NoError(r, err)
		require.Zero(r, res.Counts.Broken, "%v", res.Checks)
		for _, l := range res.Lookback {
			a, err := asked(r, p, LookbackQuestion{Kind: "sterilizers", ID: l.ID})
			require.NoError(r, err)
			require.Equal(r, l.Windows, a.Lookbacks[0].Windows)
			require.Equal(r, l.Narrowing, a.Lookbacks[0].Narrowing)
			require.Equal(r, l.Summary, a.Lookbacks[0].Summary)
			wide, narrow := l.Windows[0], l.Windows[1]
			require.Len(r, a.Lookbacks[0].Loads, wide.Loads)
			require.Len(r, a.Lookbacks[0].Affected, wide.MostVisits)
			inner := 0
			for _, v := range a.Lookbacks[0].Affected {
				if v.Narrow {
					inner++
				}
			}
			require.Equal(r, narrow.MostVisits, inner, "the narrow window lies in the wide one")
			require.GreaterOrEqual(r, wide.Days, narrow.Days)
		}
	})
}

// Whatever is asked of a small practice drawn at random: the narrow answer lies in the
// wide one, the lists are as long as the figures say, and what to do stands first.
func TestEveryQuestionHoldsTogether(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		p := openCase(t, "random", drawnPractice(r)).practice
		var all []LookbackQuestion
		ask := func(kind, id string) { all = append(all, LookbackQuestion{Kind: kind, ID: id}) }
		for i := range p.Loads {
			ask("loads", practice.Key(&p.Loads[i].Row))
		}
		for i := range p.Tests {
			ask("tests", practice.Key(&p.Tests[i].Row))
		}
		for i := range p.Packs {
			ask("packs", practice.Key(&p.Packs[i].Row))
		}
		for i := range p.Visits {
			ask("visits", practice.Key(&p.Visits[i].Row))
			ask("clients", p.Visits[i].Client)
		}
		ask("instruments", "N-1")
		ask("complaints", "Q-1")
		all = append(all, LookbackQuestion{Kind: "sterilizers", ID: "S1", Since: isoDay(r, "2026-11-05"), Until: isoDay(r, "2026-11-15")})
		q := rapid.SampledFrom(all).Draw(r, "question")
		a, err := asked(r, p, q)
		if err != nil {
			require.ErrorContains(r, err, "names no sterilizer", "%v", q)
			return
		}
		require.NotEmpty(r, a.Says, "%v", q)
		require.NotEmpty(r, a.Now, "%v", q)
		require.NotEmpty(r, a.Decides, "%v", q)
		for _, l := range a.Lookbacks {
			wide, named, inner := l.Windows[0], 0, 0
			for _, v := range l.Affected {
				if v.Named {
					named++
				}
				if v.Narrow {
					inner++
				}
			}
			require.Len(r, l.Affected, wide.MostVisits)
			require.Equal(r, wide.Visits, named)
			require.LessOrEqual(r, wide.Clients, wide.MostClients)
			require.Len(r, l.Loads, wide.Loads)
			closed := 0
			for _, k := range l.Pull {
				if k.Pack != "" {
					closed++
				}
			}
			require.Equal(r, wide.OnShelf+wide.Unwritten, closed)
			if len(l.Windows) > 1 {
				require.Equal(r, l.Windows[1].MostVisits, inner, "%v", q)
			}
		}
	})
}

// drawnPractice is a small folder drawn at random: two sterilizers, a month of rows.
func drawnPractice(r *rapid.T) map[string]string {
	when := func(what string) string {
		at := fmt.Sprintf("2026-11-%02d", rapid.IntRange(1, 24).Draw(r, what))
		if rapid.Bool().Draw(r, what+" has a clock") {
			at += fmt.Sprintf(" %02d:00", rapid.IntRange(7, 18).Draw(r, what+" hour"))
		}
		return at
	}
	pick := func(what string, words ...string) string { return rapid.SampledFrom(words).Draw(r, what) }
	tests, loads := "id,kind,run_at,equipment,control,result\n", "id,started,sterilizer,packs_made,decision,outside_indicator\n"
	packs, visits := "id,load,counted_on,set,instruments\n", "id,client,started,procedures,packs,loads,status,instruments\n"
	for i := range rapid.IntRange(0, 6).Draw(r, "tests") {
		tests += fmt.Sprintf("T-%d,spore,%s,%s,%s,%s\n", i, when("run"), pick("of", "S1", "S2", ""), pick("control", "growth", "no-growth", ""), pick("result", "pass", "pass", "fail", "pending", ""))
	}
	for i := range rapid.IntRange(1, 8).Draw(r, "loads") {
		loads += fmt.Sprintf("L-%d,%s,%s,%s,%s,pass\n", i, when("start"), pick("ran in", "S1", "S1", "S2", ""), pick("made", "2", ""), pick("decision", "released", "rejected", ""))
	}
	for i := range rapid.IntRange(0, 8).Draw(r, "packs") {
		packs += fmt.Sprintf("K-%d,%s,%s,%s,%s\n", i, pick("load", "L-0", "L-1", "L-2", "L-9", ""), pick("counted", "2026-11-20", ""), pick("set", "nail", ""), pick("holds", "N-1", ""))
	}
	for i := range rapid.IntRange(0, 8).Draw(r, "visits") {
		visits += fmt.Sprintf("V-%d,C-%d,%s,%s,%s,%s,%s,%s\n", i, rapid.IntRange(1, 4).Draw(r, "client"), when("visit"), pick("did", "nail-trim", "assessment", ""),
			pick("pack", "", "K-0", "K-1;K-2", "K-99"), pick("load", "", "", "L-1"), pick("status", "done", "", "cancelled"), pick("with", "N-1", ""))
	}
	return map[string]string{"sterilizers.csv": "id,method,air_removal\nS1,steam,gravity\nS2,steam,dynamic\n", "tests.csv": tests, "loads.csv": loads, "packs.csv": packs, "visits.csv": visits,
		"instruments.csv": "id,kind\nN-1,rasp\n", "complaints.csv": "id,received_on,client\nQ-1,2026-11-20,C-1\n"}
}

// A load shows by itself that it worked only with a passed indicator, none failed, dry
// packs, and a data-logger file that was held; without a file it cannot be told.
func TestALoadThatIsGood(t *testing.T) {
	p := folder(t, `
-- sterilizers.csv --
id,method
S1,steam
-- loads.csv --
id,started,decision,outside_indicator,inside_indicator,packs_dry
pass alone,2026-11-02 09:00,released,pass,,
none used,2026-11-03 09:00,released,none,none,
not written,2026-11-04 09:00,released,,,
one failed,2026-11-05 09:00,released,pass,fail,
wet,2026-11-06 09:00,released,pass,pass,no
rejected,2026-11-09 09:00,rejected,pass,pass,yes
`)
	want := map[string]quantity.Tri{"pass alone": quantity.Unsure, "none used": quantity.Unsure, "not written": quantity.Unsure, "one failed": quantity.No, "wet": quantity.No, "rejected": quantity.No}
	criteria, err := Criteria()
	require.NoError(t, err)
	require.NoError(t, audit.Put(t.Context(), p, All(), criteria, audit.Options{Workers: 1}, LookbackCheck("loads"), func(x *audit.Examination, _ *audit.Book) {
		r := lookbackBegin(x).forwards()
		for _, l := range p.LoadsByTime() {
			key := practice.Key(&l.Row)
			assert.Equal(t, want[key], r.isGood(l), key)
			delete(want, key)
		}
	}))
	assert.Empty(t, want)
}

// What is over is not told as if it were today: repeats that passed since are named.
func TestAFailureOfLongAgo(t *testing.T) {
	text := `
-- sterilizers.csv --
id,method
S1,steam
-- tests.csv --
id,kind,run_at,equipment,control,result
T-1,spore,2026-03-02 08:00,S1,growth,pass
T-2,spore,2026-03-09 08:00,S1,growth,fail
T-3,spore,2026-03-11 08:00,S1,growth,pass
T-4,spore,2026-03-12 08:00,S1,growth,pass
T-5,spore,2026-03-13 08:00,S1,growth,pass
-- loads.csv --
id,started,sterilizer,decision
L-1,2026-03-03 09:00,S1,released
L-2,2026-04-03 09:00,S1,released
`
	a, err := asked(t, folder(t, text), LookbackQuestion{Kind: "tests", ID: "T-2"})
	require.NoError(t, err)
	assert.Equal(t, "2026-03-11", a.Lookbacks[0].Windows[0].Until)
	assert.Equal(t, 1, a.Lookbacks[0].Windows[0].Loads)
	assert.Contains(t, a.Now[0], "Since then the spore test of 11 Mar 2026 that passed with a growing control is written. Whether sterilizer S1 may be used is for the maker and public health to say")

	short := strings.Replace(text, "T-5,spore,2026-03-13 08:00,S1,growth,pass\n", "", 1)
	a, err = asked(t, folder(t, short), LookbackQuestion{Kind: "tests", ID: "T-2"})
	require.NoError(t, err)
	assert.Equal(t, "2026-11-24", a.Lookbacks[0].Windows[0].Until, "two repeats are not three")
	assert.Contains(t, a.Now[0], "Stop using sterilizer S1")

	retired := strings.Replace(short, "id,method\nS1,steam", "id,method,retired_on\nS1,steam,2026-06-01", 1)
	a, err = asked(t, folder(t, retired), LookbackQuestion{Kind: "tests", ID: "T-2"})
	require.NoError(t, err)
	assert.Contains(t, a.Now[0], "written as retired since 1 Jun 2026")
}

// Where nothing bounds it, that leads.
func TestARecordTooThin(t *testing.T) {
	for upkeep, want := range map[string]string{
		"S1,service,2026-09-01,pass":   "These records cannot bound it: the look-back runs to the last technician's visit on 1 Sep 2026, and every client since (84 days and 1 load)",
		"S1,service,2026-09-01,fail":   "These records cannot bound it: the look-back runs to the first record of it, of 1 Sep 2026, and every client since (84 days and 1 load)",
		"S1,validation,2026-11-01,":    "These records cannot bound it: the look-back runs to the last technician's visit on 1 Nov 2026, and every client since (23 days and 1 load)",
		"S2,validation,2026-11-01,":    "These records cannot bound it: the look-back runs to the first record of it, of 2 Nov 2026, and every client since (22 days and 1 load)",
		"S1,relocation,2026-11-01,":    "These records cannot bound it: the look-back runs to the first record of it, of 1 Nov 2026, and every client since (23 days and 1 load)",
		"S1,back-in-use,2026-11-03,":   "These records cannot bound it: the look-back runs to the first record of it, of 2 Nov 2026, and every client since (22 days and 1 load)",
		"S1,calibration,2026-11-03,no": "These records cannot bound it: the look-back runs to the first record of it, of 2 Nov 2026, and every client since (22 days and 1 load)",
	} {
		p := folder(t, "\n-- sterilizers.csv --\nid,method\nS1,steam\nS2,steam\n-- upkeep.csv --\nequipment,task,done_on,result\n"+upkeep+"\n-- loads.csv --\nid,started,sterilizer,decision\nL-1,2026-11-02,S1,released\n")
		a, err := asked(t, p, LookbackQuestion{Kind: "sterilizers", ID: "S1"})
		require.NoError(t, err)
		assert.Contains(t, a.Says[1], "If the sterilizer failed tonight, "+strings.ToLower(want[:1])+want[1:], upkeep)
		assert.Contains(t, strings.Join(a.Missing, "\n"), "Spore tests: none is typed.")
		assert.Contains(t, strings.Join(a.Missing, "\n"), "Visits: none is typed.")
	}
}
