package cli

import (
	"fmt"
	"strings"

	"github.com/jedib0t/go-pretty/v6/text"
	"github.com/spf13/cobra"

	glossary "footing/internal/words"
)

func (a *app) explainCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "explain [WORD]",
		Short: "say what a word of the trade, a record, a column or a choice means",
		Long: "explain says in plain words what a word of the trade means, where it is typed, which\n" +
			"checks use it and which texts it rests on. It knows the words of the reports, the\n" +
			"kinds of record, their columns and the choices in them. Without a word it lists\n" +
			"all words.",
		Example: "  footing explain exposure\n  footing explain hold time\n  footing explain outside_indicator\n  footing explain loads\n  footing explain loads.exposure",
		ValidArgsFunction: func(*cobra.Command, []string, string) (known []cobra.Completion, _ cobra.ShellCompDirective) {
			for _, e := range glossary.All() {
				known = append(known, e.Word)
			}
			return known, cobra.ShellCompDirectiveNoFileComp
		},
		RunE: func(_ *cobra.Command, args []string) error {
			if len(args) == 0 {
				a.listWords()
				return nil
			}
			return a.explain(args)
		},
	}
}

// explain takes all that was typed for one word, else each for a word of its own.
func (a *app) explain(args []string) error {
	whole := plain(strings.Join(args, " "))
	known, err := explanation(whole)
	if err != nil {
		return err
	}
	if known != "" {
		_, err := fmt.Fprint(a.out, known)
		return err
	}
	var each []string
	for _, arg := range args {
		one, err := explanation(plain(arg))
		if err != nil {
			return err
		}
		if one == "" {
			return unknownWord(whole)
		}
		each = append(each, one)
	}
	_, err = fmt.Fprint(a.out, strings.Join(each, "\n"))
	return err
}

// unknownWord says so, with the words that are nearest.
func unknownWord(asked string) error {
	if asked == "" {
		return problem("the word is empty", "footing explain lists all words")
	}
	next := "footing explain lists all words"
	if close := nearWords(asked); len(close) > 0 {
		next = "did you mean " + strings.Join(close, ", ") + "? " + next
	}
	return problem(fmt.Sprintf("%q is not explained here", asked), next)
}

// listWords prints all words in columns, to be read downwards.
func (a *app) listWords() {
	var list []string
	widest := 0
	for _, e := range glossary.All() {
		list = append(list, e.Word)
		widest = max(widest, text.StringWidth(e.Word))
	}
	across := max(1, (screen+2)/(widest+2))
	deep := (len(list) + across - 1) / across
	for i := range deep {
		var row []string
		for j := i; j < len(list); j += deep {
			row = append(row, text.Pad(list[j], widest, ' '))
		}
		line(a.out, strings.TrimRight(strings.Join(row, "  "), " "))
	}
	line(a.out, "")
	line(a.out, fmt.Sprintf("%d words; footing explain WORD says what one means, and what a record, a", len(list)))
	line(a.out, "column or a choice is: footing explain loads, footing explain outside_indicator.")
}
