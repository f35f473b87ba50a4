package cli

import (
	"context"
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"footing/checks"
	"footing/internal/audit"
	"footing/internal/quantity"
	"footing/internal/result"
)

// lookbackKinds are the records that a look-back can be asked about, in the order of
// its flags, with what each answer holds.
var lookbackKinds = []struct{ flag, kind, help string }{
	{"load", "loads", "the load `ID`: its packs, or those of its sterilizer around it, and who could be affected"},
	{"test", "tests", "the test `ID`: how far back it reaches if it failed, and who could be affected"},
	{"sterilizer", "sterilizers", "the sterilizer `ID`, as if it failed today; with --since or --until, the loads started then"},
	{"pack", "packs", "the pack `ID`, and the packs of its load"},
	{"instrument", "instruments", "the instrument `ID`: the packs and visits that name it"},
	{"client", "clients", "the client `ID`: everything behind each visit"},
	{"visit", "visits", "the visit `ID`: everything behind it"},
	{"complaint", "complaints", "the complaint `ID`: everything behind the visits that it is about"},
}

// lookbackFlags are what lookback can be told.
type lookbackFlags struct {
	ids                            map[string]*string // by flag
	given                          func(flag string) bool
	since, until, asOf, out, rules string
	shareFlags
}

func (o *lookbackFlags) register(cmd *cobra.Command) {
	f := cmd.Flags()
	o.ids, o.given = map[string]*string{}, f.Changed
	for _, k := range lookbackKinds {
		o.ids[k.flag] = f.String(k.flag, "", k.help)
	}
	f.StringVar(&o.since, "since", "", "with --sterilizer, --instrument or --client: from this `DATE` on (2026-03-31)")
	f.StringVar(&o.until, "until", "", "with --sterilizer, --instrument or --client: up to the end of this `DATE`")
	f.StringVar(&o.asOf, "as-of", "", "look back as the records stood at the end of this `DATE`; today if not given")
	f.StringVar(&o.out, "out", "", "write the look-back into this new `DIR`; a new folder beside the records' if not given")
	f.StringVar(&o.rules, "rules", "", "use this rules `FILE` instead of the folder's own")
	o.registerShare(cmd)
	f.SortFlags = false
}

func (a *app) lookbackCommand() *cobra.Command {
	var o lookbackFlags
	cmd := &cobra.Command{
		Use:   "lookback FOLDER --load ID",
		Short: "say how far back a failure could reach, and who could be affected",
		Long: indented("lookback starts from one record. From a load, a test, a sterilizer, a pack or an instrument it goes forward: which packs to put on hold, which visits and clients could be affected, "+
			"by a strict and a lenient rule. From a client, a visit or a complaint it goes back: everything behind each visit. It begins with what to do now. The records are only read.", "") + "\n\n" +
			indented("Its figures are upper limits and do not say that anyone was exposed. Public health and your regulator decide whether clients are told; ask before you contact anyone.", "") + "\n\n" +
			indented("It writes lookback.md, lookback.html, lookback.csv and lookback.json. Exit status: 0 when they are written; 2 could not be done, wrong use, or no such record.", ""),
		Example: "  footing lookback records --test T-41\n  footing lookback records --sterilizer S1\n  footing lookback records --client C-0147 --since 2026-03-01 --until 2026-03-31",
		Args:    cobra.ArbitraryArgs,
		RunE:    func(cmd *cobra.Command, args []string) error { return a.lookback(cmd.Context(), args, &o) },
	}
	o.register(cmd)
	return cmd
}

func (a *app) lookback(ctx context.Context, args []string, o *lookbackFlags) error {
	if len(args) != 1 {
		return problem(fmt.Sprintf("lookback takes one folder of records; %d were named", len(args)), "footing lookback FOLDER --load ID, in quotation marks if its name has spaces")
	}
	q, err := o.question()
	if err != nil {
		return err
	}
	folder, asOf, out, err := a.places(args[0], o.asOf, o.out, lookbackOutput)
	if err != nil {
		return err
	}
	if q.Since > asOf {
		return problem(fmt.Sprintf("--since %s lies after the day of the look-back, %s", o.since, asOf), "name an earlier day, or a later one with --as-of")
	}
	at, err := o.shareTo(folder, o.out, out, asOf)
	if err != nil {
		return err
	}
	ctx, ids := sharing(ctx, at)
	answer, err := a.answer(ctx, folder, asOf, o.rules, q)
	if err != nil {
		return err
	}
	if err := a.deliverLookback(ctx, out, answer); err != nil {
		return err
	}
	return a.shareLookback(ctx, at, &o.shareFlags, ids, answer)
}

// question is what the flags ask: of exactly one record.
func (o *lookbackFlags) question() (q checks.LookbackQuestion, err error) {
	var given, all []string
	for _, k := range lookbackKinds {
		all = append(all, "--"+k.flag)
		if o.given(k.flag) {
			given = append(given, "--"+k.flag)
			q.Kind, q.ID = k.kind, strings.TrimSpace(*o.ids[k.flag])
		}
	}
	switch {
	case len(given) == 0:
		return q, problem("lookback needs one record to start from, and none was named", "name one with "+strings.Join(all[:len(all)-1], ", ")+" or "+all[len(all)-1]+"; footing lookback --help says what each answers")
	case len(given) > 1:
		return q, problem("lookback starts from one record, and was given "+strings.Join(given, " and "), "ask once for each")
	case q.ID == "":
		return q, problem("the id after "+given[0]+" is empty", "write the id as it stands in the records: "+given[0]+" ID")
	}
	spans := q.Kind == "sterilizers" || q.Kind == "instruments" || q.Kind == "clients"
	if (o.since != "" || o.until != "") && !spans {
		return q, problem("--since and --until do not go with "+given[0], "leave them out, or ask with --sterilizer, --instrument or --client")
	}
	if q.Since, err = dayOf("since", o.since); err != nil {
		return q, err
	}
	if q.Until, err = dayOf("until", o.until); err != nil {
		return q, err
	}
	if q.Since.Written() && q.Until.Written() && q.Until < q.Since {
		return q, problem(fmt.Sprintf("--until %s lies before --since %s", o.until, o.since), "write the earlier day after --since")
	}
	return q, nil
}

// day is the day given with --as-of; today where none is.
func (a *app) day(asOf string) (quantity.Day, error) {
	if asOf == "" {
		return quantity.NewDay(a.now().Date()), nil
	}
	return dayOf("as-of", asOf)
}

// dayOf reads the day given with a flag; 0 where none is.
func dayOf(flag, text string) (quantity.Day, error) {
	if text == "" {
		return 0, nil
	}
	d, err := quantity.ParseDay(text, quantity.ISO)
	if err != nil {
		return 0, problem("--"+flag+": "+err.Error(), "write the date as 2026-03-31")
	}
	return d, nil
}

// answer reads the folder and asks what the check of look-backs computes.
func (a *app) answer(ctx context.Context, folder string, asOf quantity.Day, rules string, q checks.LookbackQuestion) (*result.Answer, error) {
	criteria, err := checks.Criteria()
	if err != nil {
		return nil, err
	}
	meter := newMeter(a.err)
	defer meter.end()
	p, err := readRecords(ctx, folder, asOf, rules, meter)
	if err != nil {
		return nil, err
	}
	if unknown(p, q.Kind, q.ID) {
		return nil, noSuch(p, &checks.LookbackRefusal{Kind: q.Kind, ID: q.ID})
	}
	var answer audit.Answer
	var refused error
	err = audit.Put(ctx, p, checks.All(), criteria, audit.Options{Tool: "footing " + version(), Reading: meter.tracing}, checks.LookbackCheck(q.Kind), func(x *audit.Examination, book *audit.Book) {
		answer, refused = checks.Lookback(x, q)
		answer.Rules = book.Changes
	})
	var no *checks.LookbackRefusal
	switch {
	case err != nil:
		return nil, err
	case errors.As(refused, &no):
		return nil, noSuch(p, no)
	case refused != nil:
		return nil, refused
	}
	answer.Missing = append(unused(p), answer.Missing...)
	answer.Format, answer.Tool = result.LookbackFormat, "footing "+version()
	return &answer, nil
}
