package report

import (
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"

	"footing/internal/result"
)

// A workbook's sheets have one checksum: that of the file.
func TestChecksumOfWorkbook(t *testing.T) {
	for _, c := range []struct{ file, encoding, want string }{
		{"records.xlsx, sheet loads", "workbook", "records.xlsx"},
		{"June, sheet 2.XLSX, sheet loads, table at A40", "workbook", "June, sheet 2.XLSX"},
		{"loads.csv", "UTF-8", "loads.csv"},
		{"a.xlsx, sheet b.csv", "UTF-8", "a.xlsx, sheet b.csv"},
	} {
		assert.Equal(t, c.want, onDisk(result.File{File: c.file, Encoding: c.encoding}))
	}
	sum := strings.Repeat("ab", 32)
	r := &result.Result{Format: result.Format, AsOf: "2026-11-24", Intake: []result.File{
		{File: "records.xlsx, sheet loads", SHA256: sum, Kind: "loads", Encoding: "workbook"}, {File: "records.xlsx, sheet tests", SHA256: sum, Kind: "tests", Encoding: "workbook"}}}
	text := string(Markdown(r))
	assert.Equal(t, 1, strings.Count(text, sum+"  records.xlsx\n"))
	assert.Equal(t, 1, strings.Count(text, sum))
}
