// Package cli is the command line: a file a command, and how we speak.
package cli

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"strings"
	"syscall"
	"time"

	"github.com/spf13/cobra"
)

// Exit statuses of audit. Other commands give Done when what was asked is written.
const (
	Done     = 0 // no nonconformity; observations allowed
	Findings = 1 // nonconformities, or rows set aside
	CouldNot = 2 // could not be done, wrong use, or a check broke
)

// app is one call of the program: where it speaks, and how it came out.
type app struct {
	out       *printed
	err       io.Writer
	now       func() time.Time
	status    int
	delivered bool // reports were written
	pace      pace // of watch
}

// printed is standard output with the first thing that went wrong with it.
type printed struct {
	io.Writer
	failed error
}

func (p *printed) Write(b []byte) (int, error) {
	n, err := p.Writer.Write(b)
	if p.failed == nil {
		p.failed = err
	}
	return n, err
}

// Main runs the command line and returns the exit status.
func Main(args []string, in io.Reader, out, err io.Writer) int {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	return run(ctx, args, in, out, err, time.Now)
}

func run(ctx context.Context, args []string, in io.Reader, out, errOut io.Writer, now func() time.Time) int {
	a := &app{out: &printed{Writer: out}, err: errOut, now: now, pace: ordinary}
	return a.run(ctx, args, in)
}

func (a *app) run(ctx context.Context, args []string, in io.Reader) int {
	root := a.root()
	root.SetArgs(args)
	root.SetIn(in)
	root.SetOut(a.out)
	root.SetErr(a.err)
	if err := root.ExecuteContext(ctx); err != nil {
		if ctx.Err() != nil {
			err = problem("stopped before the end; no report was written", "run it again when you have the time")
		}
		a.say(err)
		return CouldNot
	}
	if err := a.out.failed; err != nil {
		a.say(problem(fmt.Sprintf("what was asked could not be printed: %v", reason(err)), "look whether the disk or the program that it is printed to is full or has ended"))
		if !a.delivered {
			return CouldNot
		}
	}
	return a.status
}

func init() {
	cobra.MousetrapHelpText = "" // a folder dropped on the program must work, and the notice would stop it
	cobra.EnableCommandSorting = false
}

func (a *app) root() *cobra.Command {
	var o auditFlags
	root := &cobra.Command{
		Use:   "footing FOLDER",
		Short: "read a foot-care practice's records and say what is in order",
		Long: "footing reads a folder of a foot-care practice's records, checks them, and writes a\n" +
			"readiness report: what does not conform, where it is written, what is needed and by\n" +
			"which source, what to do next, and what could not be assessed. It reads and never\n" +
			"changes your records, works without a network, and sends nothing anywhere. A reading\n" +
			"of records is not an inspection: your regulator's rules, the maker's instructions\n" +
			"and licensed practice come first.",
		Example: "  footing new records            sheets to type into\n  footing proofread records      what of it can be read, and what not\n  footing audit records          audit it and write the report; footing records does the same\n\n" +
			"  footing demo                   try it on an invented practice\n  footing watch records --open   audit again at each save, on a page in the browser\n  footing cycle file.csv         read one data-logger file\n  footing lookback records --sterilizer S1\n                                 how far back a failure would reach",
		Args:          cobra.ArbitraryArgs,
		SilenceErrors: true,
		SilenceUsage:  true,
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 {
				return cmd.Help()
			}
			return a.audit(cmd.Context(), args, o)
		},
	}
	o.register(root)
	o.registerSince(root)
	o.registerShare(root)
	root.SetFlagErrorFunc(func(cmd *cobra.Command, err error) error {
		return problem(err.Error(), "see "+cmd.CommandPath()+" --help")
	})
	for i, group := range []struct {
		title    string
		commands []*cobra.Command
	}{
		{"From the first record to the report:", []*cobra.Command{a.newCommand(), a.proofreadCommand(), a.auditCommand(), a.watchCommand(), a.demoCommand()}},
		{"To look closer:", []*cobra.Command{a.explainCommand(), a.compareCommand(), a.checksCommand(), a.cycleCommand(), a.lookbackCommand(), a.drawCommand()}},
		{"To write again:", []*cobra.Command{a.convertCommand(), a.renderCommand()}},
	} {
		id := fmt.Sprint(i)
		root.AddGroup(&cobra.Group{ID: id, Title: group.title})
		for _, cmd := range group.commands {
			cmd.GroupID = id
		}
		root.AddCommand(group.commands...)
	}
	root.AddCommand(a.versionCommand())
	root.InitDefaultCompletionCmd()
	root.InitDefaultHelpCmd()
	for _, cmd := range root.Commands() {
		switch cmd.Name() {
		case "completion":
			spoken(cmd)
		case "help":
			cmd.Use, cmd.Short = "help [COMMAND]", "say how a command is used"
			cmd.Long = "help says what a command does, what it can be told, and shows how it is typed."
			cmd.Example = "  footing help proofread"
		}
	}
	return root
}

// spoken makes the ready-made completion command answer a shell that it does not
// know in words of ours, where it would print its help as if that were asked.
func spoken(completion *cobra.Command) {
	completion.Short = "print what lets a shell complete commands that are half typed"
	completion.Args = atMost(0, "bash, fish, powershell or zsh after it", "see footing completion --help")
	completion.RunE = func(cmd *cobra.Command, _ []string) error { return cmd.Help() }
	for _, shell := range completion.Commands() {
		shell.Args = atMost(0, "nothing after it", "see footing completion --help")
	}
}

// atMost refuses more words after a command than it takes.
func atMost(n int, takes, next string) cobra.PositionalArgs {
	return func(cmd *cobra.Command, args []string) error {
		if len(args) <= n {
			return nil
		}
		return problem(fmt.Sprintf("%s takes %s, and was given %s", cmd.Name(), takes, strings.Join(args, " and ")), next)
	}
}

// trouble is an error with the thing to do about it.
type trouble struct{ what, next string }

func (t trouble) Error() string { return t.what }

func problem(what, next string) error { return trouble{what, next} }

// say puts an error into words on standard error: what happened, then what to do.
func (a *app) say(err error) {
	line(a.err, "footing: "+err.Error())
	var t trouble
	if errors.As(err, &t) && t.next != "" {
		line(a.err, "next: "+t.next)
	}
}

func line(w io.Writer, text string) { _, _ = io.WriteString(w, text+"\n") }
