package dev

import (
	"fmt"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"footing/internal/result"
)

// Folders typed row by row from the docs alone, in each format, by someone who knew
// nothing else of the program: each planted fault is found at its row, line and
// character, and all formats say the same.
func TestFoldersTypedByHand(t *testing.T) {
	found := map[string]*result.Result{}
	for _, format := range []string{"csv", "json", "jsonl", "yaml"} {
		found[format] = audited(t, samples+"/hand-"+format)
	}
	planted := 0
	for _, f := range csvRows(t, samples+"/hand-faults.csv")[1:] {
		format, file, place, field, check, grade := f[0], f[1], f[2]+" "+f[3]+":"+f[4], f[5], f[6], f[7]
		assert.True(t, standsAt(found[format], check, grade, file, field, place), "%s: %s %s %s not found at %s", format, check, file, field, place)
		planted++
	}
	require.Equal(t, 28, planted)
	for format, r := range found {
		assert.Equal(t, said(found["csv"]), said(r), format)
		assert.Len(t, nonconformities(r), 7, "%s: the planted ones and no other", format)
	}
}

func standsAt(r *result.Result, check, grade, file, field, place string) bool {
	for _, f := range r.Findings {
		for _, e := range f.Evidence {
			if f.Check == check && f.Grade == grade && e.File == file && e.Field == field && fmt.Sprintf("%d %d:%d", e.Row, e.Line, e.Column) == place {
				return true
			}
		}
	}
	return false
}

func said(r *result.Result) (list []string) {
	for _, f := range r.Findings {
		list = append(list, f.Fingerprint+" "+f.Grade+" "+f.Summary)
	}
	return list
}

// A thin, honest folder typed by the same hand: every row accepted, nothing to be alarmed at.
func TestThinFolderTypedByHand(t *testing.T) {
	r := audited(t, samples+"/hand-thin")
	assert.Empty(t, nonconformities(r))
	assert.Zero(t, r.Counts.SetAside)
	assert.False(t, r.Conclusion.Stop)
	assert.NotNil(t, r.NextField)
}
