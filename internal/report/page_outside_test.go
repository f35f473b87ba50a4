package report

import (
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"footing/internal/result"

	"github.com/stretchr/testify/require"
)

// tested are pages of every sort, by name.
func tested(t *testing.T) map[string][]byte {
	t.Helper()
	out := map[string][]byte{}
	for name, r := range map[string]*result.Result{"full": full(), "thin": thin(), "hostile": hostileResult(), "empty": {}} {
		page, err := HTML(r)
		require.NoError(t, err)
		out[name] = page
	}
	for name, r := range realOnes(t) {
		page, err := HTML(r)
		require.NoError(t, err)
		out[name] = page
	}
	for name, a := range map[string]*result.Answer{"look-back": answer(), "complaint": complaintAnswer()} {
		page, err := LookbackHTML(a)
		require.NoError(t, err)
		out[name] = page
	}
	page, err := DrawHTML(sampleDraw())
	require.NoError(t, err)
	out["draw"] = page
	return out
}

// checker is a file of an outside checker; without it a test skips, and with CI=true fails.
func checker(t *testing.T, path, what string) string {
	t.Helper()
	full := filepath.Join("../../testdata/outside/node_modules", path)
	if _, err := os.Stat(full); err != nil {
		without(t, what)
	}
	return full
}

func without(t *testing.T, what string) {
	t.Helper()
	if os.Getenv("CI") == "true" {
		t.Fatal("no " + what + " on this machine, and CI must not leave this out")
	}
	t.Skip("no " + what + " on this machine: the pages were not put to it (npm ci --prefix testdata/outside --ignore-scripts)")
}

// Outside measure: axe-core, with all its rules, finds no violation of the rules of WCAG
// and of good practice in any page, on a wide screen, and in some of each sort on a phone.
func TestAxe(t *testing.T) {
	script, err := os.ReadFile(checker(t, "axe-core/axe.min.js", "axe-core"))
	require.NoError(t, err)
	b := startBrowser(t)
	for name, page := range tested(t) {
		url := onDiskAs(t, page)
		widths := []int{1280}
		if name == "full" || name == "thin" || name == "look-back" || name == "draw" {
			widths = append(widths, 375)
		}
		for _, width := range widths {
			b.Open(url, width, 800)
			b.Call("Page.setBypassCSP", map[string]any{"enabled": true})
			b.Call("Runtime.evaluate", map[string]any{"expression": string(script) + ";0"})
			r := b.Call("Runtime.evaluate", map[string]any{"awaitPromise": true, "returnByValue": true,
				"expression": `axe.run(document).then(r => ({passed: r.passes.length, found: r.violations.map(v => v.id + ": " + v.nodes.length + ": " + v.nodes[0].html.slice(0, 200) + " " + v.nodes[0].failureSummary)}))`})
			require.Nil(t, r["exceptionDetails"], "%s", fmt.Sprint(r))
			said := r["result"].(map[string]any)["value"].(map[string]any)
			require.Greater(t, said["passed"], 15.0, "%s: axe looked", name)
			require.Empty(t, said["found"], "%s at %d", name, width)
		}
	}
}

// axe-core finds what it is there to find: a page with a fault of each sort fails.
func TestAxeFindsFaults(t *testing.T) {
	script, err := os.ReadFile(checker(t, "axe-core/axe.min.js", "axe-core"))
	require.NoError(t, err)
	page, err := HTML(thin())
	require.NoError(t, err)
	b := startBrowser(t)
	for fault, change := range map[string]*strings.Replacer{
		"html-has-lang":  strings.NewReplacer(`<html lang="en">`, "<html>"),
		"document-title": strings.NewReplacer("<title>", "<title hidden></title><i>", "</title>", "</i>"),
		"color-contrast": strings.NewReplacer("--ink: #20251f", "--ink: #d0d0c8"),
	} {
		b.Open(onDiskAs(t, []byte(change.Replace(string(page)))), 1280, 800)
		b.Call("Runtime.evaluate", map[string]any{"expression": string(script) + ";0"})
		r := b.Call("Runtime.evaluate", map[string]any{"awaitPromise": true, "returnByValue": true, "expression": `axe.run(document).then(r => r.violations.map(v => v.id))`})
		require.Contains(t, r["result"].(map[string]any)["value"], fault)
	}
}

// Outside measure: the Nu HTML checker has no error for any page.
func TestNuChecker(t *testing.T) {
	jar := checker(t, "vnu-jar/build/dist/vnu.jar", "Nu HTML checker")
	java, err := exec.LookPath("java")
	if err != nil {
		without(t, "Java")
	}
	dir := t.TempDir()
	for name, page := range tested(t) {
		require.NoError(t, os.WriteFile(filepath.Join(dir, strings.ReplaceAll(name, " ", "-")+".html"), page, 0o644))
	}
	bad := filepath.Join(dir, "bad.html")
	require.NoError(t, os.WriteFile(bad, []byte("<!DOCTYPE html><html lang=en><title>x</title><img src=x><p id=a><p id=a>"), 0o644))
	cmd := exec.Command(java, "-jar", jar, "--format", "json", "--exit-zero-always", dir)
	var said strings.Builder
	cmd.Stderr = &said
	require.NoError(t, cmd.Run())
	var report struct {
		Messages []struct{ Type, SubType, URL, Message, Extract string }
	}
	require.NoError(t, json.Unmarshal([]byte(said.String()), &report), said.String())
	caught := 0
	for _, m := range report.Messages {
		switch {
		case strings.HasSuffix(m.URL, "bad.html"):
			caught++
		case m.Type == "error" || m.SubType == "fatal":
			t.Errorf("%s: %s: %s", filepath.Base(m.URL), m.Message, m.Extract)
		default:
			t.Logf("%s: %s: %s", filepath.Base(m.URL), m.Type, m.Message)
		}
	}
	require.Greater(t, caught, 1, "the checker finds what is wrong in a bad page")
}
