package cli

import (
	"fmt"
	"slices"

	"footing/internal/practice"
	"footing/internal/record"
)

// unused says what of a folder is in no figure of a look-back or a draw, since it could
// not be read: a failure may reach just that.
func unused(p *practice.Practice) (lines []string) {
	var refused []string
	for _, b := range p.Intake.Problems {
		if b.Effect == record.FileRefused && !slices.Contains(refused, b.File) {
			refused = append(refused, b.File)
			lines = append(lines, fmt.Sprintf("The file %s could not be read, or not to its end: footing audit says why. What stands there is in no figure here.", plain(b.File)))
		}
	}
	for _, f := range p.Intake.Files {
		switch {
		case slices.Contains(refused, f.Name):
		case f.SetAside == 1:
			lines = append(lines, fmt.Sprintf("1 row of %s could not be used and is in no figure here: footing audit says which and why.", plain(f.Name)))
		case f.SetAside > 1:
			lines = append(lines, fmt.Sprintf("%d rows of %s could not be used and are in no figure here: footing audit says which and why.", f.SetAside, plain(f.Name)))
		}
	}
	return lines
}
