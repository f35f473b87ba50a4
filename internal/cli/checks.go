package cli

import (
	"fmt"
	"io"
	"strings"

	"github.com/jedib0t/go-pretty/v6/text"
	"github.com/spf13/cobra"

	"footing/checks"
	"footing/internal/audit"
)

const screen = 80

func (a *app) checksCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "checks [ID]",
		Short: "list the checks, or show one in full with its criteria and sources",
		Long: "checks lists the checks, each with the highest grade that it may give. With the ID of\n" +
			"one it shows what that looks at, what it needs, and the texts that it rests on.",
		Example: "  footing checks\n  footing checks cycles/exposure",
		Args:    atMost(1, "one ID at most", "footing checks lists them all"),
		ValidArgsFunction: func(*cobra.Command, []string, string) (ids []cobra.Completion, _ cobra.ShellCompDirective) {
			for _, c := range checks.All() {
				ids = append(ids, c.ID)
			}
			return ids, cobra.ShellCompDirectiveNoFileComp
		},
		RunE: func(_ *cobra.Command, args []string) error {
			criteria, err := checks.Criteria()
			if err != nil {
				return err
			}
			if len(args) == 0 {
				listChecks(a.out, checks.All())
				return nil
			}
			for _, c := range checks.All() {
				if c.ID == args[0] {
					showCheck(a.out, c, criteria)
					return nil
				}
			}
			return problem(fmt.Sprintf("there is no check %s", args[0]), "footing checks lists them all")
		},
	}
}

func listChecks(w io.Writer, battery []audit.Check) {
	family := ""
	for _, c := range battery {
		if c.Family() != family {
			if family != "" {
				line(w, "")
			}
			family = c.Family()
		}
		line(w, fmt.Sprintf("%-28s %s", c.ID, c.Grades[0]))
		line(w, indented(c.Title, "    "))
	}
	line(w, "")
	line(w, fmt.Sprintf("%d checks; the word beside each is the highest grade it may give.", len(battery)))
	line(w, "footing checks ID shows one in full.")
	line(w, indented("Rule sets that practice.rule_set can name: "+strings.Join(audit.Sets(), ", ")+".", ""))
}

// showCheck prints one check whole.
func showCheck(w io.Writer, c audit.Check, criteria *audit.Criteria) {
	var grades []string
	for _, g := range c.Grades {
		grades = append(grades, g.String())
	}
	line(w, c.ID)
	line(w, indented(c.Title, "  "))
	line(w, "")
	line(w, indented(c.Why, "  "))
	line(w, "")
	line(w, indented("Grades: "+strings.Join(grades, ", "), "  "))
	line(w, indented("Examines: each "+c.Thing, "  "))
	line(w, indented("Needs: "+orNone(c.Needs), "  "))
	line(w, indented("Sharper with: "+orNone(c.Helps), "  "))
	if len(c.Uses) > 0 {
		line(w, "")
		line(w, "Criteria")
	}
	for _, id := range c.Uses {
		line(w, "  "+id)
		for _, v := range criteria.Values(id) {
			showValue(w, v, criteria)
		}
	}
	line(w, "")
	line(w, "What to do when it is not met")
	for i, step := range c.Fix {
		line(w, indented(fmt.Sprintf("%d. %s", i+1, step), "  "))
	}
	line(w, indented("Shown to have worked by: "+c.Verify, "  "))
}

func showValue(w io.Writer, v audit.Criterion, criteria *audit.Criteria) {
	when := ""
	if len(v.When) > 0 {
		when = " (" + v.When.String() + ")"
	}
	source, _ := criteria.Source(v.Source)
	from := source.Title
	if source.Body != "" {
		from += ", " + source.Body
	}
	if source.Year != "" {
		from += ", " + source.Year
	}
	if v.Section != "" {
		from += ", " + v.Section
	}
	line(w, indented(fmt.Sprintf("%s%s: %s. %s; %s.", v.Set, when, v.Value(), from, v.Known), "    "))
}

func orNone(list []string) string {
	if len(list) == 0 {
		return "nothing in particular"
	}
	return strings.Join(list, ", ")
}

// indented wraps a paragraph to the screen with every line indented.
func indented(paragraph, indent string) string {
	lines := strings.Split(text.WrapSoft(paragraph, screen-len(indent)), "\n")
	for i := range lines {
		lines[i] = indent + strings.TrimRight(lines[i], " ")
	}
	return strings.Join(lines, "\n")
}
