package cli

import (
	"context"
	"fmt"
	"path/filepath"
	"time"

	"github.com/spf13/cobra"
)

// watchFlags are what watch can be told.
type watchFlags struct {
	auditFlags
	poll, open, noPage bool
	port               int
}

func (a *app) watchCommand() *cobra.Command {
	var o watchFlags
	cmd := &cobra.Command{
		Use:   "watch FOLDER",
		Short: "audit again whenever a file is saved, and say what changed",
		Long: indented("watch audits FOLDER at once, and again whenever a file in it is saved, and prints what changed: new findings, findings that are no longer found, other grades, rows set aside, what could be seen. "+
			"It shows the report on a page that loads itself again. Ctrl-C ends it.", "") + "\n\n" +
			indented("The records are only read. Nothing is written to the disk unless you name a place with --out. The page is for this computer alone: its address works on no other, and begins with a long word that nobody can guess. "+
				"Who has the address can read the page, so give it to nobody.", "") + "\n\n" +
			indented("Folders on a network or in a shared drive may not tell when a file is saved. They are looked at every ten seconds, with --poll every two.", "") + "\n\n" +
			indented("Exit status: 0 ended with Ctrl-C; 2 could not be done, wrong use, or the folder is gone.", ""),
		Example: "  footing watch records\n  footing watch records --open\n  footing watch records --no-page --out latest",
		Args:    cobra.ArbitraryArgs,
		RunE:    func(cmd *cobra.Command, args []string) error { return a.watch(cmd.Context(), args, o) },
	}
	o.register(cmd)
	f := cmd.Flags()
	f.Lookup("as-of").Usage = "audit as the records stood at the end of this `DATE` (2026-03-31); the day of each reading if not given"
	f.Lookup("out").Usage = "write the reports of each reading into this `DIR`; they are written nowhere if not given"
	f.BoolVar(&o.poll, "poll", false, "look at names, sizes and times of the files every two seconds, for folders on a network")
	f.BoolVar(&o.open, "open", false, "open the page in the browser")
	f.BoolVar(&o.noPage, "no-page", false, "show no page")
	f.IntVar(&o.port, "port", 0, "show the page on port `N`, 1024 to 65535; the system chooses one if not given")
	return cmd
}

func (a *app) watch(ctx context.Context, args []string, o watchFlags) error {
	if len(args) != 1 {
		return problem(fmt.Sprintf("watch takes one folder of records; %d were named", len(args)), "footing watch FOLDER, in quotation marks if its name has spaces")
	}
	if o.port != 0 && (o.port < 1024 || o.port > 65535) {
		return problem(fmt.Sprintf("--port %d is no port that a page can be shown on", o.port), "name one from 1024 to 65535, or leave it out")
	}
	if o.noPage && (o.open || o.port != 0) {
		return problem("--no-page does not go with --open or --port", "leave one of them out")
	}
	w, err := a.watchOf(args[0], o)
	if err != nil {
		return err
	}
	if !o.noPage {
		if err := w.show(ctx); err != nil {
			return err
		}
		defer w.page.end()
	}
	w.eyes = openEyes(w.at, o.poll, a.pace)
	defer w.eyes.close()
	return w.loop(ctx)
}

// watchOf is the watching of a named folder, before its first reading.
func (a *app) watchOf(name string, o watchFlags) (*watching, error) {
	folder, err := recordsFolder(name)
	if err != nil {
		return nil, err
	}
	asOf, err := a.day(o.asOf)
	if err != nil {
		return nil, err
	}
	out := ""
	if o.out != "" {
		if out, err = auditOutput.folder(folder, o.out, asOf); err != nil {
			return nil, err
		}
	}
	rules := ""
	if o.rules != "" {
		if rules, err = filepath.Abs(o.rules); err != nil {
			return nil, err
		}
	}
	return &watching{app: a, flags: o, reports: out, at: place{folder: folder, rules: rules}}, nil
}

// wallClock is the time of day of a reading, as a clock on the wall shows it.
func wallClock(t time.Time) string { return t.Format("15:04:05") }
