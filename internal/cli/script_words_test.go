package cli

import (
	"crypto/sha256"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"strconv"

	"github.com/rogpeppe/go-internal/testscript"
)

// exitStatus is the script word "status N COMMAND ARG…": the command must end with status N.
func exitStatus(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) < 2 {
		ts.Fatalf("usage: status N COMMAND ARG...")
	}
	want, err := strconv.Atoi(args[0])
	ts.Check(err)
	err = ts.Exec(args[1], args[2:]...)
	got := 0
	var exit *exec.ExitError
	if errors.As(err, &exit) {
		got = exit.ExitCode()
	} else {
		ts.Check(err)
	}
	if got != want {
		ts.Fatalf("%v ended with status %d, not %d", args[1:], got, want)
	}
}

// treeSum is the script word "treesum FOLDER FILE": it writes the name and checksum of all below FOLDER into FILE.
func treeSum(ts *testscript.TestScript, _ bool, args []string) {
	if len(args) != 2 {
		ts.Fatalf("usage: treesum FOLDER FILE")
	}
	var out []byte
	root := os.DirFS(ts.MkAbs(args[0]))
	ts.Check(fs.WalkDir(root, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := fs.ReadFile(root, name)
		out = fmt.Appendf(out, "%s %x\n", name, sha256.Sum256(data))
		return err
	}))
	ts.Check(os.WriteFile(ts.MkAbs(args[1]), out, 0o644))
}
