package cli

import (
	"context"
	"fmt"

	"github.com/spf13/cobra"

	"footing/checks"
	"footing/internal/audit"
	"footing/internal/quantity"
	"footing/internal/result"
)

// mostDrawn is how many visits one draw may hold: more is no sample.
const mostDrawn = 1000

// drawFlags are what draw can be told.
type drawFlags struct {
	visits           int
	seed             int64
	given            func(flag string) bool
	asOf, out, rules string
	shareFlags
}

func (o *drawFlags) register(cmd *cobra.Command) {
	f := cmd.Flags()
	o.given = f.Changed
	f.IntVar(&o.visits, "visits", 0, "draw this many visits, a `NUMBER`; if not given, as many as an audit draws")
	f.Int64Var(&o.seed, "seed", 0, "the whole number `S` that the draw starts from, so that it can be repeated; if not given, the day as a number")
	f.StringVar(&o.asOf, "as-of", "", "draw from the records as they stood at the end of this `DATE` (2026-03-31); today if not given")
	f.StringVar(&o.out, "out", "", "write the pages into this new `DIR`; a new folder beside the records' if not given")
	f.StringVar(&o.rules, "rules", "", "use this rules `FILE` instead of the folder's own")
	o.registerShare(cmd)
	f.SortFlags = false
}

func (a *app) drawCommand() *cobra.Command {
	var o drawFlags
	cmd := &cobra.Command{
		Use:   "draw FOLDER",
		Short: "draw visits at random, and write a page of what lies behind each",
		Long: indented("draw pulls visits by chance, as an inspector pulls files, and follows each to what is typed behind it: who treated, the client's card, the pack, its load, indicators, spore tests, service, training. "+
			"It writes a cover with the result and one sheet a visit, each link found or missing, with its file and row. The records are only read.", "") + "\n\n" +
			indented("Not found does not mean not done, and nothing here says that anyone was exposed to anything. Your regulator's rules, the makers' instructions and licensed practice come first.", "") + "\n\n" +
			indented("It writes draw.html, draw.md and draw.json. Exit status: 0 when they are written, whatever they show; 2 could not be done, or wrong use.", ""),
		Example: "  footing draw records\n  footing draw records --visits 20 --seed 7",
		Args:    cobra.ArbitraryArgs,
		RunE:    func(cmd *cobra.Command, args []string) error { return a.draw(cmd.Context(), args, &o) },
	}
	o.register(cmd)
	return cmd
}

func (a *app) draw(ctx context.Context, args []string, o *drawFlags) error {
	if len(args) != 1 {
		return problem(fmt.Sprintf("draw takes one folder of records; %d were named", len(args)), "footing draw FOLDER, in quotation marks if its name has spaces")
	}
	if o.given("visits") && (o.visits < 1 || o.visits > mostDrawn) {
		return problem(fmt.Sprintf("--visits %d is no number of visits that can be drawn", o.visits), fmt.Sprintf("name one from 1 to %d", mostDrawn))
	}
	folder, asOf, out, err := a.places(args[0], o.asOf, o.out, drawOutput)
	if err != nil {
		return err
	}
	if !o.given("seed") {
		o.seed = dayNumber(asOf)
	}
	at, err := o.shareTo(folder, o.out, out, asOf)
	if err != nil {
		return err
	}
	ctx, ids := sharing(ctx, at)
	d, err := a.drawn(ctx, folder, asOf, o)
	if err != nil {
		return err
	}
	if err := a.deliverDraw(ctx, out, d); err != nil {
		return err
	}
	if !o.given("seed") {
		line(a.out, fmt.Sprintf("No --seed was given, so the draw started from the day as a number, %d.", d.Trail.Seed))
	}
	return a.shareDraw(ctx, at, &o.shareFlags, ids, d)
}

// dayNumber is a day as a number that can be read as one: 20261124.
func dayNumber(d quantity.Day) int64 {
	y, m, day := d.Date()
	return int64(y)*10000 + int64(m)*100 + int64(day)
}

// drawn reads the folder, and draws by the same code as the check records/trail.
func (a *app) drawn(ctx context.Context, folder string, asOf quantity.Day, o *drawFlags) (*result.Draw, error) {
	criteria, err := checks.Criteria()
	if err != nil {
		return nil, err
	}
	meter := newMeter(a.err)
	defer meter.end()
	p, err := readRecords(ctx, folder, asOf, o.rules, meter)
	if err != nil {
		return nil, err
	}
	d := &result.Draw{Format: result.DrawFormat, Tool: "footing " + version(), AsOf: asOf.String(), Missing: unused(p)}
	d.Practice, d.Period, d.Contacts = audit.Whose(p)
	opt := audit.Options{Tool: d.Tool, Seed: o.seed, Reading: meter.tracing}
	err = audit.Put(ctx, p, checks.All(), criteria, opt, checks.TrailCheck(), func(x *audit.Examination, book *audit.Book) {
		d.RuleSet, d.Rules = p.Profile.RuleSet, book.Changes
		n := o.visits
		if n == 0 {
			n = checks.TrailSample(x)
		}
		d.Trail, d.Chains = checks.TrailDraw(x, n)
	})
	if err == nil && d.Trail.Of == 0 {
		err = problem("there is no visit to draw: none inside the records is written at which treatment took place", "type visits first, with client, started and procedures; or name an earlier day for practice.records_from")
	}
	return d, err
}
