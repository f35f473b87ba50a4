package chain

import (
	"context"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"

	"footing/internal/practice"
	"footing/internal/quantity"
	"footing/internal/record"
)

// chained is a small practice in which every link of one visit is found.
var chained = map[string]string{
	"practice.yaml":    "name: Heron Lane\nregulator: Council of the test\n",
	"people.csv":       "id,role,supervisor\nP-01,practitioner,\nP-02,student,P-01\n",
	"credentials.csv":  "person,kind,valid_from,valid_until,status,equipment\nP-01,registration,2026-01-01,2026-12-31,active,\nP-01,reprocessing,2025-05-01,,,\n",
	"clients.csv":      "id,first_visit_on\nC-1,2026-03-10\n",
	"histories.csv":    "client,taken_on,risk\nC-1,2026-03-01,1\nC-1,2026-03-11,2\n",
	"screens.csv":      "client,asked_on,latex\nC-1,2026-03-10,no\n",
	"consents.csv":     "client,given_on,procedures,expires_on,withdrawn_on\nC-1,2026-03-01,nail-trim,,\n",
	"visits.csv":       "id,client,started,person,procedures,gloves,packs,loads,packs_used,bleeding,supervisor\nV-1,C-1,2026-03-10 10:00,P-01,nail-trim,nitrile,K-1,,,,\n",
	"packs.csv":        "id,load,inside_indicator,opened_at,discarded_on\nK-1,L-1,pass,,\n",
	"sterilizers.csv":  "id,method,operated_by,installed_on\nS1,steam,own,2024-01-01\nS2,steam,own,2024-01-01\n",
	"loads.csv":        "id,started,ended,sterilizer,packs_made,outside_indicator,printout,trace,certificate,loaded_by,decision\nL-1,2026-03-09 15:00,2026-03-09 16:00,S1,1,pass,yes,,,P-01,released\n",
	"tests.csv":        "id,kind,run_at,equipment,control,result\nT-1,spore,2026-03-02 08:00,S1,growth,pass\nT-2,spore,2026-03-16 08:00,S1,,pass\n",
	"upkeep.csv":       "equipment,task,done_on,result\nS1,service,2025-11-03,pass\nS1,validation,2026-03-09,pass\nS1,service,2026-03-10,pass\n",
	"observations.csv": "person,skill,observed_on,outcome\nP-02,reprocessing,2026-03-01,competent\n",
}

func readFiles(t testing.TB, files map[string]string) *practice.Practice {
	t.Helper()
	p := readLoose(t, files)
	require.Empty(t, p.Intake.Problems)
	return p
}

// needing says Yes of a visit with a nail trim, Unsure of one with nothing written.
func needing(v *practice.Visit) quantity.Tri {
	switch {
	case !v.Procedures.Written:
		return quantity.Unsure
	case v.Procedures.Has("nail-trim"):
		return quantity.Yes
	}
	return quantity.No
}

func behind(p *practice.Practice, id string) map[string]Link {
	out := map[string]Link{}
	for i := range p.Visits {
		if p.Visits[i].ID != id {
			continue
		}
		minutes, _ := quantity.Parse("10 min", quantity.Span, quantity.Fallback{})
		for _, l := range Follow(p, LinkTerms{Clock: Clock{minutes}, Needs: needing, Lead: 7, Share: 0.5}).Behind(&p.Visits[i]) {
			out[l.Name] = l
		}
	}
	return out
}

func TestBehindWhole(t *testing.T) {
	p := readFiles(t, chained)
	var names []string
	for _, l := range Follow(p, LinkTerms{Needs: needing}).Behind(&p.Visits[0]) {
		names = append(names, l.Name)
	}
	assert.Equal(t, LinkNames(), names)
	got := behind(p, "V-1")
	for name, what := range map[string]string{
		LinkPerson: "registration entered as active, from 1 Jan 2026 to 31 Dec 2026", LinkHistory: "taken 1 Mar 2026", LinkScreen: "asked 10 Mar 2026; latex: no",
		LinkConsent: "given 1 Mar 2026, in force that day", LinkGloves: "nitrile", LinkPack: "K-1", LinkLoad: "L-1, 9 Mar 2026 15:00", LinkRelease: "written as released",
		LinkTrace: "a printout is kept, as written", LinkIndicator: "outside: pass, inside the pack: pass", LinkSpore: "passed 2 Mar 2026, 7 d before; next passed 16 Mar 2026, 7 d after",
		LinkService: "service 3 Nov 2025; validation 9 Mar 2026", LinkTraining: "training in reprocessing, from 1 May 2025",
	} {
		assert.Equal(t, LinkFound, got[name].State, name)
		assert.Equal(t, what, got[name].What, name)
		assert.NotEmpty(t, got[name].Seen, name)
	}
	assert.Equal(t, LinkNone, got[LinkEvents].State)
}

// TestBehind changes one file of the whole chain at a time: "state|what it says|sure".
func TestBehind(t *testing.T) {
	visit := func(row string) string { return strings.SplitAfter(chained["visits.csv"], "\n")[0] + row + "\n" }
	load := func(row string) string { return strings.SplitAfter(chained["loads.csv"], "\n")[0] + row + "\n" }
	covered := func(kinds string) string {
		text := chained["practice.yaml"] + "coverage:\n"
		for _, k := range strings.Fields(kinds) {
			text += "  - {kind: " + k + ", from: 2020-01-01, share: all}\n"
		}
		return text
	}
	second := "V-1,C-1,2026-03-10 10:00,P-01,nail-trim,nitrile,,,,,\nV-0,C-1,2026-03-05,P-01,nail-trim,nitrile,K-1,,,,\nV-2,C-1,2026-03-12,P-01,nail-trim,nitrile,K-1,,,,"
	for name, c := range map[string]struct {
		files map[string]string
		want  map[string]string
	}{
		"a student, and the supervisor of the student's row":    {map[string]string{"visits.csv": visit("V-1,C-1,2026-03-10,P-02,nail-trim,nitrile,K-1,,,,")}, map[string]string{LinkPerson: "found|a student treated; the supervisor's registration"}},
		"the registration ended the day before":                 {map[string]string{"credentials.csv": strings.Replace(chained["credentials.csv"], "2026-12-31", "2026-03-09", 1)}, map[string]string{LinkPerson: "in part|no registration in force that day"}},
		"the registration ends that day":                        {map[string]string{"credentials.csv": strings.Replace(chained["credentials.csv"], "2026-12-31", "2026-03-10", 1)}, map[string]string{LinkPerson: "found|to 10 Mar 2026"}},
		"who treated is nowhere written":                        {map[string]string{"visits.csv": visit("V-1,C-1,2026-03-10,,nail-trim,nitrile,K-1,,,,")}, map[string]string{LinkPerson: "never typed|no visit says who treated"}},
		"the history is a day late":                             {map[string]string{"histories.csv": "client,taken_on\nC-1,2026-03-11\nC-2,2026-03-10\n"}, map[string]string{LinkHistory: "not found|the first typed is of 11 Mar 2026"}},
		"late, and all are here":                                {map[string]string{"histories.csv": "client,taken_on\nC-1,2026-03-11\n", "practice.yaml": covered("histories")}, map[string]string{LinkHistory: "not found|no health history|sure"}},
		"no history at all":                                     {map[string]string{"histories.csv": ""}, map[string]string{LinkHistory: "never typed|not judged"}},
		"a screen without an answer":                            {map[string]string{"screens.csv": "client,asked_on,latex\nC-1,2026-03-01,\n"}, map[string]string{LinkScreen: "in part|without an answer"}},
		"a latex answer from before":                            {map[string]string{"screens.csv": "client,asked_on,latex,adhesive\nC-1,2026-03-01,yes,\nC-1,2026-03-09,,no\n"}, map[string]string{LinkScreen: "found|asked 9 Mar 2026; latex: yes, as answered on 1 Mar 2026"}},
		"consent for something else":                            {map[string]string{"consents.csv": "client,given_on,procedures\nC-1,2026-03-01,padding\n"}, map[string]string{LinkConsent: "in part|does not name nail trim"}},
		"consent runs out the day before":                       {map[string]string{"consents.csv": "client,given_on,expires_on\nC-1,2026-03-01,2026-03-09\n"}, map[string]string{LinkConsent: "not found|ran until 9 Mar 2026"}},
		"consent runs out that day":                             {map[string]string{"consents.csv": "client,given_on,expires_on\nC-1,2026-03-01,2026-03-10\n"}, map[string]string{LinkConsent: "found|given 1 Mar 2026"}},
		"consent withdrawn that day":                            {map[string]string{"consents.csv": "client,given_on,withdrawn_on\nC-1,2026-03-01,2026-03-10\n"}, map[string]string{LinkConsent: "in part|given 1 Mar 2026; withdrawn that day, and whether before the visit"}},
		"an older consent, and a newer one withdrawn":           {map[string]string{"consents.csv": "client,given_on,withdrawn_on\nC-1,2026-02-01,\nC-1,2026-03-01,2026-03-09\n"}, map[string]string{LinkConsent: "in part|given 1 Feb 2026; in force as written, but another form was withdrawn on 9 Mar 2026"}},
		"a visit that names the load":                           {map[string]string{"visits.csv": visit("V-1,C-1,2026-03-10,P-01,nail-trim,nitrile,,L-1,,,")}, map[string]string{LinkPack: "found|in place of a pack number", LinkLoad: "found|L-1", LinkIndicator: "found|outside: pass"}},
		"no visit names anything":                               {map[string]string{"visits.csv": visit("V-1,C-1,2026-03-10,P-01,nail-trim,nitrile,,,,,")}, map[string]string{LinkPack: "never typed|no visit names", LinkLoad: "in part|one load before it could have supplied it: L-1", LinkRelease: "in part|of the load that could have supplied it last: written as released"}},
		"a gap between visits that name packs":                  {map[string]string{"visits.csv": visit(second)}, map[string]string{LinkPack: "not found|names no pack and no load|sure"}},
		"the load by its counter":                               {map[string]string{"packs.csv": "id,load\nK-1,0001\n"}, map[string]string{LinkLoad: "in part|load 0001 has no row here, but one whose number or counter is the same", LinkRelease: "found|"}},
		"a load that is nowhere":                                {map[string]string{"packs.csv": "id,load\nK-1,L-77\n", "practice.yaml": covered("loads")}, map[string]string{LinkLoad: "not found|L-77 has no row here"}},
		"its instruments are the client's own":                  {map[string]string{"visits.csv": "id,client,started,procedures,instruments\nV-1,C-1,2026-03-10,nail-trim,N-9\n", "instruments.csv": "id,kind,reuse\nN-9,file,client-owned\n"}, map[string]string{LinkPack: "does not apply|the client's own"}},
		"one of its instruments is the practice's":              {map[string]string{"visits.csv": "id,client,started,procedures,instruments\nV-1,C-1,2026-03-10,nail-trim,N-9; N-8\n", "instruments.csv": "id,kind,reuse\nN-9,file,client-owned\nN-8,file,reusable\n"}, map[string]string{LinkPack: "never typed|"}},
		"packs as a count":                                      {map[string]string{"visits.csv": visit("V-1,C-1,2026-03-10,P-01,nail-trim,nitrile,,,2,,")}, map[string]string{LinkPack: "in part|as a count alone: 2"}},
		"one of two names its pack":                             {map[string]string{"visits.csv": visit(second)}, map[string]string{LinkPack: "not found|names no pack and no load|sure"}},
		"two of four name their packs":                          {map[string]string{"visits.csv": visit(second + "\nV-7,C-2,2026-03-06,P-01,nail-trim,nitrile,,,,,")}, map[string]string{LinkPack: "never typed|so few visits"}},
		"the first that names one is later":                     {map[string]string{"visits.csv": visit("V-1,C-1,2026-03-10,P-01,nail-trim,nitrile,,,,,\nV-2,C-1,2026-03-12,P-01,nail-trim,nitrile,K-1,,,,")}, map[string]string{LinkPack: "never typed|first written for 12 Mar 2026"}},
		"nothing from a sterilizer was called for":              {map[string]string{"visits.csv": visit("V-1,C-1,2026-03-10,P-01,padding,nitrile,,,,,")}, map[string]string{LinkPack: "does not apply|calls for no instruments", LinkSpore: "does not apply|"}},
		"no pack was opened":                                    {map[string]string{"visits.csv": visit("V-1,C-1,2026-03-10,P-01,nail-trim,nitrile,,,0,,")}, map[string]string{LinkPack: "does not apply|no pack was opened"}},
		"an assessment":                                         {map[string]string{"visits.csv": visit("V-1,C-1,2026-03-10,P-01,assessment,,,,,,")}, map[string]string{LinkScreen: "does not apply|", LinkConsent: "does not apply|", LinkGloves: "does not apply|"}},
		"a pack without a row":                                  {map[string]string{"visits.csv": visit("V-1,C-1,2026-03-10,P-01,nail-trim,nitrile,K-9,,,,")}, map[string]string{LinkPack: "not found|K-9 is named and has no row here", LinkLoad: "not found|cannot be told"}},
		"one pack of two has a row":                             {map[string]string{"visits.csv": visit("V-1,C-1,2026-03-10,P-01,nail-trim,nitrile,K-1; K-9,,,,")}, map[string]string{LinkPack: "in part|K-1; K-9 is named and has no row here", LinkLoad: "in part|L-1", LinkRelease: "found|"}},
		"packs are never typed":                                 {map[string]string{"packs.csv": ""}, map[string]string{LinkPack: "never typed|names K-1", LinkLoad: "never typed|", LinkSpore: "never typed|"}},
		"a pack that two rows have":                             {map[string]string{"packs.csv": "id,load\nK-1,L-1\nK-1,L-1\n"}, map[string]string{LinkPack: "in part|stands on several rows", LinkLoad: "in part|cannot be told", LinkSpore: "in part|no load is known"}},
		"no release, where none ever is":                        {map[string]string{"loads.csv": load("L-1,2026-03-09 15:00,,S1,1,pass,yes,,,P-01,")}, map[string]string{LinkRelease: "never typed|no load of the sterilizer has a decision"}},
		"no release in a log that has them":                     {map[string]string{"loads.csv": load("L-1,2026-03-09 15:00,,S1,1,pass,yes,,,P-01,\nL-0,2026-03-08,,S1,,,,,,,released\nL-2,2026-03-10,,S1,,,,,,,rejected")}, map[string]string{LinkRelease: "not found|is not written|sure"}},
		"no printout, as written":                               {map[string]string{"loads.csv": load("L-1,2026-03-09 15:00,,S1,1,pass,no,,,P-01,released")}, map[string]string{LinkTrace: "not found|no printout, as written|sure"}},
		"a data-logger file by its name":                        {map[string]string{"loads.csv": load("L-1,2026-03-09 15:00,,S1,1,pass,,398.csv,,P-01,released"), "traces/398.csv": "time,temperature [°C]\n0,20\n"}, map[string]string{LinkTrace: "found|by its name"}},
		"a data-logger file that is elsewhere":                  {map[string]string{"loads.csv": load("L-1,2026-03-09 15:00,,S1,1,pass,,398.csv,,P-01,released")}, map[string]string{LinkTrace: "in part|not in the folder"}},
		"no indicator was used":                                 {map[string]string{"loads.csv": load("L-1,2026-03-09 15:00,,S1,1,none,yes,,,P-01,released"), "packs.csv": "id,load,inside_indicator\nK-1,L-1,none\n"}, map[string]string{LinkIndicator: "not found|outside: none used, inside the pack: none used, as written|sure"}},
		"a failed indicator is a result":                        {map[string]string{"loads.csv": load("L-1,2026-03-09 15:00,,S1,1,fail,yes,,,P-01,released"), "packs.csv": "id,load\nK-1,L-1\n"}, map[string]string{LinkIndicator: "found|outside: fail"}},
		"the only test before it failed":                        {map[string]string{"tests.csv": strings.Replace(chained["tests.csv"], "growth,pass", "growth,fail", 1)}, map[string]string{LinkSpore: "in part|none that passed before it is typed; next passed 16 Mar 2026"}},
		"no test after it yet":                                  {map[string]string{"tests.csv": "kind,run_at,equipment,control,result\nspore,2026-03-02,S1,growth,pass\n"}, map[string]string{LinkSpore: "found|none that passed after it is typed yet"}},
		"tests of another sterilizer alone":                     {map[string]string{"tests.csv": "kind,run_at,equipment,result\nspore,2026-03-02,S2,pass\n", "practice.yaml": covered("tests")}, map[string]string{LinkSpore: "not found|before or after|sure"}},
		"the test of the load itself":                           {map[string]string{"tests.csv": "kind,run_at,equipment,load,result\nspore,2026-03-09 15:05,S1,L-1,pass\n"}, map[string]string{LinkSpore: "found|passed 9 Mar 2026, the same day"}},
		"no spore test at all":                                  {map[string]string{"tests.csv": "kind,run_at,equipment,result\nleak,2026-03-02,S1,pass\n"}, map[string]string{LinkSpore: "never typed|"}},
		"the service before it failed":                          {map[string]string{"upkeep.csv": "equipment,task,done_on,result\nS1,service,2025-11-03,fail\n"}, map[string]string{LinkService: "in part|service 3 Nov 2025: failed, as written"}},
		"a load of no sterilizer":                               {map[string]string{"loads.csv": load("L-1,2026-03-09 15:00,,,1,pass,yes,,,P-01,released")}, map[string]string{LinkSpore: "never typed|which sterilizer", LinkService: "never typed|which sterilizer", LinkIndicator: "found|"}},
		"an operator watched at work":                           {map[string]string{"loads.csv": load("L-1,2026-03-09 15:00,,S1,1,pass,yes,,,P-02,released")}, map[string]string{LinkTraining: "found|watched at reprocessing on 1 Mar 2026"}},
		"training that ended":                                   {map[string]string{"credentials.csv": "person,kind,valid_from,valid_until\nP-01,reprocessing,2024-05-01,2026-03-08\n"}, map[string]string{LinkTraining: "in part|no training in reprocessing in force", LinkPerson: "never typed|"}},
		"a contractor's load":                                   {map[string]string{"sterilizers.csv": "id,method,operated_by\nS1,steam,contractor\n", "loads.csv": load("L-1,2026-03-09 15:00,,S1,1,,,,Z-77,,"), "packs.csv": "id,load\nK-1,L-1\n"}, map[string]string{LinkRelease: "found|the contractor's certificate Z-77", LinkTrace: "found|", LinkIndicator: "found|", LinkSpore: "does not apply|", LinkTraining: "does not apply|"}},
		"a bleed with its incident":                             {map[string]string{"visits.csv": visit("V-1,C-1,2026-03-10,P-01,nail-trim,nitrile,K-1,,,minor,"), "incidents.csv": "kind,occurred_on,client,visit\nbleed,2026-03-10,C-1,\n"}, map[string]string{LinkEvents: "found|incident (bleed) of 10 Mar 2026"}},
		"a bleed without one, where others have":                {map[string]string{"visits.csv": visit("V-1,C-1,2026-03-10,P-01,nail-trim,nitrile,K-1,,,minor,"), "incidents.csv": "kind,occurred_on,client\nbleed,2026-03-10,C-2\n"}, map[string]string{LinkEvents: "not found|no incident of it is typed"}},
		"two clients of one name":                               {map[string]string{"clients.csv": "id\nC-1\nC-1\n"}, map[string]string{LinkHistory: "in part|several rows of clients", LinkConsent: "in part|"}},
		"a load that was over too late, but the clocks may err": {map[string]string{"visits.csv": visit("V-1,C-1,2026-03-09 15:50,P-01,nail-trim,nitrile,,,,,")}, map[string]string{LinkLoad: "in part|L-1"}},
		"a load that was over too late":                         {map[string]string{"visits.csv": visit("V-1,C-1,2026-03-09 15:49,P-01,nail-trim,nitrile,,,,,")}, map[string]string{LinkLoad: "never typed|no load that could have supplied it"}},
		"a load whose packs all went elsewhere":                 {map[string]string{"visits.csv": visit("V-1,C-1,2026-03-10 10:00,P-01,nail-trim,nitrile,,,,,\nV-2,C-2,2026-03-10,P-01,nail-trim,nitrile,K-1,,,,")}, map[string]string{LinkLoad: "never typed|no load that could have supplied it"}},
		"consent withdrawn the day before":                      {map[string]string{"consents.csv": "client,given_on,withdrawn_on\nC-1,2026-03-01,2026-03-09\n"}, map[string]string{LinkConsent: "not found|the one of 1 Mar 2026 was withdrawn on 9 Mar 2026"}},
		"given anew on the day the old one was withdrawn":       {map[string]string{"consents.csv": "client,given_on,withdrawn_on\nC-1,2026-02-01,2026-03-05\nC-1,2026-03-05,\n"}, map[string]string{LinkConsent: "found|given 5 Mar 2026, in force that day"}},
		"consent withdrawn for something else":                  {map[string]string{"consents.csv": "client,given_on,procedures,withdrawn_on\nC-1,2026-02-01,nail-trim,\nC-1,2026-03-01,padding,2026-03-09\n"}, map[string]string{LinkConsent: "found|given 1 Feb 2026"}},
		"two forms that name one procedure each":                {map[string]string{"consents.csv": "client,given_on,procedures\nC-1,2026-03-01,nail-trim\nC-1,2026-03-02,padding\n", "visits.csv": visit("V-1,C-1,2026-03-10,P-01,nail-trim; padding; assessment,nitrile,K-1,,,,")}, map[string]string{LinkConsent: "found|given 2 Mar 2026 and 1 Mar 2026, in force that day"}},
		"two forms, and a third procedure":                      {map[string]string{"consents.csv": "client,given_on,procedures\nC-1,2026-03-01,nail-trim\nC-1,2026-03-02,padding\n", "visits.csv": visit("V-1,C-1,2026-03-10,P-01,nail-trim; padding; foot-bath,nitrile,K-1,,,,")}, map[string]string{LinkConsent: "in part|none of them names foot bath"}},
		"histories are typed from later on":                     {map[string]string{"histories.csv": "client,taken_on\nC-2,2026-03-11\n"}, map[string]string{LinkHistory: "never typed|before 11 Mar 2026"}},
		"screens are typed from later on":                       {map[string]string{"screens.csv": "client,asked_on,latex\nC-2,2026-03-11,no\n"}, map[string]string{LinkScreen: "never typed|before 11 Mar 2026"}},
		"a screen of another client that day":                   {map[string]string{"screens.csv": "client,asked_on,latex\nC-2,2026-03-10,no\n"}, map[string]string{LinkScreen: "not found|no allergy answer"}},
		"consents are typed from later on":                      {map[string]string{"consents.csv": "client,given_on\nC-2,2026-03-11\n"}, map[string]string{LinkConsent: "never typed|before 11 Mar 2026"}},
		"loads are typed from later on":                         {map[string]string{"loads.csv": load("L-9,2026-03-11,,S1,1,pass,yes,,,P-01,released")}, map[string]string{LinkLoad: "never typed|nothing is typed for loads before 11 Mar 2026", LinkSpore: "never typed|"}},
		"loads are all here, and begin later":                   {map[string]string{"loads.csv": load("L-9,2026-03-11,,S1,1,pass,yes,,,P-01,released"), "practice.yaml": covered("loads")}, map[string]string{LinkLoad: "not found|L-1 has no row here"}},
		"packs are typed from later on":                         {map[string]string{"packs.csv": "id,load,opened_at\nK-9,,2026-03-11\n"}, map[string]string{LinkPack: "never typed|nothing is typed for packs before 11 Mar 2026", LinkLoad: "never typed|"}},
		"packs name their loads from later on":                  {map[string]string{"packs.csv": "id,load\nK-1,\nK-2,L-1\n", "visits.csv": visit("V-1,C-1,2026-03-10,P-01,nail-trim,nitrile,K-1,,,,\nV-2,C-2,2026-03-12,P-01,nail-trim,nitrile,K-2,,,,"), "practice.yaml": covered("packs")}, map[string]string{LinkLoad: "never typed|first written for 12 Mar 2026"}},
		"a pack without its load between others":                {map[string]string{"packs.csv": "id,load\nK-1,\nK-2,L-1\nK-3,L-1\n", "visits.csv": visit("V-1,C-1,2026-03-10,P-01,nail-trim,nitrile,K-1,,,,\nV-2,C-2,2026-03-12,P-01,nail-trim,nitrile,K-2,,,,\nV-3,C-2,2026-03-09,P-01,nail-trim,nitrile,K-3,,,,")}, map[string]string{LinkLoad: "not found|which load made K-1 is not written|sure"}},
		"a load that was set aside":                             {map[string]string{"loads.csv": load("L-1,someday,,S1,1,pass,yes,,,P-01,released\nL-2,2026-03-08,,S1,1,pass,yes,,,P-01,released")}, map[string]string{LinkLoad: "in part|set aside", LinkTrace: "in part|no load is known"}},
		"a load that two rows have":                             {map[string]string{"loads.csv": load("L-1,2026-03-08,,S1,1,pass,yes,,,P-01,released\nL-1,2026-03-09,,S1,1,pass,yes,,,P-01,released")}, map[string]string{LinkLoad: "in part|stands on several rows"}},
		"no outside indicator, the inside one not written":      {map[string]string{"loads.csv": load("L-1,2026-03-09 15:00,,S1,1,none,yes,,,P-01,released"), "packs.csv": "id,load\nK-1,L-1\n"}, map[string]string{LinkIndicator: "never typed|outside: none used, as written"}},
		"the strip of a pack of the load that a visit names":    {map[string]string{"visits.csv": visit("V-1,C-1,2026-03-10,P-01,nail-trim,nitrile,,L-1,,,"), "loads.csv": load("L-1,2026-03-09 15:00,,S1,1,,yes,,,P-01,released")}, map[string]string{LinkIndicator: "found|inside a pack of it: pass"}},
		"the strip of a pack that knows its load by number":     {map[string]string{"packs.csv": "id,load,inside_indicator\nK-1,0001,pass\n", "loads.csv": load("L-1,2026-03-09 15:00,,S1,1,,yes,,,P-01,released")}, map[string]string{LinkIndicator: "found|inside the pack: pass"}},
		"no printout, and a logger whose file is elsewhere":     {map[string]string{"loads.csv": load("L-1,2026-03-09 15:00,,S1,1,pass,no,,,P-01,released"), "sterilizers.csv": "id,method,logger\nS1,steam,yes\n"}, map[string]string{LinkTrace: "never typed|has a data logger"}},
		"a failed test between two that passed":                 {map[string]string{"tests.csv": chained["tests.csv"] + "T-3,spore,2026-03-11,S1,growth,fail\n"}, map[string]string{LinkSpore: "found|passed 2 Mar 2026, 7 d before; next passed 16 Mar 2026, 7 d after; failed 11 Mar 2026, 2 d after"}},
		"a failed test before one that passed":                  {map[string]string{"tests.csv": chained["tests.csv"] + "T-3,spore,2026-03-01,S1,growth,fail\n"}, map[string]string{LinkSpore: "found|passed 2 Mar 2026, 7 d before; next passed 16 Mar 2026, 7 d after"}},
		"a failed test alone":                                   {map[string]string{"tests.csv": "kind,run_at,equipment,result\nspore,2026-03-11,S1,fail\n", "practice.yaml": covered("tests")}, map[string]string{LinkSpore: "in part|none that passed is typed, before or after; failed 11 Mar 2026, 2 d after"}},
		"a test that waits for its result":                      {map[string]string{"tests.csv": "kind,run_at,equipment,result\nspore,2026-03-11,S1,pending\n", "practice.yaml": covered("tests")}, map[string]string{LinkSpore: "in part|no result yet of the one of 11 Mar 2026"}},
		"a pass whose control did not grow":                     {map[string]string{"tests.csv": "kind,run_at,equipment,result,control\nspore,2026-03-09,S1,pass,no-growth\n"}, map[string]string{LinkSpore: "in part|something written against it: 9 Mar 2026"}},
		"no spore test of this sterilizer":                      {map[string]string{"tests.csv": "kind,run_at,equipment,result\nspore,2026-03-02,S2,pass\n"}, map[string]string{LinkSpore: "never typed|no spore test of the sterilizer"}},
		"a spore test of no sterilizer":                         {map[string]string{"tests.csv": "kind,run_at,equipment,result\nspore,2026-03-02,,pass\n", "practice.yaml": covered("tests")}, map[string]string{LinkSpore: "in part|does not say of which sterilizer"}},
		"upkeep of this sterilizer is typed from later on":      {map[string]string{"upkeep.csv": "equipment,task,done_on\nS1,service,2026-03-10\nS2,service,2025-01-10\n"}, map[string]string{LinkService: "never typed|of that day or earlier"}},
		"upkeep is all here, and begins later":                  {map[string]string{"upkeep.csv": "equipment,task,done_on\nS1,service,2026-03-10\n", "practice.yaml": covered("upkeep")}, map[string]string{LinkService: "not found|before it is typed|sure"}},
		"upkeep of no sterilizer":                               {map[string]string{"upkeep.csv": "equipment,task,done_on\n,service,2025-03-10\n", "practice.yaml": covered("upkeep")}, map[string]string{LinkService: "in part|does not say of which sterilizer"}},
		"the validation failed, the service did not":            {map[string]string{"upkeep.csv": chained["upkeep.csv"] + "S1,validation,2026-03-09,fail\n"}, map[string]string{LinkService: "found|service 3 Nov 2025; validation 9 Mar 2026: failed, as written"}},
		"no load says who ran it":                               {map[string]string{"loads.csv": load("L-1,2026-03-09 15:00,,S1,1,pass,yes,,,,released")}, map[string]string{LinkTraining: "never typed|no load of the sterilizer says who ran it"}},
		"who ran it, blank between others":                      {map[string]string{"loads.csv": load("L-1,2026-03-09 15:00,,S1,1,pass,yes,,,,released\nL-0,2026-03-08,,S1,,,,,,P-01,\nL-2,2026-03-10,,S1,,,,,,P-01,")}, map[string]string{LinkTraining: "not found|who ran the load is not written|sure"}},
		"packs of an own and of a contractor's load":            {map[string]string{"sterilizers.csv": "id,method,operated_by\nS1,steam,own\nS2,steam,contractor\n", "loads.csv": load("L-1,2026-03-09 15:00,,S1,1,pass,yes,,,P-01,released\nL-2,2026-03-08,,S2,1,,,,Z-77,,"), "packs.csv": "id,load\nK-1,L-1\nK-2,L-2\n", "visits.csv": visit("V-1,C-1,2026-03-10,P-01,nail-trim,nitrile,K-1; K-2,,,,")}, map[string]string{LinkSpore: "found|L-2: the contractor's", LinkService: "found|", LinkTraining: "found|", LinkTrace: "found|"}},
		"a load that began after the visit":                     {map[string]string{"loads.csv": load("L-1,2026-03-10 10:11,,S1,1,pass,yes,,,P-01,released")}, map[string]string{LinkLoad: "in part|L-1, 10 Mar 2026 10:11, which is after the visit", LinkTrace: "found|"}},
		"one that began after it, as clocks explain":            {map[string]string{"loads.csv": load("L-1,2026-03-10 10:10,,S1,1,pass,yes,,,P-01,released")}, map[string]string{LinkLoad: "found|L-1, 10 Mar 2026 10:10"}},
		"names were given up, and all visits are here":          {map[string]string{"visits.csv": visit("V-1,C-1,2026-03-10,P-01,nail-trim,nitrile,,,,,\nV-2,C-1,2026-03-09,P-01,nail-trim,nitrile,K-1,,,,\nV-3,C-1,2026-03-11,P-01,nail-trim,nitrile,,,,,"), "practice.yaml": covered("visits")}, map[string]string{LinkPack: "never typed|no visit after 9 Mar 2026 names a pack"}},
		"the last of three names none, and all are here":        {map[string]string{"visits.csv": visit("V-1,C-1,2026-03-10,P-01,nail-trim,nitrile,,,,,\nV-2,C-1,2026-03-09,P-01,nail-trim,nitrile,K-1,,,,\nV-3,C-1,2026-03-08,P-01,nail-trim,nitrile,K-1,,,,"), "practice.yaml": covered("visits")}, map[string]string{LinkPack: "never typed|no visit after 9 Mar 2026 names a pack"}},
	} {
		t.Run(name, func(t *testing.T) {
			files := maps.Clone(chained)
			for file, text := range c.files {
				if files[file] = text; text == "" {
					delete(files, file)
				}
			}
			got := behind(readLoose(t, files), "V-1")
			for link, want := range c.want {
				parts := strings.Split(want, "|")
				assert.Equal(t, parts[0], got[link].State.String(), "%s: %s", link, got[link].What)
				assert.Contains(t, got[link].What, parts[1], link)
				assert.Equal(t, len(parts) == 3, got[link].Sure, "%s: sure", link)
			}
		})
	}
}

// TestHeed: what is written as failed, rejected or out of order is told, and only that.
func TestHeed(t *testing.T) {
	load := func(cells string) string {
		return strings.SplitAfter(chained["loads.csv"], "\n")[0] + "L-1,2026-03-" + cells + "\n"
	}
	for name, c := range map[string]struct {
		file, text string
		link       string
		want       []string
	}{
		"nothing":                               {"tests.csv", chained["tests.csv"], LinkSpore, nil},
		"a failed test between two that passed": {"tests.csv", chained["tests.csv"] + "T-3,spore,2026-03-09,S1,growth,fail\n", LinkSpore, []string{"spore test T-3 of 9 Mar 2026, around a load behind it, is written as failed"}},
		"one that waits for its result":         {"tests.csv", chained["tests.csv"] + "T-3,spore,2026-03-09,S1,,pending\n", LinkSpore, nil},
		"a failed test after the next passed":   {"tests.csv", chained["tests.csv"] + "T-3,spore,2026-03-17,S1,growth,fail\n", LinkSpore, nil},
		"a rejected load":                       {"loads.csv", load("09,,S1,1,pass,yes,,,P-01,rejected"), LinkRelease, []string{"load L-1 is written as rejected"}},
		"a load that waits":                     {"loads.csv", load("09,,S1,1,pass,yes,,,P-01,pending"), LinkRelease, []string{"load L-1 is written as waiting for a decision"}},
		"a failed indicator":                    {"loads.csv", load("09,,S1,1,fail,yes,,,P-01,released"), LinkIndicator, []string{"an indicator of load L-1 is written as failed"}},
		"a load of the day after":               {"loads.csv", load("11,,S1,1,pass,yes,,,P-01,released"), LinkLoad, []string{"load L-1 is written as begun after the visit"}},
	} {
		t.Run(name, func(t *testing.T) {
			files := maps.Clone(chained)
			files[c.file] = c.text
			got := behind(readLoose(t, files), "V-1")
			assert.Equal(t, c.want, got[c.link].Heed)
		})
	}
}

// readLoose reads a folder in which a row may be set aside.
func readLoose(t testing.TB, files map[string]string) *practice.Practice {
	t.Helper()
	dir := t.TempDir()
	for name, text := range files {
		path := filepath.Join(dir, name)
		require.NoError(t, os.MkdirAll(filepath.Dir(path), 0o755))
		require.NoError(t, os.WriteFile(path, []byte(text), 0o644))
	}
	asOf, _ := quantity.ParseDay("2026-11-25", quantity.ISO)
	p, err := practice.Read(context.Background(), dir, asOf, record.Options{})
	require.NoError(t, err)
	return p
}

// TestBehindOfSome follows visits of small random practices: each has every link, in
// order, says no more than it saw, and never judges what was never typed.
func TestBehindOfSome(t *testing.T) {
	base := t.TempDir()
	n := 0
	rapid.Check(t, func(r *rapid.T) {
		n++
		files := maps.Clone(chained)
		for _, file := range slices.Sorted(maps.Keys(chained)) {
			lines := strings.SplitAfter(chained[file], "\n")
			switch rapid.IntRange(0, 3).Draw(r, file) {
			case 0:
				if file != "practice.yaml" && file != "visits.csv" {
					delete(files, file)
				}
			case 1: // a column of blanks
				if strings.HasSuffix(file, ".csv") && file != "visits.csv" {
					row := strings.Split(strings.TrimSuffix(lines[1], "\n"), ",")
					row[rapid.IntRange(1, len(row)-1).Draw(r, "column")] = ""
					files[file] = lines[0] + strings.Join(row, ",") + "\n"
				}
			}
		}
		dir := filepath.Join(base, "p"+string(rune('a'+n%26)), "x"+strings.Repeat("x", n%7))
		_ = os.RemoveAll(dir)
		if err := os.MkdirAll(dir, 0o755); err != nil {
			r.Fatal(err)
		}
		for name, text := range files {
			if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
				r.Fatal(err)
			}
		}
		asOf, _ := quantity.ParseDay("2026-11-25", quantity.ISO)
		p, err := practice.Read(context.Background(), dir, asOf, record.Options{})
		if err != nil {
			r.Fatal(err)
		}
		for i := range p.Visits {
			links := Follow(p, LinkTerms{Needs: needing}).Behind(&p.Visits[i])
			if len(links) != len(LinkNames()) {
				r.Fatalf("%d links", len(links))
			}
			for j, l := range links {
				switch {
				case l.Name != LinkNames()[j]:
					r.Fatalf("link %d is %q", j, l.Name)
				case l.What == "":
					r.Fatalf("%s says nothing", l.Name)
				case l.State == LinkFound && len(l.Seen) == 0:
					r.Fatalf("%s was found nowhere", l.Name)
				case l.Sure && l.State != LinkAbsent && l.State != LinkPart:
					r.Fatalf("%s is sure and %s", l.Name, l.State)
				case strings.Contains(l.What, "C-1"):
					r.Fatalf("%s names the client: %s", l.Name, l.What)
				}
			}
		}
	})
}
