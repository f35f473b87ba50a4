package cli

import (
	"errors"
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"footing/checks"
	"footing/internal/audit"
	"footing/internal/practice"
	"footing/internal/result"
)

// occasions are what a report can be asked to open with.
var occasions = []string{result.Renewal, result.Inspection, result.Complaint}

// forFlags say what the report is made for.
type forFlags struct{ occasion, complaint string }

func (o *forFlags) register(cmd *cobra.Command) {
	f := cmd.Flags()
	f.StringVar(&o.occasion, "for", "", "open the report with this `OCCASION`: "+strings.Join(occasions, ", ")+"; the findings stay the same")
	f.StringVar(&o.complaint, "complaint", "", "with --for complaint: the complaint `ID`, as its row has it")
}

// ask is the occasion that the flags name, before any record is read.
func (o *forFlags) ask() (audit.Occasion, error) {
	kind, id := strings.ToLower(strings.TrimSpace(o.occasion)), strings.TrimSpace(o.complaint)
	ask := audit.Occasion{Kind: kind, Complaint: id, Check: checks.TrailCheck()}
	switch {
	case kind == "" && id != "":
		return ask, problem("--complaint goes with --for complaint, and that was not given", "footing audit FOLDER --for complaint --complaint "+plain(id))
	case kind == "":
		return audit.Occasion{}, nil
	case kind == result.Complaint && id == "":
		return ask, problem("--for complaint needs the complaint it is about", "name its row with --complaint ID, the id as it stands in complaints")
	case kind != result.Complaint && id != "":
		return ask, problem("--complaint goes with --for complaint, and --for "+plain(kind)+" was given", "leave --complaint out, or write --for complaint")
	case kind == result.Complaint:
		ask.Bundle = func(x *audit.Examination) (audit.Answer, error) {
			return checks.Lookback(x, checks.LookbackQuestion{Kind: "complaints", ID: id})
		}
	case kind == result.Inspection:
		ask.Walks = checks.TrailWalks
	case kind != result.Renewal:
		return ask, problem("--for "+plain(o.occasion)+" is no occasion that the report can open with", "write one of "+strings.Join(occasions, ", "))
	}
	return ask, nil
}

// asksOf is why the records of a practice have no answer for an occasion; nil where
// they may have one.
func asksOf(p *practice.Practice, ask *audit.Occasion) error {
	if ask.Kind != result.Complaint || !unknown(p, "complaints", ask.Complaint) {
		return nil
	}
	if len(idsOf(p, "complaints")) == 0 {
		return problem(fmt.Sprintf("there is no complaint %s: no row of complaints is typed in the folder", plain(ask.Complaint)),
			"type a row for the letter (id, received_on, client, subject) into a file complaints.csv, keep the letter as it is, then ask again")
	}
	return noSuch(p, &checks.LookbackRefusal{Kind: "complaints", ID: ask.Complaint})
}

// occasionSays puts the error of an occasion into words with the thing to do.
func occasionSays(p *practice.Practice, err error) error {
	var date *audit.NoDate
	var no *checks.LookbackRefusal
	switch {
	case errors.As(err, &date) && date.On.Written():
		return problem(date.Error(), "write the day of the next renewal there as "+date.Field+"; for a report as of an earlier day use --as-of")
	case errors.As(err, &date):
		return problem(date.Error()+", so what runs out before it cannot be told", "write the day by which you renew into practice.yaml, as "+date.Field+": 2027-01-06")
	case errors.As(err, &no):
		return noSuch(p, no)
	}
	return err
}
