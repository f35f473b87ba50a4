package cli

import "github.com/spf13/cobra"

func (a *app) proofreadCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "proofread FOLDER",
		Short: "say what is read as what, and what would be set aside, before the audit",
		RunE: func(cmd *cobra.Command, args []string) error {
			return problem("proofread is being built", "wait for it")
		},
	}
}
