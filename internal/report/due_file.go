package report

import (
	"crypto/sha256"
	"encoding/hex"
	"reflect"
	"strconv"
	"strings"
	"time"

	"footing/internal/result"

	ics "github.com/arran4/golang-ical"
)

// Days before a date on which the calendar reminds of it, and the hour of that day. A
// reminder at the date's own beginning would ring at midnight.
var remindDays = []int{14, 3}

const remindHour = 9

// DueICS writes what runs out as a calendar (RFC 5545): an entry of one whole day for
// each, with reminders 14 and 3 days before at nine in the morning, as far as they lie
// after the day of the audit; where neither does, one on the day itself. What is overdue
// has none. The same thing keeps its identifier when its day moves, or when the next
// certificate or service takes its place, so that a later file of the same practice,
// imported again, moves the entry. The stamp is the day of the audit. No client is named.
func DueICS(r *result.Result) []byte {
	asOf, _ := time.Parse(time.DateOnly, r.AsOf)
	cal := ics.NewCalendar()
	cal.SetProductId("-//footing//due dates//EN")
	cal.SetCalscale("GREGORIAN")
	cal.SetXWRCalName("Due dates: " + orElse(plain(r.Practice.Name), "the practice"))
	hide := unnamed(r)
	seen := map[string]int{}
	for i := range r.Due {
		d := &r.Due[i]
		on, err := time.Parse(time.DateOnly, d.On)
		if err != nil {
			continue // no day, no entry; the report lists it as it is written
		}
		e := cal.AddEvent(dueUID(r, d, seen))
		e.SetDtStampTime(asOf)
		e.SetSequence(sequence(asOf))
		e.SetAllDayStartAt(on)
		e.SetSummary(dueTitle(d, hide))
		e.SetDescription(dueText(r, d, hide))
		e.SetTimeTransparency(ics.TransparencyTransparent)
		for _, before := range reminders(asOf, on) {
			a := e.AddAlarm()
			a.SetAction(ics.ActionDisplay)
			a.SetTrigger(trigger(before))
			a.SetProperty(ics.ComponentPropertyDescription, dueTitle(d, hide))
		}
	}
	return []byte(cal.Serialize(ics.WithNewLineWindows))
}

// dueUID names an entry for good: by the practice and what runs out, not by its day or
// its row, which both change when it is renewed. Of several alike, each is known by its
// place among them, the soonest first.
func dueUID(r *result.Result, d *result.Due, seen map[string]int) string {
	h := sha256.New()
	for _, part := range []string{"due", r.Practice.Name, d.Kind, d.What} {
		_, _ = h.Write([]byte(strconv.Itoa(len(part)) + ":" + part))
	}
	uid := hex.EncodeToString(h.Sum(nil)[:16])
	if seen[uid]++; seen[uid] > 1 {
		return uid + "-" + strconv.Itoa(seen[uid])
	}
	return uid
}

// sequence grows from day to day, so that a later entry takes the place of an earlier.
func sequence(asOf time.Time) int {
	if asOf.IsZero() {
		return 0
	}
	return asOf.Year()*10000 + int(asOf.Month())*100 + asOf.Day()
}

// reminders are how many days before on to remind.
func reminders(asOf, on time.Time) (out []int) {
	for _, n := range remindDays {
		if on.AddDate(0, 0, -n).After(asOf) {
			out = append(out, n)
		}
	}
	if len(out) == 0 && on.After(asOf) {
		out = append(out, 0)
	}
	return out
}

// trigger is the time from the beginning of the day to the reminder: nine in the
// morning, so many days before.
func trigger(before int) string {
	if before == 0 {
		return "PT" + strconv.Itoa(remindHour) + "H"
	}
	return "-P" + strconv.Itoa(before-1) + "DT" + strconv.Itoa(24-remindHour) + "H"
}

// dueTitle is an entry's first line.
func dueTitle(d *result.Due, hide func(string) string) string {
	what := dueWhat(d, hide)
	switch {
	case d.Kind == "practice":
		return upper(what)
	case d.State == "overdue":
		return "Overdue: " + what
	case d.Kind == "upkeep" || d.Kind == "policies" || aboutClients(d.Kind):
		return "Due: " + what
	}
	return "Runs out: " + what
}

// dueWhat names what runs out, without a client, and without a person's name.
func dueWhat(d *result.Due, hide func(string) string) string {
	if aboutClients(d.Kind) {
		return orElse(singular(d.Kind), "a record") + " (see “" + titleDue + "” in the report)"
	}
	what := hide(plain(d.What))
	if at := strings.LastIndex(what, " of "); at >= 0 {
		if who := what[at+len(" of "):]; who != namePrivate && result.ReadsLikeName(d.Kind, who) && d.Kind == "credentials" {
			what = what[:at+len(" of ")] + namePrivate
		}
	}
	return orElse(what, "what is not named")
}

// dueText is what stands under an entry: the record, what to do first, and what it
// rests on.
func dueText(r *result.Result, d *result.Due, hide func(string) string) string {
	lines := []string{stop(upper(dueWhat(d, hide)))}
	if !aboutClients(d.Kind) && plain(d.Record) != "" {
		lines = append(lines, stop("Record: "+strings.TrimSpace(singular(plain(d.Kind))+" "+plain(ident(d.Kind, d.Record)))))
	}
	if s := dueSteps[d.Kind]; s != "" {
		lines = append(lines, "First: "+s)
	}
	lines = append(lines, "From the records as they stood on "+plain(day(r.AsOf))+". A later report may have another day: import its due.ics again. The day that your regulator, insurer or the maker sets comes first.")
	return strings.Join(lines, "\n")
}

// dueSteps are what to do first about what runs out, by the kind of its record.
var dueSteps = map[string]string{
	"credentials": "ask for the renewal, or book the course while there are places. When the new certificate comes, add its row and leave the old one.",
	"upkeep":      "book it, or do it as the maker says. When it is done, add its row with the next date.",
	"policies":    "read it through, and write the day on which you did.",
	"stock":       "use this lot before others, and order more in time.",
	"packs":       "use it first, or process it again before that day.",
	"tests":       "order a new lot in time.",
	"practice":    "read the report again.",
}

// aboutClients reports whether rows of a kind are about clients, so that a calendar that
// others see names none of them.
func aboutClients(kind string) bool {
	switch kind {
	case "clients", "histories", "screens", "consents", "visits", "referrals", "incidents", "complaints":
		return true
	}
	return false
}

// unnamed takes the ids that read like a person's name out of a sentence.
func unnamed(r *result.Result) func(string) string {
	ids := nameIDs(reflect.ValueOf(r).Elem())
	if len(ids) == 0 {
		return func(s string) string { return s }
	}
	pairs := make([]string, 0, 2*len(ids))
	for _, id := range ids {
		pairs = append(pairs, id, namePrivate)
	}
	return strings.NewReplacer(pairs...).Replace
}
