package cli

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"footing/internal/result"
)

func (a *app) renderCommand() *cobra.Command {
	var out string
	cmd := &cobra.Command{
		Use:   "render audit.json",
		Short: "make the pages again from an audit.json, lookback.json or draw.json",
		Long: indented("render makes the pages again, and the other files beside them, from the document that audit, lookback or draw wrote there: the same bytes. "+
			"It puts them with a copy of it into a new folder, or where it lies. The records are not needed.", ""),
		Example: "  footing render records-audit-2026-11-24/audit.json\n  footing render records-lookback-2026-11-24/lookback.json --out again",
		Args:    cobra.ArbitraryArgs,
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) != 1 {
				return problem("render takes one audit.json, lookback.json or draw.json", "footing render FOLDER/audit.json")
			}
			return a.render(cmd.Context(), args[0], out)
		},
	}
	cmd.Flags().StringVar(&out, "out", "", "write into this new `DIR`; the document's own folder if not given")
	return cmd
}

func (a *app) render(ctx context.Context, name, out string) error {
	data, err := os.ReadFile(name)
	if err != nil {
		return problem(fmt.Sprintf("%s cannot be read: %v", name, reason(err)), "name the audit.json, lookback.json or draw.json that this program wrote")
	}
	o, deliver, err := a.rendering(data)
	if err != nil {
		return problem(fmt.Sprintf("%s: %v", name, err), "name the "+o.files[0]+" as this version of the program wrote it")
	}
	if out == "" {
		out = filepath.Dir(name)
	}
	if out, err = filepath.Abs(out); err != nil {
		return err
	}
	if err := o.free(out); err != nil {
		return err
	}
	return deliver(ctx, out)
}

// rendering reads a document by what it says it is, and tells how its pages are
// written; what says nothing is read as an audit.
func (a *app) rendering(data []byte) (output, func(ctx context.Context, out string) error, error) {
	switch {
	case lookbackOutput.begins(data):
		answer, err := result.ReadAnswer(bytes.NewReader(data))
		return lookbackOutput, func(ctx context.Context, out string) error { return a.deliverLookback(ctx, out, answer) }, err
	case drawOutput.begins(data):
		d, err := result.ReadDraw(bytes.NewReader(data))
		return drawOutput, func(ctx context.Context, out string) error { return a.deliverDraw(ctx, out, d) }, err
	}
	r, err := result.Read(bytes.NewReader(data))
	return auditOutput, func(ctx context.Context, out string) error { return a.deliver(ctx, out, r) }, err
}
