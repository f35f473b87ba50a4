package dev

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"flag"
	"html"
	"image"
	_ "image/png"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"footing/internal/cli"
	"footing/internal/dev/browser"
	"footing/internal/report"
	"footing/internal/result"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
)

var update = flag.Bool("update", false, "make the pictures of the guide again")

// evening is the folder of the guide's pictures, and the day of them.
const (
	evening    = samples + "/thin"
	untidy     = samples + "/messy"
	eveningDay = "2026-11-25"
)

// TestPicturesOfTheGuide makes each picture from a real run, and holds it to what it was
// made from: a picture whose page, workbook or text has changed since is stale. Outside
// measure: Chromium and LibreOffice draw what a reader sees.
func TestPicturesOfTheGuide(t *testing.T) {
	office := outside(t, "soffice", "libreoffice")
	ppm := outside(t, "pdftoppm")
	dir := t.TempDir()
	made := map[string]string{}
	at := filepath.Join(root, "docs", "pictures")
	list := filepath.Join(at, "made-from.json")
	if text, err := os.ReadFile(list); err == nil {
		require.NoError(t, json.Unmarshal(text, &made))
	}
	now := map[string]string{}
	for _, p := range []struct {
		name string
		from func(*testing.T, string) (file string, stable []byte)
		draw func(t *testing.T, from, to string)
	}{
		{"workbook", newWorkbook, func(t *testing.T, from, to string) { drawSheet(t, office, ppm, from, to) }},
		{"proofread", screenOf("proofread", untidy, "--as-of", eveningDay), func(t *testing.T, from, to string) { drawPage(t, from, to, 760, 1000) }},
		{"audit", screenOf("audit", evening, "--as-of", eveningDay, "--out", filepath.Join(dir, "screen")), func(t *testing.T, from, to string) { drawPage(t, from, to, 760, 620) }},
		{"report", reportPage, func(t *testing.T, from, to string) { drawPage(t, from, to, 1100, 900) }},
		{"watch", watchPage, func(t *testing.T, from, to string) { drawPage(t, from, to, 1100, 620) }},
		{"phone", reportPage, func(t *testing.T, from, to string) { drawPage(t, from, to, 375, 800) }},
	} {
		t.Run(p.name, func(t *testing.T) {
			in := filepath.Join(dir, p.name)
			require.NoError(t, os.Mkdir(in, 0o755))
			file, stable := p.from(t, in)
			sum := sha256.Sum256(stable)
			now[p.name] = hex.EncodeToString(sum[:])
			picture := filepath.Join(dir, p.name+".png")
			p.draw(t, file, picture)
			drawn(t, picture)
			kept := filepath.Join(at, p.name+".png")
			if *update {
				data, err := os.ReadFile(picture)
				require.NoError(t, err)
				require.NoError(t, os.WriteFile(kept, data, 0o644))
				return
			}
			drawn(t, kept)
			assert.Equal(t, now[p.name], made[p.name], "%s is stale: go test ./internal/dev -run Pictures -update", kept)
		})
	}
	if *update && !t.Failed() {
		text, err := json.MarshalIndent(now, "", "  ")
		require.NoError(t, err)
		require.NoError(t, os.WriteFile(list, append(text, '\n'), 0o644))
	}
	guide, err := os.ReadFile(filepath.Join(root, "docs", "guide.md"))
	require.NoError(t, err)
	for name := range now {
		assert.True(t, strings.Contains(string(guide), "pictures/"+name+".png"), "the guide does not show %s", name)
	}
}

// outside finds a program that is not ours, or skips; with CI=true it fails.
func outside(t *testing.T, names ...string) string {
	t.Helper()
	for _, name := range names {
		if path, err := exec.LookPath(name); err == nil {
			return path
		}
	}
	if os.Getenv("CI") == "true" {
		t.Fatalf("no %s on this machine, and CI must not leave this out", names[0])
	}
	t.Skipf("no %s on this machine", names[0])
	return ""
}

// run runs a command as main does, and gives what it printed.
func run(t *testing.T, args ...string) (out, errs string) {
	t.Helper()
	var o, e bytes.Buffer
	status := cli.Main(args, strings.NewReader(""), &o, &e)
	require.Less(t, status, cli.CouldNot, "%v: %s", args, e.String())
	return o.String(), e.String()
}

// newWorkbook is the workbook that footing new makes.
func newWorkbook(t *testing.T, dir string) (string, []byte) {
	folder := filepath.Join(dir, "records")
	run(t, "new", folder)
	book := filepath.Join(folder, "records.xlsx")
	data, err := os.ReadFile(book)
	require.NoError(t, err)
	return book, data
}

// screenOf is a page that shows what a command prints, as a terminal does.
func screenOf(args ...string) func(*testing.T, string) (string, []byte) {
	return func(t *testing.T, dir string) (string, []byte) {
		out, _ := run(t, args...)
		here, err := filepath.Abs(filepath.Dir(dir))
		require.NoError(t, err)
		for _, long := range []string{filepath.Join(here, "screen"), evening, untidy} {
			out = strings.ReplaceAll(out, long, "records")
		}
		words := []string{"footing"}
		for i, a := range args {
			if i < 2 {
				words = append(words, strings.NewReplacer(evening, "records", untidy, "records").Replace(a))
			}
		}
		text := "$ " + strings.Join(words, " ") + "\n\n" + out
		page := "<!doctype html><meta charset=utf-8><style>body{margin:0;background:#10181c;color:#e6ecec;padding:18px}pre{margin:0;font:13px/1.45 'DejaVu Sans Mono',monospace;white-space:pre-wrap}</style><pre>" +
			html.EscapeString(text) + "</pre>"
		file := filepath.Join(dir, "screen.html")
		require.NoError(t, os.WriteFile(file, []byte(page), 0o644))
		return file, []byte(page)
	}
}

// reportPage is the report of the evening's folder.
func reportPage(t *testing.T, dir string) (string, []byte) {
	out := filepath.Join(dir, "audit")
	run(t, "audit", evening, "--as-of", eveningDay, "--out", out)
	file := filepath.Join(out, "report.html")
	data, err := os.ReadFile(file)
	require.NoError(t, err)
	return file, data
}

// watchPage is the page of footing watch after a hold was typed again, with what
// changed unfolded; nobody watches here, so it is without its script.
func watchPage(t *testing.T, dir string) (string, []byte) {
	folder := filepath.Join(dir, "records")
	require.NoError(t, os.CopyFS(folder, os.DirFS(evening)))
	read := func(name string) *result.Result {
		out := filepath.Join(dir, name)
		run(t, "audit", folder, "--as-of", eveningDay, "--out", out)
		f, err := os.Open(filepath.Join(out, "audit.json"))
		require.NoError(t, err)
		defer f.Close()
		r, err := result.Read(f)
		require.NoError(t, err)
		return r
	}
	at := filepath.Join(folder, "steriliser log.csv")
	text, err := os.ReadFile(at)
	require.NoError(t, err)
	require.NoError(t, os.WriteFile(at, bytes.ReplaceAll(text, []byte(",134,2.1,3,15,4"), []byte(",134,2.1,2,15,4")), 0o644))
	before := read("before")
	require.NoError(t, os.WriteFile(at, text, 0o644))
	after := read("after")
	page, err := report.HTML(after)
	require.NoError(t, err)
	page, err = report.LiveHTML(page, report.Live{Number: 2, At: "20:14", Before: "20:02", Changes: report.ChangesOf(before, after), Nonce: "picture"})
	require.NoError(t, err)
	page = regexp.MustCompile(`(?s)<script.*?</script>`).ReplaceAll(page, nil)
	page = bytes.Replace(page, []byte("<details"), []byte("<details open"), 1)
	file := filepath.Join(dir, "watch.html")
	require.NoError(t, os.WriteFile(file, page, 0o644))
	return file, page
}

// drawPage takes a picture of a page.
func drawPage(t *testing.T, from, to string, width, height int) {
	t.Helper()
	abs, err := filepath.Abs(from)
	require.NoError(t, err)
	b := browser.Start(t, "the pictures of the guide")
	b.Open("file://"+abs, width, height)
	require.NoError(t, os.WriteFile(to, b.Bytes("Page.captureScreenshot", nil), 0o644))
}

// drawSheet takes a picture of the page of a workbook on which the log of loads is typed.
func drawSheet(t *testing.T, office, ppm, from, to string) {
	t.Helper()
	dir := t.TempDir()
	out, err := exec.Command(office, "-env:UserInstallation=file://"+t.TempDir(), "--headless", "--convert-to", "pdf", "--outdir", dir, from).CombinedOutput()
	require.NoError(t, err, string(out))
	pdf := filepath.Join(dir, strings.TrimSuffix(filepath.Base(from), ".xlsx")+".pdf")
	page := 2 // after the one that says how to begin
	for ; page < 40; page++ {
		text, err := exec.Command(filepath.Join(filepath.Dir(ppm), "pdftotext"), "-f", strconv.Itoa(page), "-l", strconv.Itoa(page), pdf, "-").Output()
		require.NoError(t, err)
		if strings.Contains(string(text), "loads") {
			break
		}
	}
	out, err = exec.Command(ppm, "-png", "-r", "80", "-f", strconv.Itoa(page), "-l", strconv.Itoa(page), "-singlefile", pdf, strings.TrimSuffix(to, ".png")).CombinedOutput()
	require.NoError(t, err, string(out))
}

// drawn holds that a picture can be decoded and is not blank.
func drawn(t *testing.T, path string) {
	t.Helper()
	f, err := os.Open(path)
	require.NoError(t, err)
	defer f.Close()
	picture, _, err := image.Decode(f)
	require.NoError(t, err, path)
	colours := map[any]bool{}
	b := picture.Bounds()
	for y := b.Min.Y; y < b.Max.Y; y += 3 {
		for x := b.Min.X; x < b.Max.X; x += 3 {
			colours[picture.At(x, y)] = true
		}
	}
	assert.Greater(t, len(colours), 20, "%s is blank", path)
}
