package cli

import (
	"runtime/debug"

	"github.com/spf13/cobra"
)

func (a *app) versionCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "version",
		Short: "print the program's version",
		Args:  atMost(0, "nothing after it", "footing version"),
		RunE: func(*cobra.Command, []string) error {
			line(a.out, "footing "+version())
			return nil
		},
	}
}

// version is the module's version, or "development" for a build from a checkout.
func version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok || info.Main.Version == "" || info.Main.Version == "(devel)" {
		return "development"
	}
	return info.Main.Version
}
