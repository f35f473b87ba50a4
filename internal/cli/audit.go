package cli

import (
	"context"
	"fmt"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"footing/checks"
	"footing/internal/audit"
	"footing/internal/practice"
	"footing/internal/quantity"
	"footing/internal/record"
	"footing/internal/result"
)

// auditFlags are what audit can be told.
type auditFlags struct {
	asOf, out, rules string
	seed             int64
	forFlags
	sinceFlags
	shareFlags
}

func (o *auditFlags) register(cmd *cobra.Command) {
	f := cmd.Flags()
	f.StringVar(&o.asOf, "as-of", "", "audit as the records stood at the end of this `DATE` (2026-03-31); today if not given")
	f.StringVar(&o.out, "out", "", "write the reports into this new `DIR`; a new folder beside the records' if not given")
	f.StringVar(&o.rules, "rules", "", "use this rules `FILE` instead of the folder's own")
	f.Int64Var(&o.seed, "seed", 1, "number `N` from which samples are drawn, so that a draw can be repeated")
	o.forFlags.register(cmd)
}

func (a *app) auditCommand() *cobra.Command {
	var o auditFlags
	cmd := &cobra.Command{
		Use:   "audit FOLDER",
		Short: "audit a folder of records and write the report",
		Long: "audit reads every record in FOLDER, puts every check to them, and writes audit.json,\n" +
			"report.md and report.html into a new folder beside it, with a list of what there is to\n" +
			"do (actions.csv), a calendar of what runs out (due.ics) and the findings for an editor\n" +
			"(findings.sarif). The records are only read.\n\n" +
			"--for renewal, inspection or complaint opens the report with what that occasion asks\n" +
			"first; the findings stay the same.\n\n" +
			"--since OLD says what became of the findings of an earlier audit: what closed, what is\n" +
			"new, what came back, what stayed and for how long.\n\n" +
			shareHelp + "\n\n" +
			"Exit status: 0 no nonconformity (observations allowed); 1 nonconformities, or rows\n" +
			"set aside; 2 could not be done, wrong use, or a check broke.",
		Example: "  footing audit records\n  footing audit records --as-of 2026-03-31",
		Args:    cobra.ArbitraryArgs,
		RunE:    func(cmd *cobra.Command, args []string) error { return a.audit(cmd.Context(), args, o) },
	}
	o.register(cmd)
	o.registerSince(cmd)
	o.registerShare(cmd)
	return cmd
}

func (a *app) audit(ctx context.Context, args []string, o auditFlags) error {
	if len(args) != 1 {
		return problem(fmt.Sprintf("audit takes one folder of records; %d were named", len(args)), "footing audit FOLDER, in quotation marks if its name has spaces")
	}
	folder, asOf, out, err := a.places(args[0], o.asOf, o.out, auditOutput)
	if err != nil {
		return err
	}
	before, err := o.before(asOf)
	if err != nil {
		return err
	}
	at, err := o.shareTo(folder, o.out, out, asOf)
	if err != nil {
		return err
	}
	ctx, ids := sharing(ctx, at)
	r, err := a.examine(ctx, folder, asOf, o)
	if err != nil {
		return err
	}
	if before != nil {
		r = result.Follow(before, r)
	}
	if err := a.deliver(ctx, out, r); err != nil {
		return err
	}
	if err := a.shareAudit(ctx, at, &o.shareFlags, ids, r); err != nil {
		return err
	}
	a.status = status(r)
	return nil
}

// places is the folder of records that was named, the day that was, and the folder that
// takes what is written.
func (a *app) places(name, day, named string, o output) (folder string, asOf quantity.Day, out string, err error) {
	if folder, err = recordsFolder(name); err != nil {
		return "", 0, "", err
	}
	if asOf, err = a.day(day); err != nil {
		return "", 0, "", err
	}
	out, err = o.folder(folder, named, asOf)
	return folder, asOf, out, err
}

// examine reads the folder and puts the battery to it.
func (a *app) examine(ctx context.Context, folder string, asOf quantity.Day, o auditFlags) (*result.Result, error) {
	ask, err := o.ask()
	if err != nil {
		return nil, err
	}
	criteria, err := checks.Criteria()
	if err != nil {
		return nil, err
	}
	battery := checks.All()
	if err := audit.Validate(battery, criteria); err != nil {
		return nil, err
	}
	meter := newMeter(a.err)
	defer meter.end()
	p, err := readRecords(ctx, folder, asOf, o.rules, meter)
	if err != nil {
		return nil, err
	}
	if err := asksOf(p, &ask); err != nil {
		return nil, err
	}
	r, err := audit.Run(ctx, p, battery, criteria, audit.Options{Tool: "footing " + version(), Seed: o.seed, Progress: meter.checking, Reading: meter.tracing, For: ask})
	return r, occasionSays(p, err)
}

// readRecords reads a folder as it stood at the end of a day, under the rules file
// named, or else its own.
func readRecords(ctx context.Context, folder string, asOf quantity.Day, rules string, meter *meter) (*practice.Practice, error) {
	opt := record.Options{Progress: meter.reading}
	next := "check that you may open the folder and what is in it"
	if rules != "" {
		var err error
		if opt.Rules, err = filepath.Abs(rules); err != nil {
			return nil, err
		}
		if err := openable(opt.Rules); err != nil {
			return nil, problem(fmt.Sprintf("--rules: %s cannot be read: %v", rules, reason(err)), "check the name, and that you may open it; it is a file such as rules.yaml")
		}
		next += ", and that the rules file is a csv, json, jsonl or yaml file that you may open"
	}
	p, err := practice.Read(ctx, folder, asOf, opt)
	if err != nil {
		return nil, problem(fmt.Sprintf("the records cannot be read: %v", err), next)
	}
	if !holdsRecords(p) {
		return nil, problem("no records were found in "+folder+nameSome(p), "each file is named after what it holds: practice.yaml, loads.csv, visits.csv … see docs/records in the project, or footing demo for an example")
	}
	noteIDs(ctx, p)
	return p, nil
}

// holdsRecords reports whether anything in the folder is a record, even a broken one.
func holdsRecords(p *practice.Practice) bool {
	return len(p.Intake.Files) > 0 || len(p.Intake.Problems) > 0 || len(p.Intake.Traces) > 0
}

func nameSome(p *practice.Practice) string {
	if len(p.Intake.NotRead) == 0 {
		return "; it is empty"
	}
	var names []string
	for _, n := range p.Intake.NotRead[:min(len(p.Intake.NotRead), 3)] {
		names = append(names, n.Name+" ("+n.Why+")")
	}
	n, such := len(p.Intake.NotRead), ": "
	if n > len(names) {
		such = ", such as "
	}
	return "; " + count(n, "other file is there", "other files are there") + such + strings.Join(names, ", ")
}

// status is the exit status that a result means.
func status(r *result.Result) int {
	n := r.Counts
	switch {
	case n.Broken > 0:
		return CouldNot
	case n.Critical+n.Major+n.Minor > 0, n.SetAside > 0:
		return Findings
	}
	return Done
}
