package chain

import (
	"maps"
	"testing"

	"github.com/stretchr/testify/assert"
)

// What a visit noted is looked for among incidents and among referrals, each by its own.
func TestBehindWhatHappened(t *testing.T) {
	const visits = "id,client,started,person,procedures,packs,bleeding,found\nV-1,C-1,2026-03-10 10:00,P-01,nail-trim,K-1,"
	const referrals, incidents = "client,sent_on,visit,reason\n", "kind,occurred_on,client,visit\n"
	all := chained["practice.yaml"] + "coverage:\n  - {kind: referrals, from: 2020-01-01, share: all}\n"
	for _, c := range []struct {
		name, noted, referrals, incidents, self string
		state                                   LinkState
		what                                    string
		sure                                    bool
	}{
		{name: "nothing noted", noted: ",", state: LinkNone, what: "the visit notes no bleeding, cut or reaction, and nothing to refer; no row names it"},
		{name: "nothing noted, as written", noted: "none,none", state: LinkNone, what: "the visit notes no bleeding, cut or reaction, and nothing to refer; no row names it"},
		{name: "skin that is only watched", noted: ",broken-skin; fragile-skin", state: LinkNone, what: "the visit notes no bleeding, cut or reaction, and nothing to refer; no row names it"},
		{name: "an ulcer, and nobody's referral", noted: ",ulcer", state: LinkUnkept, what: "the visit notes an ulcer, infection, hot swollen foot or dead tissue; no referral at all is typed, so it is not judged"},
		{name: "an ulcer, and another's referral", noted: ",ulcer", referrals: "C-2,2026-03-10,,ulcer\n", state: LinkAbsent, what: "the visit notes an ulcer, infection, hot swollen foot or dead tissue; no referral of it is typed"},
		{name: "all referrals are here", noted: ",hot-swollen-foot; infection", referrals: "C-2,2026-03-10,,ulcer\n", self: all, state: LinkAbsent, what: "the visit notes an ulcer, infection, hot swollen foot or dead tissue; no referral of it is typed", sure: true},
		{name: "a referral that names the visit", noted: ",ulcer", referrals: "C-1,2026-03-11,V-1,ulcer\n", state: LinkFound, what: "referral sent 11 Mar 2026"},
		{name: "one that names another visit", noted: ",ulcer", referrals: "C-1,2026-03-11,V-2,ulcer\n", state: LinkAbsent, what: "the visit notes an ulcer, infection, hot swollen foot or dead tissue; no referral of it is typed"},
		{name: "one of that day that names no visit", noted: ",tissue-death", referrals: "C-1,2026-03-10,,tissue-death\n", state: LinkPart, what: "the visit notes an ulcer, infection, hot swollen foot or dead tissue; a referral of the client sent 10 Mar 2026 names no visit"},
		{name: "one of later, and an older one", noted: ",ulcer", referrals: "C-1,2026-03-20,,ulcer\nC-1,2026-03-12,,ulcer\nC-1,2026-03-09,,ulcer\n", state: LinkPart, what: "the visit notes an ulcer, infection, hot swollen foot or dead tissue; a referral of the client sent 12 Mar 2026 names no visit"},
		{name: "one of the day before", noted: ",ulcer", referrals: "C-1,2026-03-09,,ulcer\n", state: LinkAbsent, what: "the visit notes an ulcer, infection, hot swollen foot or dead tissue; no referral of it is typed"},
		{name: "nothing noted, and one of that day", noted: ",", referrals: "C-1,2026-03-10,,poor-circulation\n", state: LinkPart, what: "a referral of the client sent 10 Mar 2026 names no visit"},
		{name: "nothing noted, and one of the next day", noted: ",", referrals: "C-1,2026-03-11,,other\n", state: LinkNone, what: "the visit notes no bleeding, cut or reaction, and nothing to refer; no row names it"},
		{name: "a bleed with its incident, an ulcer without a referral", noted: "minor,ulcer", incidents: "bleed,2026-03-10,C-1,\n", referrals: "C-2,2026-03-10,,ulcer\n", state: LinkPart, what: "incident (bleed) of 10 Mar 2026; the visit notes an ulcer, infection, hot swollen foot or dead tissue; no referral of it is typed"},
		{name: "both found", noted: "minor,ulcer", incidents: "bleed,2026-03-10,C-1,\n", referrals: "C-1,2026-03-10,V-1,ulcer\n", state: LinkFound, what: "incident (bleed) of 10 Mar 2026; referral sent 10 Mar 2026"},
		{name: "a bleed with its incident, and no referral of anyone", noted: "minor,ulcer", incidents: "bleed,2026-03-10,C-1,\n", state: LinkFound, what: "incident (bleed) of 10 Mar 2026; the visit notes an ulcer, infection, hot swollen foot or dead tissue; no referral at all is typed, so it is not judged"},
		{name: "neither", noted: ",ulcer; cut", incidents: "bleed,2026-03-11,C-2,\n", referrals: "C-2,2026-03-10,,ulcer\n", state: LinkAbsent, what: "the visit notes a bleed, cut or reaction; no incident of it is typed; the visit notes an ulcer, infection, hot swollen foot or dead tissue; no referral of it is typed"},
	} {
		t.Run(c.name, func(t *testing.T) {
			files := maps.Clone(chained)
			files["visits.csv"], files["referrals.csv"], files["incidents.csv"] = visits+c.noted+"\n", referrals+c.referrals, incidents+c.incidents
			if c.self != "" {
				files["practice.yaml"] = c.self
			}
			l := behind(readFiles(t, files), "V-1")[LinkEvents]
			assert.Equal(t, c.state, l.State, l.State.String())
			assert.Equal(t, c.what, l.What)
			assert.Equal(t, c.sure, l.Sure)
			assert.Equal(t, c.state == LinkNone, len(l.Seen) == 0)
		})
	}
}
