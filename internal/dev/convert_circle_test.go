package dev

import (
	"bytes"
	"context"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"footing/internal/demo"
	"footing/internal/practice"
	"footing/internal/record"
	"footing/internal/result"
)

// circle is every format in turn, back to the first.
var circle = []string{"csv", "xlsx", "json", "yaml", "jsonl", "csv"}

// convert writes the records of a folder in a format, into a new folder.
func convert(t require.TestingT, from, to, format string) *record.Exported {
	require.NoError(t, os.Mkdir(to, 0o755))
	var all practice.Records
	in, err := record.Fill(context.Background(), from, &all, record.Options{Keep: true})
	require.NoError(t, err)
	done, err := in.Export(context.Background(), to, format)
	require.NoError(t, err)
	return done
}

// convertible are the sample practices, by name.
func convertible(t *testing.T) map[string]string {
	t.Helper()
	dirs := map[string]string{"demo": filepath.Join(t.TempDir(), "demo")}
	require.NoError(t, demo.Write(dirs["demo"]))
	for _, name := range []string{"hand-csv", "hand-json", "hand-jsonl", "hand-yaml", "hand-thin", "chain-csv", "chain-thin", "stranger-csv", "stranger-json", "stranger-jsonl", "stranger-yaml",
		"spore-beside-trace", "thin", "thin-clean"} {
		dirs[name] = filepath.Join(samples, name)
	}
	return dirs
}

// placeNamed matches what says where a row stands: the name of a file, with or without a row;
// and what a heading is called.
var placeNamed = regexp.MustCompile(`[a-z_-]+(/[0-9a-z_-]+)*\.(csv|jsonl|json|yaml|yml|xlsx)(, sheet [a-z]+)?(,? row [0-9]+)?(, lines? [0-9]+)?|\brow [0-9]+|\b(column|field) "`)

// cellNamed matches the cell of a workbook that is named after a heading.
var cellNamed = regexp.MustCompile(` \(cell [A-Z]+[0-9]+\)`)

// nowhere takes out where a row stands.
func nowhere(s string) string {
	return placeNamed.ReplaceAllString(cellNamed.ReplaceAllString(s, ""), "FILE")
}

// spoken is what an audit says, without where the rows stand.
func spoken(r *result.Result) (list []string) {
	for _, c := range r.Checks {
		if c.ID == "records/valid" { // it counts by file and column
			list = append(list, c.ID+" "+c.Outcome)
			continue
		}
		list = append(list, fmt.Sprintf("%s %s %+v %s", c.ID, c.Outcome, c.Counts, nowhere(c.Reason)))
	}
	var found []string
	for _, f := range r.Findings {
		s := fmt.Sprintf("%s %s %s", f.Check, f.Grade, nowhere(f.Summary))
		for _, e := range f.Evidence {
			s += fmt.Sprintf(" | %s %s", e.Kind, e.Field) // its value is given as it is written, which is not the same in two formats
		}
		found = append(found, s)
	}
	slices.Sort(found)
	list = append(list, found...)
	return append(list, fmt.Sprintf("%+v", r.Counts))
}

// filesIn is all that lies in a folder.
func filesIn(t require.TestingT, dir string) map[string][]byte {
	all := map[string][]byte{}
	require.NoError(t, filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		b, err := os.ReadFile(path)
		all[strings.TrimPrefix(filepath.ToSlash(path), filepath.ToSlash(dir)+"/")] = b
		return err
	}))
	return all
}

// sameFiles fails where two folders do not hold the same bytes.
func sameFiles(t require.TestingT, want, got map[string][]byte) {
	for name := range want {
		require.Contains(t, got, name)
		if !bytes.Equal(want[name], got[name]) {
			require.Equal(t, string(want[name]), string(got[name]), name)
		}
	}
	require.Len(t, got, len(want))
}

// TestConvertAroundTheCircle: after each step the audit says the same, and a second
// round gives the bytes of the first.
func TestConvertAroundTheCircle(t *testing.T) {
	for name, dir := range convertible(t) {
		t.Run(name, func(t *testing.T) {
			want := spoken(audited(t, dir))
			from, rounds := dir, []map[string][]byte{}
			for round := range 2 {
				for i, format := range circle {
					to := filepath.Join(t.TempDir(), fmt.Sprintf("%d-%d-%s", round, i, format))
					convert(t, from, to, format)
					if diff := cmp.Diff(want, spoken(audited(t, to))); diff != "" && round == 0 {
						t.Fatalf("after %s, step %d:\n%s", format, i+1, diff)
					}
					from = to
				}
				rounds = append(rounds, filesIn(t, from))
			}
			sameFiles(t, rounds[0], rounds[1])
		})
	}
}
