package cli

import "github.com/spf13/cobra"

func (a *app) watchCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "watch FOLDER",
		Short: "audit again whenever a file is saved",
		RunE: func(cmd *cobra.Command, args []string) error {
			return problem("watch is being built", "wait for it")
		},
	}
}
