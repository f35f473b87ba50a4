package dev

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"footing/internal/practice"
	"footing/internal/record"
)

// The workbook of a person who never read a manual: what is read of it, and what is said.
// The workbook itself stands in testdata, so that it can be opened and looked at.
func TestMessyWorkbook(t *testing.T) {
	const dir = samples + "/messy"
	if *update {
		require.NoError(t, os.MkdirAll(dir, 0o755))
		messyBook(t, filepath.Join(dir, "records.xlsx"))
	}
	p := read(t, dir)
	got := saidOf(p)
	if *update {
		require.NoError(t, os.WriteFile(samples+"/messy-said.txt", []byte(got), 0o644))
	}
	want, err := os.ReadFile(samples + "/messy-said.txt")
	require.NoError(t, err)
	assert.Equal(t, string(want), got)
	again := t.TempDir()
	messyBook(t, filepath.Join(again, "records.xlsx"))
	fresh := read(t, again)
	assert.Equal(t, got, strings.ReplaceAll(saidOf(fresh), "\r", ""), "the workbook in testdata is not the one that is made")
	for _, f := range p.Intake.Files {
		assert.Equal(t, f.Rows, f.Accepted+f.SetAside, f.Name)
	}
}

// Outside measure: LibreOffice opens the workbook and saves it again; the same is read and said.
func TestMessyWorkbookThroughLibreOffice(t *testing.T) {
	office, err := exec.LookPath("soffice")
	if err != nil {
		t.Skip("LibreOffice is not installed")
	}
	dir := t.TempDir()
	cmd := exec.Command(office, "-env:UserInstallation=file://"+filepath.ToSlash(t.TempDir()), "--headless", "--convert-to", "xlsx", "--outdir", dir, samples+"/messy/records.xlsx")
	text, err := cmd.CombinedOutput()
	require.NoError(t, err, "%s", text)
	want, err := os.ReadFile(samples + "/messy-said.txt")
	require.NoError(t, err)
	assert.Equal(t, string(want), saidOf(read(t, dir)))
}

func saidOf(p *practice.Practice) string {
	var b bytes.Buffer
	b.WriteString("What is read\n\n")
	for _, f := range p.Intake.Files {
		fmt.Fprintf(&b, "%s: %s, %d rows = %d accepted + %d set aside\n", f.Name, f.Kind, f.Rows, f.Accepted, f.SetAside)
		for _, h := range f.Headings {
			fmt.Fprintf(&b, "    %q as %s\n", h.Written, h.Field)
		}
	}
	b.WriteString("\nThe rows\n\n")
	for i := range p.Loads {
		l := &p.Loads[i]
		fmt.Fprintf(&b, "%s: %s, cycle %g, %s for %s, outside %s, inside %s, %s (temperature in cell %s)\n", l.Label(), l.Started, l.Counter.Value, l.Temperature, l.Exposure, l.OutsideIndicator, l.InsideIndicator, l.Decision, l.Place("temperature").Cell)
	}
	for i := range p.Tests {
		fmt.Fprintf(&b, "%s: %s %s %s\n", p.Tests[i].Label(), p.Tests[i].RunAt, p.Tests[i].Text("kind"), p.Tests[i].Result)
	}
	for i := range p.Visits {
		fmt.Fprintf(&b, "%s: %s %s %s\n", p.Visits[i].Label(), p.Visits[i].Client, p.Visits[i].Started, p.Visits[i].Procedures.Items)
	}
	for i := range p.People {
		fmt.Fprintf(&b, "%s: %s since %s\n", p.People[i].Label(), p.People[i].Role, p.People[i].StartedOn)
	}
	fmt.Fprintf(&b, "%s: %s at %s, renewal %s\n", p.Profile.Label(), p.Profile.Name, p.Profile.Altitude, p.Profile.RenewalOn)
	for effect, title := range []string{record.FileRefused: "Not read", record.SetAside: "Set aside", record.Dropped: "Counts as not written", record.Noted: "Noted, nothing lost"} {
		fmt.Fprintf(&b, "\n%s\n\n", title)
		for _, q := range p.Intake.Problems {
			if q.Effect == record.Effect(effect) {
				fmt.Fprintf(&b, "- %s\n", q.Sentence)
			}
		}
	}
	b.WriteString("\nOther sheets\n\n")
	for _, n := range p.Intake.NotRead {
		fmt.Fprintf(&b, "- %s: %s\n", n.Name, n.Why)
	}
	return b.String()
}
