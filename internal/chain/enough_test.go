package chain

import (
	"fmt"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"footing/internal/quantity"
)

// told is a stretch in a line: how it opens, how many packs its visits used, the least
// number of visits that were short, and what leaves it open.
func told(r *Rack, s *Stretch) string {
	text := fmt.Sprintf("%s/%s %s-%s open %d:%d used %d short %d", r.Site, r.Set, s.From, s.Until, s.Opening, s.Open, s.Packs, s.Short.Least)
	if s.Short.Least > 0 {
		text += fmt.Sprintf(" at %s (%d of %d)", s.Short.Falls[0].ID, s.Short.Used, s.Short.Had)
	}
	if s.Short.Least > 0 && !s.Short.Firm {
		text += " loose"
	}
	if s.Tight != s.Short.Least {
		text += fmt.Sprintf(" tight %d found %d waiting %v", s.Tight, s.Found, s.Waiting)
	}
	if s.Lost > 0 {
		text += fmt.Sprintf(" lost %d", s.Lost)
	}
	if len(s.Untold) > 0 {
		text += fmt.Sprintf(" untold %d", len(s.Untold))
	}
	if s.Covered {
		text += " covered"
	}
	return text
}

const wholeYear = `name: Practice of the case
regulator: Council of the case
records_from: 2026-01-01
coverage: [{kind: loads, share: all}, {kind: visits, share: all}, {kind: packs, share: all}, {kind: stock, share: all}, {kind: trips, share: all}]
`

// The rules are those of battery.md, packs/enough; worked by hand. Common practice, no source.
func TestRacks(t *testing.T) {
	const sterilizer = "id,method,site\nS1,steam,clinic\n"
	const clinic, both = "id,kind\nclinic,clinic\n", "id,kind\nclinic,clinic\nbag,mobile\n"
	for _, c := range []struct {
		name  string
		files map[string]string
		want  []string
	}{
		{"enough to the last pack, and one over", map[string]string{
			"stock.csv":  "item,on,reason,quantity\nsterile-pack,2026-03-01,count,1\n",
			"loads.csv":  "id,started,ended,packs_made,decision\nL-1,2026-03-02 08:00,2026-03-02 09:00,2,released\nL-2,2026-03-02 10:00,2026-03-02 11:00,5,rejected\n",
			"visits.csv": "id,client,started,packs_used\nV-1,C-1,2026-03-02 10:00,1\nV-2,C-1,2026-03-03 10:00,2\nV-3,C-1,2026-03-04 10:00,1\n",
		}, []string{"/ 2026-03-01-2026-11-24 open 4:1 used 4 short 1 at V-3 (4 of 3) covered"}},
		{"a visit typed twice, and two of one day", map[string]string{
			"stock.csv":  "item,on,reason,quantity\nsterile-pack,2026-03-01,count,1\n",
			"visits.csv": "id,client,started,packs_used\nV-1,C-1,2026-03-02 10:00,1\nV-2,C-1,2026-03-02 10:00,1\nV-3,C-1,2026-03-02 10:01,1\n",
		}, []string{"/ 2026-03-01-2026-11-24 open 4:1 used 2 short 1 at V-3 (2 of 1) covered"}},
		{"numbers in place of counts", map[string]string{
			"stock.csv":  "item,on,reason,quantity\nsterile-pack,2026-03-01,count,0\n",
			"loads.csv":  "id,started,ended\nL-1,2026-03-02 08:00,2026-03-02 09:00\n",
			"packs.csv":  "id,load\nK-1,L-1\nK-2,L-1\n",
			"visits.csv": "id,client,started,packs\nV-1,C-1,2026-03-02 10:00,K-1\nV-2,C-1,2026-03-02 11:00,K-2\nV-3,C-1,2026-03-02 12:00,K-3\n",
		}, []string{"/ 2026-03-01-2026-11-24 open 4:0 used 3 short 1 at V-3 (3 of 2) covered"}},
		{"in the day: used before its cycle can have ended, less the clocks", map[string]string{
			"stock.csv":  "item,on,reason,quantity\nsterile-pack,2026-03-01,count,0\n",
			"loads.csv":  "id,started,ended,packs_made\nL-1,2026-03-02 10:00,2026-03-02 11:00,9\n",
			"visits.csv": "id,client,started,ended,packs_used\njust-over,C-1,2026-03-02 10:00,2026-03-02 10:49,1\njust-in,C-2,2026-03-02 10:00,2026-03-02 10:50,1\nno-end,C-3,2026-03-02 10:00,,1\n",
		}, []string{"/ 2026-03-01-2026-11-24 open 4:0 used 3 short 1 at just-over (1 of 0) covered"}},
		{"a load that says nothing of its packs bounds nothing from then on", map[string]string{
			"stock.csv":  "item,on,reason,quantity\nsterile-pack,2026-03-01,count,0\n",
			"loads.csv":  "id,started,ended,sets\nL-1,2026-03-03 10:00,2026-03-03 11:00,nippers;curettes\n",
			"visits.csv": "id,client,started,packs_used\nV-1,C-1,2026-03-02,1\nV-2,C-1,2026-03-04,1\n",
		}, []string{"/ 2026-03-01-2026-11-24 open 4:0 used 2 short 1 at V-1 (1 of 0) untold 1 covered"}},
		{"but what the chamber takes does", map[string]string{
			"stock.csv":       "item,on,reason,quantity\nsterile-pack,2026-03-01,count,0\n",
			"sterilizers.csv": "id,method,most_packs\nS1,steam,2\n",
			"loads.csv":       "id,started,ended\nL-1,2026-03-03 10:00,2026-03-03 11:00\n",
			"visits.csv":      "id,client,started,packs_used\nV-1,C-1,2026-03-04,2\nV-2,C-1,2026-03-05,1\n",
		}, []string{"/ 2026-03-01-2026-11-24 open 4:0 used 3 short 1 at V-2 (3 of 2) covered"}},
		{"never counted", map[string]string{
			"loads.csv":  "id,started,packs_made\nL-1,2026-03-03,1\n",
			"visits.csv": "id,client,started,packs_used\nV-1,C-1,2026-03-04,9\n",
		}, []string{"/ 2026-01-01-2026-11-24 open 0:0 used 9 short 0"}},
		{"never counted, but new: nothing was there before", map[string]string{
			"sterilizers.csv": "id,method,installed_on\nS1,steam,2026-01-01\n",
			"loads.csv":       "id,started,packs_made\nL-1,2026-03-03,1\n",
			"visits.csv":      "id,client,started,packs_used\nV-1,C-1,2026-03-04,2\n",
		}, []string{"/ 2026-01-01-2026-11-24 open 2:0 used 2 short 1 at V-1 (2 of 1) covered"}},
		{"installed the day before the records begin", map[string]string{
			"sterilizers.csv": "id,method,installed_on\nS1,steam,2025-12-31\n",
			"loads.csv":       "id,started,packs_made\nL-1,2026-03-03,1\n",
			"visits.csv":      "id,client,started,packs_used\nV-1,C-1,2026-03-04,2\n",
		}, []string{"/ 2026-01-01-2026-11-24 open 0:0 used 2 short 0"}},
		{"new with its site", map[string]string{
			"sites.csv":       "id,kind,opened_on\nclinic,clinic,2026-01-01\n",
			"sterilizers.csv": "id,method,installed_on\nS1,steam,2026-01-01\n",
			"loads.csv":       "id,started,packs_made\nL-1,2026-03-03,1\n",
			"visits.csv":      "id,client,started,packs_used\nV-1,C-1,2026-03-04,2\n",
		}, []string{"/ 2026-01-01-2026-11-24 open 3:0 used 2 short 1 at V-1 (2 of 1) covered"}},
		{"before the first count: the greatest ever counted", map[string]string{
			"stock.csv":  "item,on,reason,quantity\nsterile-pack,2026-06-01,count,2\nsterile-pack,2026-07-01,count,3\n",
			"loads.csv":  "id,started,packs_made\nL-1,2026-03-03,1\n",
			"visits.csv": "id,client,started,packs_used\nV-0,C-1,2025-12-31,9\nV-1,C-1,2026-03-04,4\nV-2,C-1,2026-03-05,1\nV-3,C-1,2026-06-02,1\n",
		}, []string{"/ 2026-01-01-2026-06-01 open 1:3 used 5 short 0 tight 1 found 2 waiting false covered", "/ 2026-06-01-2026-07-01 open 4:2 used 1 short 0"}},
		{"a count of none finds none", map[string]string{
			"stock.csv":  "item,on,reason,quantity\nsterile-pack,2026-06-01,count,0\nsterile-pack,2026-07-01,count,3\n",
			"loads.csv":  "id,started,packs_made\nL-1,2026-03-03,1\n",
			"visits.csv": "id,client,started,packs_used\nV-1,C-1,2026-03-04,4\nV-2,C-1,2026-03-05,1\n",
		}, []string{"/ 2026-01-01-2026-06-01 open 1:3 used 5 short 1 at V-2 (5 of 4) covered"}},
		{"a count lowers what is there", map[string]string{
			"stock.csv":  "item,on,reason,quantity\nsterile-pack,2026-03-01,count,9\nsterile-pack,2026-04-01,count,1\n",
			"loads.csv":  "id,started,packs_made\nL-1,2026-05-01,1\n",
			"visits.csv": "id,client,started,packs_used\nV-1,C-1,2026-04-02,1\nV-2,C-1,2026-04-03,1\n",
		}, []string{"/ 2026-04-01-2026-11-24 open 4:1 used 2 short 1 at V-2 (2 of 1) lost 8 covered"}},
		{"what loads made since and visits used is left, but not what the count may not have seen", map[string]string{
			"stock.csv":  "item,on,reason,quantity\nsterile-pack,2026-03-01,count,3\nsterile-pack,2026-03-09,count,3\nsterile-pack,2026-03-19,count,2\n",
			"loads.csv":  "id,started,released_at,packs_made,decision\nseen,2026-03-04,2026-03-04,2,released\nperhaps-not,2026-03-09,2026-03-09,9,released\nwaits,2026-03-12,,9,pending\n",
			"visits.csv": "id,client,started,packs_used\nV-1,C-1,2026-03-05,2\nV-2,C-1,2026-03-20,2\nV-3,C-1,2026-03-21,1\n",
		}, []string{"/ 2026-03-01-2026-03-09 open 4:3 used 2 short 0", "/ 2026-03-19-2026-11-24 open 4:2 used 3 short 1 at V-3 (3 of 2) lost 1 covered"}},
		{"counts of two days running may be one in parts", map[string]string{
			"stock.csv":  "item,on,reason,quantity\nsterile-pack,2026-03-01,count,4\nsterile-pack,2026-03-02,count,2\nsterile-pack,2026-03-03,count,1\n",
			"loads.csv":  "id,started,packs_made\nL-1,2026-05-01,1\n",
			"visits.csv": "id,client,started,packs_used\nV-1,C-1,2026-03-02,1\nV-2,C-1,2026-03-04,6\nV-3,C-1,2026-03-05,1\n",
		}, []string{"/ 2026-03-01-2026-03-02 open 4:4 used 1 short 0", "/ 2026-03-03-2026-11-24 open 4:6 used 7 short 1 at V-3 (7 of 6) lost 4 covered"}},
		{"but not where the later one found what the rows leave", map[string]string{
			"stock.csv":  "item,on,reason,quantity\nsterile-pack,2026-03-01,count,4\nsterile-pack,2026-03-02,count,3\n",
			"loads.csv":  "id,started,packs_made\nL-1,2026-05-01,1\n",
			"visits.csv": "id,client,started,packs_used\nV-1,C-1,2026-03-02,1\nV-2,C-1,2026-03-04,4\n",
		}, []string{"/ 2026-03-01-2026-03-02 open 4:4 used 1 short 0", "/ 2026-03-02-2026-11-24 open 4:3 used 4 short 1 at V-2 (4 of 3) covered"}},
		{"nor where two days lie between", map[string]string{
			"stock.csv":  "item,on,reason,quantity\nsterile-pack,2026-03-01,count,4\nsterile-pack,2026-03-03,count,2\n",
			"loads.csv":  "id,started,packs_made\nL-1,2026-05-01,1\n",
			"visits.csv": "id,client,started,packs_used\nV-2,C-1,2026-03-04,3\n",
		}, []string{"/ 2026-03-03-2026-11-24 open 4:2 used 3 short 1 at V-2 (3 of 2) lost 2 covered"}},
		{"one pack in two visits is one pack", map[string]string{
			"stock.csv":  "item,on,reason,quantity\nsterile-pack,2026-03-01,count,0\n",
			"loads.csv":  "id,started,packs_made\nL-1,2026-03-02,2\n",
			"packs.csv":  "id,load\nK-1,L-1\nK-2,L-1\n",
			"visits.csv": "id,client,started,packs,packs_used\nV-1,C-1,2026-03-03,K-1,\nV-2,C-2,2026-03-04,K-1;K-2,2\nV-3,C-3,2026-03-05,K-1;K-2,1\n",
		}, []string{"/ 2026-03-01-2026-11-24 open 4:0 used 2 short 0"}},
		{"a cassette, or a number that is not typed, comes back on another day", map[string]string{
			"stock.csv":  "item,on,reason,quantity\nsterile-pack,2026-03-01,count,0\n",
			"loads.csv":  "id,started,packs_made\nL-1,2026-03-02,3\n",
			"packs.csv":  "id,load,packaging\nK-1,L-1,cassette\n",
			"visits.csv": "id,client,started,packs\nV-1,C-1,2026-03-03,K-1\nV-2,C-2,2026-03-03,K-1\nV-3,C-3,2026-03-04,K-1\nV-4,C-4,2026-03-04,K-9\nV-5,C-5,2026-03-04,K-9\nV-6,C-6,2026-03-05,K-9\n",
		}, []string{"/ 2026-03-01-2026-11-24 open 4:0 used 4 short 1 at V-6 (4 of 3) covered"}},
		{"numbers of another form than those of the packs that are typed", map[string]string{
			"stock.csv":  "item,on,reason,quantity\nsterile-pack,2026-03-01,count,0\n",
			"loads.csv":  "id,started,packs_made\nL-1,2026-03-02,1\n",
			"packs.csv":  "id,load\n260302-1,L-1\n",
			"visits.csv": "id,client,started,packs\nV-1,C-1,2026-03-03,260302-1\nV-2,C-2,2026-03-03,LOT 5511\nV-3,C-3,2026-03-04,260302-02; LOT 5511\n",
		}, []string{"/ 2026-03-01-2026-11-24 open 4:0 used 2 short 1 at V-3 (2 of 1) covered"}},
		{"a count may have been before the load of its day, and of the evening before", map[string]string{
			"stock.csv":  "item,on,reason,quantity\nsterile-pack,2026-03-05,count,0\n",
			"loads.csv":  "id,started,released_at,packs_made\ntwo-days-before,2026-03-03 23:59,,5\nevening-before,2026-03-04 18:00,,1\nof-the-day,2026-03-05,,1\nreleased-late,2026-03-02,2026-03-05,1\n",
			"visits.csv": "id,client,started,packs_used\nV-0,C-1,2026-03-05,1\nV-1,C-1,2026-03-06,3\nV-2,C-1,2026-03-07,1\n",
		}, []string{"/ 2026-01-01-2026-03-05 open 1:0 used 1 short 0", "/ 2026-03-05-2026-11-24 open 4:0 used 4 short 1 at V-2 (4 of 3) covered"}},
		{"counted at the end of the day before the records begin", map[string]string{
			"stock.csv":  "item,on,reason,quantity\nsterile-pack,2025-12-31,count,1\n",
			"loads.csv":  "id,started,packs_made\nL-1,2026-02-01,1\n",
			"visits.csv": "id,client,started,packs_used\nof-the-day,C-1,2025-12-31,9\nV-1,C-1,2026-01-01,2\n",
		}, []string{"/ 2025-12-31-2026-11-24 open 4:1 used 2 short 1 at V-1 (2 of 1) covered"}},
		{"counted two days before", map[string]string{
			"stock.csv":  "item,on,reason,quantity\nsterile-pack,2025-12-30,count,1\n",
			"loads.csv":  "id,started,packs_made\nL-1,2026-02-01,1\n",
			"visits.csv": "id,client,started,packs_used\nV-1,C-1,2026-01-01,2\n",
		}, []string{"/ 2025-12-30-2026-11-24 open 4:1 used 2 short 1 at V-1 (2 of 1)"}},
		{"a load that waits for its release", map[string]string{
			"stock.csv":  "item,on,reason,quantity\nsterile-pack,2026-03-01,count,0\n",
			"loads.csv":  "id,started,packs_made,decision\nL-1,2026-03-02,1,pending\n",
			"visits.csv": "id,client,started,packs_used\nV-1,C-1,2026-03-03,1\n",
		}, []string{"/ 2026-03-01-2026-11-24 open 4:0 used 1 short 0 tight 1 found 0 waiting true covered"}},
		{"what was thrown away, by number or in stock, is taken once", map[string]string{
			"stock.csv":  "item,on,reason,quantity\nsterile-pack,2026-03-01,count,0\nsterile-pack,2026-03-03,discard,1\n",
			"loads.csv":  "id,started,packs_made\nL-1,2026-03-02,2\n",
			"packs.csv":  "id,load,discarded_on,opened_at\nK-1,L-1,2026-03-03,\nK-2,L-1,2026-03-05,2026-03-05\n",
			"visits.csv": "id,client,started,packs_used\nV-1,C-1,2026-03-04,1\nV-2,C-1,2026-03-05,1\n",
		}, []string{"/ 2026-03-01-2026-11-24 open 4:0 used 2 short 1 at V-2 (2 of 1) covered"}},
		{"bought, and issued rows are not taken twice", map[string]string{
			"stock.csv":  "item,on,reason,quantity,each\nsterile-pack,2026-03-01,count,0,\nsterile-pack,2026-03-02,purchase,1,2\nsterile-pack,2026-03-03,issue,2,\n",
			"visits.csv": "id,client,started,packs_used\nV-1,C-1,2026-03-03,2\nV-2,C-1,2026-03-04,1\n",
		}, []string{"/ 2026-03-01-2026-11-24 open 4:0 used 3 short 1 at V-2 (3 of 2) covered"}},
		{"bought, and not all of stock is in the folder", map[string]string{
			"practice.yaml": "name: P\nregulator: R\ncoverage: [{kind: loads, share: all}]\n",
			"stock.csv":     "item,on,reason,quantity\nsterile-pack,2026-03-01,count,0\nsterile-pack,2026-03-02,purchase,1\n",
			"visits.csv":    "id,client,started,packs_used\nV-1,C-1,2026-03-03,2\n",
		}, []string{"/ 2026-03-01-2026-11-24 open 4:0 used 2 short 1 at V-1 (2 of 1)"}},
		{"whose load is not typed, was rejected, or was over only later, is left out", map[string]string{
			"stock.csv":  "item,on,reason,quantity\nsterile-pack,2026-03-01,count,0\n",
			"loads.csv":  "id,started,packs_made,decision\nL-1,2026-03-02,1,rejected\nL-2,2026-03-04 09:00,1,\n",
			"packs.csv":  "id,load,opened_at\nK-1,L-1,\nK-2,L-9,\nK-3,,\nK-4,L-2,\nK-5,L-2,2026-03-04 08:49\n",
			"visits.csv": "id,client,started,packs,loads\nV-1,C-1,2026-03-03,K-1,\nV-2,C-1,2026-03-03,K-2,\nV-3,C-1,2026-03-03,K-3,\nV-4,C-1,2026-03-03,,L-9\nV-5,C-1,2026-03-03,,L-1\nV-6,C-1,2026-03-03,K-4,\nV-7,C-1,2026-03-04,K-5,\nV-8,C-1,2026-03-03,,L-2\n",
		}, nil},
		{"two sites, no moves written: one pool", map[string]string{
			"sites.csv": both, "sterilizers.csv": sterilizer,
			"stock.csv":  "item,on,reason,quantity,site\nsterile-pack,2026-03-01,count,1,clinic\nsterile-pack,2026-03-01,count,0,bag\n",
			"loads.csv":  "id,started,packs_made\nL-1,2026-03-02,1\n",
			"visits.csv": "id,client,started,packs_used,site\nV-1,C-1,2026-03-03,1,bag\nV-2,C-1,2026-03-04,1,bag\nV-3,C-1,2026-03-05,1,bag\n",
		}, []string{"/ 2026-03-01-2026-11-24 open 4:1 used 3 short 1 at V-3 (3 of 2) covered"}},
		{"two sites and every trip: apart", map[string]string{
			"sites.csv": both, "sterilizers.csv": sterilizer,
			"stock.csv":  "item,on,reason,quantity,site\nsterile-pack,2026-03-01,count,9,clinic\nsterile-pack,2026-03-01,count,0,bag\n",
			"trips.csv":  "on,from_site,to_site,packs_out,packs_back\n2026-03-03,clinic,bag,2,0\n2026-03-04,clinic,bag,1,1\n",
			"visits.csv": "id,client,started,packs_used,site\nV-1,C-1,2026-03-03,1,bag\nV-2,C-1,2026-03-04,2,bag\nV-3,C-1,2026-03-04,6,clinic\n",
		}, []string{"/ 2026-03-01-2026-11-24 open 4:9 used 9 short 0", "bag/ 2026-03-01-2026-11-24 open 4:0 used 3 short 1 at V-2 (3 of 2) covered", "clinic/ 2026-03-01-2026-11-24 open 4:9 used 6 short 0"}},
		{"what moved is nothing new to all sites together", map[string]string{
			"sites.csv": both, "sterilizers.csv": sterilizer,
			"stock.csv":  "item,on,reason,quantity,site,to_site\nsterile-pack,2026-03-01,count,3,clinic,\nsterile-pack,2026-03-01,count,0,bag,\nsterile-pack,2026-03-02,transfer,1,clinic,bag\n",
			"trips.csv":  "on,from_site,to_site,packs_out,packs_back\n2026-03-03,clinic,bag,2,0\n",
			"visits.csv": "id,client,started,packs_used,site\nV-1,C-1,2026-03-03,3,bag\nV-2,C-1,2026-03-04,1,clinic\n",
		}, []string{"/ 2026-03-01-2026-11-24 open 4:3 used 4 short 1 at V-2 (4 of 3) covered", "bag/ 2026-03-01-2026-11-24 open 4:0 used 3 short 0", "clinic/ 2026-03-01-2026-11-24 open 4:3 used 1 short 1 at V-2 (1 of 0) covered"}},
		{"those whose packs lead to a load had them, so that a count or what was thrown away is wrong", map[string]string{
			"stock.csv":  "item,on,reason,quantity\nsterile-pack,2026-03-03,count,0\n",
			"loads.csv":  "id,started,ended,packs_made\nL-1,2026-02-02,2026-02-02,1\n",
			"packs.csv":  "id,load\nK-1,L-1\n",
			"visits.csv": "id,client,started,packs\nV-1,C-1,2026-03-04,K-1\n",
		}, []string{"/ 2026-03-03-2026-11-24 open 4:0 used 1 short 1 at V-1 (1 of 0) loose covered"}},
		{"or two others did not, whose packs one of these has", map[string]string{
			"stock.csv":  "item,on,reason,quantity\nsterile-pack,2026-03-02,count,0\n",
			"loads.csv":  "id,started,ended,packs_made\nL-1,2026-03-03,2026-03-03,2\n",
			"packs.csv":  "id,load\nK-1,L-1\nK-2,L-1\n",
			"visits.csv": "id,client,started,packs,packs_used\nV-1,C-1,2026-03-04,,1\nV-2,C-2,2026-03-04,,1\nV-3,C-3,2026-03-05,K-1;K-2,\n",
		}, []string{"/ 2026-03-02-2026-11-24 open 4:0 used 4 short 1 at V-3 (4 of 2) covered"}},
		{"but then another visit did not", map[string]string{
			"stock.csv":  "item,on,reason,quantity\nsterile-pack,2026-03-03,count,0\n",
			"loads.csv":  "id,started,ended,packs_made\nL-1,2026-03-03,2026-03-03,1\n",
			"packs.csv":  "id,load\nK-1,L-1\n",
			"visits.csv": "id,client,started,packs,packs_used\nV-1,C-1,2026-03-04,,1\nV-2,C-2,2026-03-05,K-1,\n",
		}, []string{"/ 2026-03-03-2026-11-24 open 4:0 used 2 short 1 at V-2 (2 of 1) covered"}},
		{"a site counted alone does not count the whole", map[string]string{
			"sites.csv": both, "sterilizers.csv": sterilizer,
			"stock.csv":  "item,on,reason,quantity,site\nsterile-pack,2026-03-01,count,0,clinic\n",
			"visits.csv": "id,client,started,packs_used,site\nV-1,C-1,2026-03-03,1,bag\n",
		}, []string{"/ 2026-01-01-2026-11-24 open 0:0 used 1 short 0"}},
		{"at a care home the packs of a bag are used", map[string]string{
			"sites.csv": "id,kind\nclinic,clinic\nhome,care-home\n", "sterilizers.csv": sterilizer,
			"stock.csv":  "item,on,reason,quantity,site\nsterile-pack,2026-03-01,count,0,clinic\n",
			"visits.csv": "id,client,started,packs_used,site\nV-1,C-1,2026-03-03,1,home\n",
		}, []string{"/ 2026-03-01-2026-11-24 open 4:0 used 1 short 1 at V-1 (1 of 0) covered"}},
		{"sets apart where every row says them", map[string]string{
			"sites.csv": clinic,
			"stock.csv": "item,on,reason,quantity,set\nsterile-pack,2026-03-01,count,0,Nail\nsterile-pack,2026-03-01,count,5,corn\nsterile-pack,2026-03-05,discard,1,nail\n",
			"loads.csv": "id,started,sets\nL-1,2026-03-02,nail x 1;corn x 1\n",
			"packs.csv": "id,load,set\nK-1,L-1,NAIL\nK-2,L-1,corn\nK-3,L-1,nail\nK-4,L-1,nail\nK-5,L-1,corn\n",
			"visits.csv": "id,client,started,packs\nV-1,C-1,2026-03-03,K-1\nV-2,C-1,2026-03-04,K-2\nV-3,C-1,2026-03-05,K-3\n" +
				"V-4,C-1,2026-03-06,K-4;K-5\n",
		}, []string{"/corn 2026-03-01-2026-11-24 open 4:5 used 2 short 0", "/nail 2026-03-01-2026-11-24 open 4:0 used 3 short 1 at V-4 (3 of 2) loose covered"}},
		{"one pool where a visit does not", map[string]string{
			"stock.csv":  "item,on,reason,quantity,set\nsterile-pack,2026-03-01,count,0,nail\nsterile-pack,2026-03-01,count,1,corn\n",
			"loads.csv":  "id,started,sets\nL-1,2026-03-02,nail x 1;corn x 1\n",
			"visits.csv": "id,client,started,packs_used\nV-1,C-1,2026-03-03,3\nV-2,C-1,2026-03-04,1\n",
		}, []string{"/ 2026-03-01-2026-11-24 open 4:1 used 4 short 1 at V-2 (4 of 3) covered"}},
		{"the lesser of a number and a list", map[string]string{
			"stock.csv":  "item,on,reason,quantity\nsterile-pack,2026-03-01,count,1\n",
			"visits.csv": "id,client,started,packs_used,packs,status\nV-1,C-1,2026-03-03,3,K-1,\nV-2,C-1,2026-03-04,0,K-2;K-3,\nV-3,C-1,2026-03-05,9,,cancelled\n",
		}, []string{"/ 2026-03-01-2026-11-24 open 4:1 used 1 short 0"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			if _, own := c.files["practice.yaml"]; !own {
				c.files["practice.yaml"] = wholeYear
			}
			p := balanceFolder(t, c.files)
			require.Empty(t, p.Intake.Problems)
			var got []string
			for _, r := range Racks(p, Clock{Tolerance: quantity.Exact(10, quantity.Minute)}) {
				for _, s := range r.Stretches {
					got = append(got, told(r, s))
				}
			}
			assert.Equal(t, c.want, got, strings.Join(got, "\n"))
		})
	}
}
