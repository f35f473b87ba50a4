package cli

import (
	"bytes"
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
		Short: "make the report again from an audit.json",
		Long:  "render makes report.md and report.html from an audit.json, the same bytes as the audit\nmade, and puts them with a copy of it into a new folder.",
		Args:  cobra.ArbitraryArgs,
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) != 1 {
				return problem("render takes one audit.json", "footing render FOLDER/audit.json")
			}
			data, err := os.ReadFile(args[0])
			if err != nil {
				return problem(fmt.Sprintf("%s cannot be read: %v", args[0], reason(err)), "name the audit.json that an audit wrote")
			}
			r, err := result.Read(bytes.NewReader(data))
			if err != nil {
				return problem(fmt.Sprintf("%s: %v", args[0], err), "name the audit.json that an audit of this version wrote")
			}
			if out == "" {
				out = filepath.Dir(args[0])
			}
			if out, err = filepath.Abs(out); err != nil {
				return err
			}
			if err := free(out); err != nil {
				return err
			}
			return a.deliver(cmd.Context(), out, r)
		},
	}
	cmd.Flags().StringVar(&out, "out", "", "write into this new `DIR`; the audit.json's own folder if not given")
	return cmd
}
