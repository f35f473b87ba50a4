package cli

import (
	"fmt"
	"path/filepath"

	"github.com/spf13/cobra"

	"footing/internal/demo"
	"footing/internal/quantity"
)

func (a *app) demoCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "demo [DIR]",
		Short: "write an invented practice into DIR (footing-demo) and audit it",
		Long: "demo writes the records of an invented practice into DIR, footing-demo if none is\n" +
			"named, audits them, and says where the report lies. Look at the records: they show\n" +
			"how yours can be typed. All people, places and makes in them are invented.",
		Example: "  footing demo\n  footing demo invented",
		Args:    atMost(1, "one folder at most", "footing demo DIR, in quotation marks if its name has spaces"),
		RunE: func(cmd *cobra.Command, args []string) error {
			dir := "footing-demo"
			if len(args) == 1 {
				dir = args[0]
			}
			if !demo.Holds(dir) {
				if err := demo.Write(dir); err != nil {
					return problem(err.Error(), "name a new folder: footing demo DIR")
				}
			}
			folder, err := filepath.Abs(dir)
			if err != nil {
				return err
			}
			asOf, err := quantity.ParseDay(demo.AsOf, quantity.ISO)
			if err != nil {
				return err
			}
			out := folder + "-audit-" + asOf.String()
			if err := auditOutput.free(out); err != nil {
				return err
			}
			r, err := a.examine(cmd.Context(), folder, asOf, auditFlags{seed: 1})
			if err != nil {
				return err
			}
			if err := a.deliver(cmd.Context(), out, r); err != nil {
				return err
			}
			line(a.out, fmt.Sprintf("The invented records are in %s.", folder))
			return nil
		},
	}
}
