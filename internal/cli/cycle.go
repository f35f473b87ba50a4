package cli

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"path/filepath"

	"github.com/spf13/cobra"
)

// noRelease is the caution that goes with every reading of a data-logger file.
const noRelease = "A reading of a trace is no release: indicators, spore tests, the maker's instructions and your local rules decide. A trace never overrules a spore test."

// cycleFlags are what cycle can be told.
type cycleFlags struct {
	set, hold, altitude, layout, method, reference, tolerance, out string
}

func (o *cycleFlags) register(cmd *cobra.Command) {
	f := cmd.Flags()
	f.StringVar(&o.set, "set", "", "the set `TEMPERATURE`: \"134 °C\", \"250 °F\"; if not given, concluded from the shipped tables, by which a cycle cut short may be taken for a cooler one")
	f.StringVar(&o.hold, "hold", "", "how long it should be held there, a `TIME`: \"3.5 min\"; then it is said whether it was")
	f.StringVar(&o.altitude, "altitude", "", "the `HEIGHT` of the place above the sea, which turns gauge into absolute: \"350 m\"")
	f.StringVar(&o.layout, "layout", "", "a layout.yaml `FILE` that says what the columns are, and in which order dates are written")
	f.StringVar(&o.method, "method", "steam", "`METHOD`: steam (lethality F0), dry-heat (FH) or washer (A0)")
	f.StringVar(&o.reference, "reference", "", "the reference `TEMPERATURE` of the lethality: \"121.0 °C\"; if not given 121.1 (steam), 170 (dry-heat) or 80 °C (washer)")
	f.StringVar(&o.tolerance, "tolerance", "", "how far the sensor may be off, a `DIFFERENCE`: \"0.5 K\"")
	f.StringVar(&o.out, "out", "", "write a chart of each file and a page of all into this new `DIR`")
}

func (a *app) cycleCommand() *cobra.Command {
	var o cycleFlags
	cmd := &cobra.Command{
		Use:   "cycle FILE…",
		Short: "say what a cycle did, from its data-logger file",
		Long: indented("cycle reads data-logger files, with no records around them, and says what each did: how long it was held, how hot, at which pressure, its pulses, its drying. "+
			"A folder stands for the files in it and in the folders below, with its layout.yaml if it has one; a file named by itself has none without --layout. Files are only read.", "") + "\n\n" + indented(noRelease, "") + "\n\n" +
			indented("Exit status: 0 told and written, whatever the files show; 2 a file could not be read, or wrong use.", ""),
		Example: "  footing cycle 398.csv --set \"134 °C\" --hold \"3.5 min\" --altitude \"350 m\"\n  footing cycle traces --out charts",
		Args:    cobra.ArbitraryArgs,
		RunE:    func(cmd *cobra.Command, args []string) error { return a.cycle(cmd.Context(), args, o) },
	}
	o.register(cmd)
	return cmd
}

func (a *app) cycle(ctx context.Context, args []string, o cycleFlags) error {
	if len(args) == 0 {
		return problem("cycle takes data-logger files, and none was named", "footing cycle FILE, or a folder of such files; in quotation marks if a name has spaces")
	}
	q, err := o.question()
	if err != nil {
		return err
	}
	files, err := loggerFiles(args)
	if err != nil {
		return err
	}
	if err := q.layouts(files, o.layout); err != nil {
		return err
	}
	s := &sitting{ctx: ctx, question: q, files: files}
	if o.out != "" {
		if s.shelf, err = newShelf(o.out, files); err != nil {
			return err
		}
		defer s.shelf.leave()
	}
	meter := newMeter(a.err)
	defer meter.end()
	s.progress = func(n int) { meter.show("reading data-logger files", int64(n), int64(len(files))) }
	return a.tell(s)
}

// tell reads the files, and prints what they did once all is read and written.
func (a *app) tell(s *sitting) error {
	if err := s.read(); err != nil {
		return err
	}
	if s.shelf != nil && s.readable() > 0 {
		if err := s.shelve(); err != nil {
			return err
		}
		a.delivered = true
	}
	var b bytes.Buffer
	s.print(&b)
	if a.delivered {
		line(&b, "")
		line(&b, "Charts and tables: "+filepath.Join(s.shelf.out, cyclePage))
	}
	_, _ = io.Copy(a.out, &b)
	for _, u := range s.unread {
		a.say(u)
	}
	if len(s.unread) > 0 {
		a.status = CouldNot
	}
	return nil
}

// unreadable is the error of a file of which nothing could be told.
func unreadable(name string, err error, next string) error {
	var t trouble
	if errors.As(err, &t) {
		return t
	}
	return problem(fmt.Sprintf("%s cannot be read: %v", plain(name), reason(err)), next)
}
