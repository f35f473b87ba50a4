package cli

import (
	"context"
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode"

	"github.com/spf13/cobra"

	"footing/checks"
	"footing/internal/audit"
	"footing/internal/practice"
	"footing/internal/record"
	"footing/schemas"
)

func (a *app) proofreadCommand() *cobra.Command {
	var day string
	var whole bool
	cmd := &cobra.Command{
		Use:   "proofread FOLDER",
		Short: "say what is read as what, and what would be set aside, before the audit",
		Long: "proofread reads the records in FOLDER and says which file and column was taken for\n" +
			"what, which rows would be set aside and why, which columns are not known, which ids\n" +
			"look like slips of the keyboard, and what is still needed for a useful audit and how\n" +
			"long typing it would take. It judges nothing, opens no data-logger file, and writes\n" +
			"no file.\n\n" +
			"Exit status: 0 when it was done, whatever it found; 2 when it could not be.",
		Example: "  footing proofread records\n  footing proofread records --whole",
		Args:    cobra.ArbitraryArgs,
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) != 1 {
				return problem(fmt.Sprintf("proofread takes one folder of records; %d were named", len(args)), "footing proofread FOLDER, in quotation marks if its name has spaces")
			}
			return a.proofread(cmd.Context(), args[0], day, whole)
		},
	}
	cmd.Flags().StringVar(&day, "as-of", "", "read as the records stood at the end of this `DATE` (2026-03-31); today if not given")
	cmd.Flags().BoolVar(&whole, "whole", false, "show everything, where a section would else be cut short")
	return cmd
}

func (a *app) proofread(ctx context.Context, name, day string, whole bool) error {
	folder, err := recordsFolder(name)
	if err != nil {
		return err
	}
	asOf, err := a.day(day)
	if err != nil {
		return err
	}
	criteria, err := checks.Criteria()
	if err != nil {
		return err
	}
	meter := newMeter(a.err)
	p, err := practice.Read(ctx, folder, asOf, record.Options{Progress: meter.reading})
	meter.end()
	if err != nil {
		return problem(fmt.Sprintf("the records cannot be read: %v", err), "check that you may open the folder and what is in it")
	}
	w := &proof{opt: a.screenOptions(""), whole: whole}
	if !holdsRecords(p) {
		w.notRead(p)
		_, _ = io.Copy(a.out, &w.b)
		what := "no records were found in " + folder
		if len(p.Intake.NotRead) == 0 {
			what += "; it is empty"
		}
		return problem(what, "footing new "+argument(name)+" puts a practice file and a workbook to type into there; a file of your own is read if it is named after what it holds, such as loads.csv")
	}
	w.all(p, criteria.Choose(p).Mistakes, argument(name))
	_, _ = io.Copy(a.out, &w.b)
	return nil
}

// all writes every section.
func (w *proof) all(p *practice.Practice, rules []audit.Mistake, folder string) {
	w.read(p)
	w.notRead(p)
	w.lost(p)
	w.rules(rules)
	w.columns(p.Intake)
	w.joins(p)
	w.noted(p)
	w.needed(p, checks.All(), folder)
	w.ending(p.Intake, folder)
}

// ending says what to do.
func (w *proof) ending(in *record.Intake, folder string) {
	w.b.WriteByte('\n')
	rows := 0
	for _, f := range in.Files {
		if k, ok := schemas.Lookup(f.Kind); ok && !k.Single {
			rows += f.Rows
		}
	}
	switch {
	case w.places == 0 && rows == 0:
		w.para("No row of records was found yet.")
		w.para("next: type what stands first in the list above, or a part of it, then")
		w.command("  footing proofread " + folder)
		return
	case w.places == 0:
		said := "Every row that was found can be read."
		if len(in.NotRead) > 0 || slices.ContainsFunc(in.Problems, func(q record.Problem) bool { return unheaded(&q) }) {
			said = "Every row that was found can be read; what was not read stands above."
		}
		w.para(said + " Whether what is typed is what the paper says, only you can see.")
		w.command("next: footing audit " + folder)
		return
	}
	places := fmt.Sprintf("these %s places", thousands(w.places))
	switch {
	case w.places == 1:
		places = "this one place"
	case w.causes == 1:
		places += ", all of one cause"
	case w.causes < w.places:
		places += fmt.Sprintf(" (%s causes: one mend may settle many)", thousands(w.causes))
	}
	w.para("It can be audited as it is too: only what is named above is left out, and that is said.")
	w.para(fmt.Sprintf("next: look at %s, mend what was mistyped as the paper has it, then", places))
	w.command("  footing audit " + folder)
}

// argument is a folder's name as it can be typed again.
func argument(name string) string {
	if strings.ContainsAny(name, " \t()&;'") {
		return `"` + plainPath(name) + `"`
	}
	return plainPath(name)
}

// plainPath is a path without what steers a terminal.
func plainPath(name string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsPrint(r) || r == ' ' {
			return r
		}
		return -1
	}, name)
}
