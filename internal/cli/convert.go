package cli

import (
	"context"
	"fmt"
	"io"
	"runtime/debug"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"footing/internal/practice"
	"footing/internal/record"
)

// convertFlags are what convert can be told.
type convertFlags struct{ to, out string }

func (a *app) convertCommand() *cobra.Command {
	var o convertFlags
	cmd := &cobra.Command{
		Use:   "convert FOLDER --to FORMAT",
		Short: "write the records in another format",
		Long: "convert writes all records of FOLDER in another format, into a new folder, and reads\n" +
			"them again to be sure that nothing was lost. FOLDER itself is only read.\n\n" +
			"Headings become the names of the fields, and values the form that the guide gives:\n" +
			"dates year first, every value with its unit. What could not be read is written as it\n" +
			"was typed. Rows that were set aside go to files of their own, as they were. Columns\n" +
			"that are not known stay. Data-logger files are copied unchanged. Comments in YAML\n" +
			"files are not carried over.",
		Example: "  footing convert records --to xlsx              a workbook\n  footing convert records --to csv --out D:\\csv  a CSV file a kind of record",
		Args:    cobra.ArbitraryArgs,
		RunE:    func(cmd *cobra.Command, args []string) error { return a.convert(cmd.Context(), args, o) },
	}
	cmd.Flags().StringVar(&o.to, "to", "", "the `FORMAT` to write: csv, xlsx (a workbook), json, jsonl or yaml")
	cmd.Flags().StringVar(&o.out, "out", "", "write into this new `DIR`; a new folder beside the records' if not given")
	return cmd
}

func (a *app) convert(ctx context.Context, args []string, o convertFlags) error {
	if len(args) != 1 {
		return problem(fmt.Sprintf("convert takes one folder of records; %d were named", len(args)), "footing convert FOLDER --to csv, with the folder in quotation marks if its name has spaces")
	}
	format := strings.ToLower(o.to)
	if !slices.Contains(record.ExportFormats, format) {
		what := "convert needs the format to write"
		if o.to != "" {
			what = fmt.Sprintf("%q is no format that can be written", o.to)
		}
		return problem(what, "write --to and one of: "+strings.Join(record.ExportFormats, ", "))
	}
	folder, _, out, err := a.places(args[0], "", o.out, output{name: format, what: "the records written"})
	if err != nil {
		return err
	}
	// All records are held twice while they are compared. Collecting garbage more often
	// keeps that within what a small machine has.
	defer debug.SetGCPercent(debug.SetGCPercent(40))
	in, err := a.readAll(ctx, folder)
	if err != nil {
		return err
	}
	var done *record.Exported
	err = writeInto(ctx, out, "the records", func(dir string) (err error) {
		done, err = in.Export(ctx, dir, format)
		return err
	})
	if err != nil {
		return err
	}
	a.delivered = true
	_, _ = io.WriteString(a.out, convertWords(done, out))
	return nil
}

// readAll reads the records of a folder as they are typed, with those that an audit of
// today would not see.
func (a *app) readAll(ctx context.Context, folder string) (*record.Intake, error) {
	meter := newMeter(a.err)
	defer meter.end()
	p := &practice.Practice{}
	in, err := record.Fill(ctx, folder, &p.Records, record.Options{Progress: meter.reading, Keep: true})
	if err != nil {
		return nil, problem(fmt.Sprintf("the records cannot be read: %v", err), "check that you may open the folder and what is in it")
	}
	if p.Intake = in; !holdsRecords(p) {
		return nil, problem("no records were found in "+folder+nameSome(p), "each file is named after what it holds: practice.yaml, loads.csv, visits.csv … see docs/records in the project, or footing demo for an example")
	}
	return in, nil
}
