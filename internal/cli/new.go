package cli

import (
	"bytes"
	"context"
	"fmt"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"footing/internal/quantity"
	"footing/internal/workbook"
	"footing/schemas"
)

// newFlags are what new can be told.
type newFlags struct {
	with        []string
	all         bool
	like        string
	temperature string
	pressure    string
}

func (a *app) newCommand() *cobra.Command {
	var o newFlags
	cmd := &cobra.Command{
		Use:   "new FOLDER",
		Short: "make a folder to type records into: practice.yaml and a workbook",
		Long: indented("new makes FOLDER, if it is not there, and in it practice.yaml and the workbook records.xlsx, with a sheet for each kind of record that "+
			"a first evening needs: "+strings.Join(evening, ", ")+". Each column has a note that says what to write there; the sheets can be filled in on the screen, or printed and filled in by hand.", "") + "\n\n" +
			indented("No row is invented, and nothing that is there is written over: in a folder that has a workbook, more sheets go into a workbook of their own.", ""),
		Example: "  footing new records                             the sheets of the first evening\n" +
			"  footing new records --with visits,packs         more sheets\n" +
			"  footing new records --like records              the sheets that the last audit missed most\n" +
			"  footing new records --pressure \"psi gauge\"      with the unit that your dial shows",
		Args: cobra.ArbitraryArgs,
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) != 1 {
				return problem(fmt.Sprintf("new takes one folder to make; %d were named", len(args)), "footing new FOLDER, in quotation marks if its name has spaces")
			}
			return a.new(cmd.Context(), args[0], o)
		},
	}
	f := cmd.Flags()
	f.StringSliceVar(&o.with, "with", nil, "add sheets for these `KINDS` of record, apart by commas: visits,packs")
	f.BoolVar(&o.all, "all", false, "a sheet for every kind of record, with every column")
	f.StringVar(&o.like, "like", "", "add the sheets that the last audit of this `FOLDER` missed most")
	f.StringVar(&o.temperature, "temperature", "°C", "`UNIT` of temperature in the headings: °C or °F")
	f.StringVar(&o.pressure, "pressure", "", "`UNIT` of pressure in the headings: \"psi gauge\"; none if not given")
	return cmd
}

func (a *app) new(ctx context.Context, name string, o newFlags) error {
	units, err := headingUnitsOf(o)
	if err != nil {
		return err
	}
	with, err := kindsNamed(o.with)
	if err != nil {
		return err
	}
	at, err := lookAt(name)
	if err != nil {
		return err
	}
	plan := at.plan(with, o.all)
	if o.like != "" {
		if err := plan.like(o.like, at); err != nil {
			return err
		}
	}
	files, err := at.files(plan, units, o.all)
	if err != nil {
		return err
	}
	if len(files) > 0 {
		if err := writeNew(ctx, at.folder, files); err != nil {
			return err
		}
		a.delivered = true
	}
	line(a.out, strings.Join(at.told(name, with, plan, files), "\n"))
	return nil
}

// writeNew writes the files, all or none, where none of them is.
func writeNew(ctx context.Context, folder string, files []file) error {
	err := writeAside(ctx, folder, files, false)
	switch {
	case err == nil, ctx.Err() != nil:
		return ctx.Err()
	case isFull(err):
		return problem(fmt.Sprintf("%s could not be written: %v; nothing was left there", folder, reason(err)), "make room on the disk, or name a folder on another")
	}
	return problem(fmt.Sprintf("%s could not be written: %v; nothing was left there", folder, reason(err)), "check that you may write there, or name another folder")
}

// files are those to write: none that is there already.
func (at *newPlace) files(plan *newPlan, units headingUnits, every bool) (files []file, err error) {
	if at.practice == "" {
		files = append(files, file{practiceFile, practiceText()})
	}
	if len(plan.kinds) == 0 {
		return files, nil
	}
	book := blankBook{kinds: plan.kinds, units: units, every: every}
	var b bytes.Buffer
	if err := workbook.Write(&b, book.tables()); err != nil {
		return nil, err
	}
	return append(files, file{at.freeBook(), b.Bytes()}), nil
}

// told says what was written, what was left as it is, and what to do now.
func (at *newPlace) told(name string, with []string, plan *newPlan, files []file) (lines []string) {
	add := func(text string) { lines = append(lines, indented(text, "")) }
	if at.practice != "" {
		add(at.practice + " is there already and stays as it is.")
	}
	for _, b := range at.books {
		add(b + " is there already and stays as it is.")
	}
	for _, f := range files {
		lines = append(lines, "Written: "+filepath.Join(at.folder, f.name))
	}
	if len(plan.kinds) > 0 {
		add("Its sheets: " + strings.Join(plan.kinds, ", ") + ".")
	}
	for _, why := range plan.why {
		add(why)
	}
	switch {
	case len(plan.kinds) > 0:
	case len(files) > 0:
		add("No sheet was added to what is there.")
	default:
		add("Nothing was written: there is a sheet for all of that already" + at.wherein(with) + ".")
	}
	if more := at.others(plan); len(plan.kinds) == 0 && len(more) > 0 {
		add("For more sheets: footing new " + argument(name) + " --with " + strings.Join(more, ",") + ", or --all.")
	}
	lines = append(lines, "")
	if at.practice == "" {
		add("Fill in the name and the regulator in practice.yaml, with any program that writes plain text. Then type into the workbook what your books have, the newest months first; what is not written there stays empty.")
	} else {
		add("Type into the workbook what your books have, the newest months first; what is not written there stays empty.")
	}
	return append(lines, "next: footing proofread "+argument(name))
}

// headingUnits are the units that stand in headings.
type headingUnits struct{ temperature, pressure string }

func headingUnitsOf(o newFlags) (u headingUnits, err error) {
	t, _, err := quantity.ParseUnit(o.temperature, quantity.Temperature)
	if err != nil {
		return u, problem(fmt.Sprintf("--temperature: %q is no unit of temperature", o.temperature), `write --temperature "°C" or --temperature "°F"`)
	}
	u.temperature = t.String()
	if o.pressure == "" {
		return u, nil
	}
	p, ref, err := quantity.ParseUnit(o.pressure, quantity.Pressure)
	if err != nil {
		return u, problem(fmt.Sprintf("--pressure: %q is no unit of pressure", o.pressure), `write --pressure "psi gauge", or kPa, bar or mbar, with gauge or absolute as the dial shows`)
	}
	if ref == quantity.Unsaid {
		return u, problem(fmt.Sprintf("--pressure: %q does not say gauge or absolute", o.pressure), fmt.Sprintf("a dial that stands at nought with the door open shows gauge: --pressure %q; else --pressure %q", p.String()+" gauge", p.String()+" absolute"))
	}
	u.pressure = p.String() + " " + ref.String()
	return u, nil
}

// kindsNamed are the kinds that were asked for, by any of their names.
func kindsNamed(names []string) (kinds []string, err error) {
	for _, name := range names {
		if strings.TrimSpace(name) == "" {
			continue
		}
		k, ok := schemas.Match(name)
		if ok && k.Single {
			return nil, problem(fmt.Sprintf("--with: %s has no sheet: it is a file of its own, %s.yaml", k.Name, k.Name), "leave it out; footing new writes practice.yaml without being asked, and the guide shows a rules.yaml")
		}
		if !ok {
			return nil, problem(fmt.Sprintf("--with: there is no sheet for %q", strings.TrimSpace(name)), "did you mean "+nearKind(name)+"? the kinds are "+strings.Join(rowKinds(), ", "))
		}
		kinds = append(kinds, k.Name)
	}
	return kinds, nil
}
