// Footing reads a foot-care practice's records and writes a readiness report.
package main

import (
	"os"

	"footing/internal/cli"
)

func main() { os.Exit(cli.Main(os.Args[1:], os.Stdin, os.Stdout, os.Stderr)) }
