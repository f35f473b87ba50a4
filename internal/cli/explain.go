package cli

import "github.com/spf13/cobra"

func (a *app) explainCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "explain WORD",
		Short: "say what a word of the trade means",
		RunE: func(cmd *cobra.Command, args []string) error {
			return problem("explain is being built", "wait for it")
		},
	}
}
