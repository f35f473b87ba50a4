package report

import (
	"bytes"
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"
)

const outside = "../../testdata/outside"

// absent skips a test that lacks its outside tool: with CI=true it fails instead.
func absent(t *testing.T, what string) {
	t.Helper()
	if os.Getenv("CI") == "true" {
		t.Fatal(what + " is not on this machine, and CI must not leave this out")
	}
	t.Skip(what + " is not on this machine: this was not checked")
}

// node runs a script of testdata/outside on the JSON of input, and reads its answer.
func node(t *testing.T, script, needs string, input, output any) {
	t.Helper()
	program, err := exec.LookPath("node")
	if err != nil {
		absent(t, "Node.js")
	}
	if _, err := os.Stat(filepath.Join(outside, "node_modules", needs)); err != nil {
		absent(t, needs+" in testdata/outside")
	}
	text, err := json.Marshal(input)
	require.NoError(t, err)
	cmd := exec.Command(program, script)
	cmd.Dir, cmd.Stdin = outside, bytes.NewReader(text)
	var said, complaint bytes.Buffer
	cmd.Stdout, cmd.Stderr = &said, &complaint
	require.NoError(t, cmd.Run(), complaint.String())
	require.NoError(t, json.Unmarshal(said.Bytes(), output))
}
