package cli

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"path/filepath"

	"github.com/spf13/cobra"

	"footing/internal/quantity"
	"footing/internal/report"
	"footing/internal/result"
)

// Files of a comparison. The two audit.json make them again, so there is no third document.
const (
	compareMarkdown = "compare.md"
	comparePage     = "compare.html"
)

var compareOutput = output{"compare", "the pages", "# What changed: ", []string{compareMarkdown, comparePage}}

func (a *app) compareCommand() *cobra.Command {
	var out string
	cmd := &cobra.Command{
		Use:   "compare OLD NEW",
		Short: "say what became of the findings of one audit in a later one",
		Long: indented("compare takes two audits of one practice, each the folder that audit wrote or the audit.json in it, and says which findings closed, which are new, which came back, "+
			"which stayed and for how long, and what cannot be compared and why. The earlier day goes first, whichever way round they are named. Nothing is changed.", "") + "\n\n" +
			indented("A finding is the same where its check and its subject are. Closed means no longer found; whether it was put right, only a look at the thing itself can say. "+
				"What may be gone only because there is less to see, or because another rule was chosen, stands apart.", "") + "\n\n" +
			indented("With --out it writes compare.md and compare.html as well. Exit status: 0 when it is told, whatever it shows; 2 could not be done, or wrong use.", ""),
		Example: "  footing compare records-audit-2026-09-02 records-audit-2026-11-25\n  footing compare before/audit.json after/audit.json --out changes",
		Args:    cobra.ArbitraryArgs,
		RunE:    func(cmd *cobra.Command, args []string) error { return a.compare(cmd.Context(), args, out) },
	}
	cmd.Flags().StringVar(&out, "out", "", "write compare.md and compare.html into this new `DIR`; they are only printed if not given")
	return cmd
}

func (a *app) compare(ctx context.Context, args []string, out string) error {
	if len(args) != 2 {
		return problem(fmt.Sprintf("compare takes two audits; %d were named", len(args)), "footing compare OLD NEW, each a folder that audit wrote, or its audit.json")
	}
	before, err := earlierAudit(args[0])
	if err != nil {
		return err
	}
	after, err := earlierAudit(args[1])
	if err != nil {
		return err
	}
	swapped := before.AsOf > after.AsOf
	if swapped {
		before, after = after, before
	}
	r := result.Follow(before, after)
	print := func(w io.Writer, opt report.SummaryOptions) { _ = report.CompareText(w, r, swapped, opt) }
	if out == "" {
		var b bytes.Buffer
		print(&b, a.screenOptions(""))
		_, _ = io.Copy(a.out, &b)
		return nil
	}
	if out, err = filepath.Abs(out); err != nil {
		return err
	}
	if err := compareOutput.free(out); err != nil {
		return err
	}
	page, err := report.CompareHTML(r, swapped)
	if err != nil {
		return err
	}
	return a.put(ctx, out, []file{{compareMarkdown, report.CompareMarkdown(r, swapped)}, {comparePage, page}}, comparePage, print)
}

// sinceFlags are what an audit can be told of an earlier one.
type sinceFlags struct{ since string }

func (o *sinceFlags) registerSince(cmd *cobra.Command) {
	cmd.Flags().StringVar(&o.since, "since", "", "say what became of the findings of an earlier audit: `OLD` is the folder that audit wrote, or its audit.json")
}

// before is the earlier audit that was named, nil for none. It may not be of a later day.
func (o *sinceFlags) before(asOf quantity.Day) (*result.Result, error) {
	if o.since == "" {
		return nil, nil
	}
	r, err := earlierAudit(o.since)
	if err != nil {
		return nil, err
	}
	if r.AsOf > asOf.String() {
		return nil, problem(fmt.Sprintf("--since: the audit in %s is of %s, which is later than %s", o.since, r.AsOf, asOf), "name an earlier audit, or a later day with --as-of")
	}
	return r, nil
}
