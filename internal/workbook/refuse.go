package workbook

import "fmt"

const saveAgain = "open it in the spreadsheet program and save it again under a new name, or take an earlier copy"

// damaged is the refusal of a workbook that does not hold what it should.
func damaged(says string, args ...any) *Refusal {
	return &Refusal{Cause: "damaged", Says: "is damaged: it " + fmt.Sprintf(says, args...), Todo: saveAgain}
}

// refuseDefinitions is about <!DOCTYPE and <!ENTITY: with them a few lines can stand
// for gigabytes, or for a file elsewhere, and no spreadsheet program writes them.
func refuseDefinitions(part string) *Refusal {
	return &Refusal{
		Cause: "definitions",
		Says:  "holds, in its part " + part + ", definitions that no spreadsheet program writes",
		Todo:  "ask where the file comes from; if it is yours, open it in the spreadsheet program and save it again under a new name",
	}
}

func tooLarge(says string, args ...any) *Refusal {
	return &Refusal{Cause: "too large", Says: fmt.Sprintf(says, args...),
		Todo: "ask where the file comes from; if it is yours, save the sheets that hold records as a workbook of their own"}
}

var noSpreadsheet = &Refusal{Cause: "another kind", Says: "holds no spreadsheet",
	Todo: "open it in the program that it comes from and save its tables as a workbook (.xlsx) or as csv"}
