package cli

import "github.com/spf13/cobra"

func (a *app) newCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "new FOLDER",
		Short: "make a folder to type records into: practice.yaml and a workbook",
		RunE: func(cmd *cobra.Command, args []string) error {
			return problem("new is being built", "wait for it")
		},
	}
}
