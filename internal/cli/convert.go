package cli

import "github.com/spf13/cobra"

func (a *app) convertCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "convert FOLDER",
		Short: "write the records in another format",
		RunE: func(cmd *cobra.Command, args []string) error {
			return problem("convert is being built", "wait for it")
		},
	}
}
