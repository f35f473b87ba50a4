package report

import (
	"bytes"
	"reflect"
	"strings"
	"testing"

	"footing/internal/result"

	"github.com/stretchr/testify/require"
)

// An id that reads like a name prints nowhere: not in a table, a title or a sentence.
func TestNamesAsIDsStayOut(t *testing.T) {
	names := []string{"Ada Vale", "Ada Vale Quill", "Juno Marsh", "Petra Low", "Tessa Brook", "tessa.brook@example.org", "Rosa Fenn"}
	e := result.Evidence{Kind: "visits", ID: "Petra Low", Field: "person", Value: "Rosa Fenn", File: "visits.csv", Row: 2}
	a := answer()
	a.Asked = result.Asked{Kind: "packs", ID: "Juno Marsh", Words: "pack Juno Marsh of load L-1"}
	a.Says = append(a.Says, "Visit Petra Low of Ada Vale Quill.")
	a.Lookbacks[0].Affected = []result.Affected{
		{Visit: "Petra Low", Client: "Ada Vale", On: "2026-11-03", Person: "Tessa Brook", How: "names pack Juno Marsh of load L-1, by Rosa Fenn", Named: true, Record: e},
		{Visit: "V-2", Client: "Ada Vale Quill", On: "2026-11-04", Person: "tessa.brook@example.org", How: "as Ada Vale Quill told tessa.brook@example.org", Named: true}}
	a.Chains = []result.Chain{{Visit: "Petra Low", Client: "Ada Vale", On: "2026-11-03", Record: e, Links: []result.Link{{Name: "pack", State: result.LinkFound, What: "Juno Marsh", Evidence: []result.Evidence{e, {Kind: "packs", ID: "Juno Marsh"}}}}}}
	before := *a
	page, err := LookbackHTML(a)
	require.NoError(t, err)
	var terminal bytes.Buffer
	LookbackText(&terminal, a, SummaryOptions{Width: 2000})
	d := &result.Draw{Format: result.DrawFormat, AsOf: a.AsOf, Chains: a.Chains, Trail: result.Trail{Of: 1, Drawn: []string{"Petra Low"}}}
	draw, err := DrawHTML(d)
	require.NoError(t, err)
	var drawn bytes.Buffer
	DrawText(&drawn, d, SummaryOptions{Width: 2000})
	for what, text := range map[string]string{"md": string(LookbackMarkdown(a)), "html": string(page), "csv": string(LookbackCSV(a)), "terminal": terminal.String(),
		"draw.md": string(DrawMarkdown(d)), "draw.html": string(draw), "draw": drawn.String()} {
		for _, name := range names {
			require.NotContains(t, strings.ReplaceAll(text, "\\", ""), name, what)
		}
		require.Contains(t, text, "kept out of this report", what)
	}
	require.Equal(t, before, *a, "the document is left as it is")
	require.Len(t, affectedClients(veiled(a).Lookbacks[0].Affected), 2, "two names stay two clients")
	plain := complaintAnswer()
	require.Same(t, plain, veiled(plain), "nothing to mask, nothing copied")
	out := new(result.Answer)
	mapped(reflect.ValueOf(plain).Elem(), reflect.ValueOf(out).Elem(), func(s string) string { return s })
	require.Equal(t, plain, out, "a copy is whole")
}
