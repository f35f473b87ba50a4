package cli

import (
	"os"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){
		"footing": func() { os.Exit(Main(os.Args[1:], os.Stdin, os.Stdout, os.Stderr)) },
	})
}

// The scripts run the real main, each in a folder of its own.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir: "../../testdata/scripts",
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"status":  exitStatus,
			"treesum": treeSum,
		},
	})
}
