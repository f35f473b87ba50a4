package dev

import (
	"bytes"
	"encoding/json"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/rogpeppe/go-internal/txtar"

	"footing/checks"
	"footing/internal/audit"
	"footing/schemas"
)

// Docs makes the generated pages of docs/, by path below it: a page and an index
// line a check, a page and an index line a record kind, a page on data-logger files, a page of words. root is the checkout,
// whose archives of cases give each check's page its example.
func Docs(root string) (map[string][]byte, error) {
	criteria, err := checks.Criteria()
	if err != nil {
		return nil, err
	}
	pages := map[string][]byte{"checks/README.md": checkIndex(checks.All()), "records/README.md": kindIndex(), "words.md": wordsPage(criteria)}
	for _, c := range checks.All() {
		example, err := example(root, c.ID)
		if err != nil {
			return nil, err
		}
		pages["checks/"+pageName(c.ID)] = checkPage(c, criteria, example)
	}
	for _, name := range schemas.Kinds() {
		k, _ := schemas.Lookup(name)
		pages["records/"+name+".md"] = kindPage(k, checks.All())
	}
	pages["records/buys.md"] = buysPage(checks.All())
	pages["records/traces.md"], err = tracesPage()
	return pages, err
}

const generated = "<!-- generated from the program; change it there: see DEVELOPERS.md -->\n\n"

func pageName(id string) string { return strings.ReplaceAll(id, "/", "-") + ".md" }

func checkIndex(battery []audit.Check) []byte {
	var b bytes.Buffer
	b.WriteString(generated + "# The checks\n\nEach check asks the records one question. The grade is the highest that its findings may have; what the grades mean stands in every report, what other words mean under [words](../words.md).\n\n| check | what is true when it is met | highest grade |\n|---|---|---|\n")
	for _, c := range battery {
		fmt.Fprintf(&b, "| [%s](%s) | %s | %s |\n", c.ID, pageName(c.ID), cell(c.Title), c.Grades[0])
	}
	fmt.Fprintf(&b, "\n%d checks.\n", len(battery))
	return b.Bytes()
}

func checkPage(c audit.Check, criteria *audit.Criteria, example string) []byte {
	var b bytes.Buffer
	fmt.Fprintf(&b, "%s# %s\n\n**%s**\n\n%s\n\n", generated, c.ID, c.Title, c.Why)
	var grades []string
	for _, g := range c.Grades {
		grades = append(grades, g.String())
	}
	fmt.Fprintf(&b, "- Grades: %s\n- Examines: each %s; findings are grouped by %s\n", strings.Join(grades, ", "), c.Thing, kindLink(c.Subject))
	fmt.Fprintf(&b, "- Needs: %s\n- Sharper with: %s\n\n", nameLinks(c.Needs), nameLinks(c.Helps))
	if len(c.Uses) > 0 {
		b.WriteString("## Criteria\n\n| criterion | rule set | when | value | source | known |\n|---|---|---|---|---|---|\n")
		for _, id := range c.Uses {
			if elsewhere(c.ID, id) != "" {
				continue
			}
			for _, v := range criteria.Values(id) {
				s, _ := criteria.Source(v.Source)
				from := strings.Join(present(s.Title, s.Body, s.Edition, s.Year, v.Section), ", ")
				fmt.Fprintf(&b, "| `%s` | %s | %s | %s | %s | %s |\n", id, v.Set, cell(v.When.String()), cell(v.Value()), cell(from), v.Known)
			}
		}
		b.WriteString("\n")
		for _, id := range c.Uses {
			fmt.Fprintf(&b, "- `%s`: %s%s\n", id, criteria.Values(id)[0].Text, elsewhere(c.ID, id))
		}
		b.WriteString("\n")
	}
	if example != "" {
		fmt.Fprintf(&b, "## What a finding says\n\n> %s\n\n", example)
	}
	b.WriteString("## What to do when it is not met\n\n")
	for i, step := range c.Fix {
		fmt.Fprintf(&b, "%d. %s\n", i+1, step)
	}
	fmt.Fprintf(&b, "\nShown to have worked by: %s\n\nYour regulator's own rules, the maker's instructions and licensed practice come first.\n", c.Verify)
	return b.Bytes()
}

// elsewhere sends the reader to the page of the check after which a criterion is
// named, where its values stand; "" on that page, and for any other criterion.
func elsewhere(check, criterion string) string {
	owner := strings.Replace(criterion, ".", "/", 1)
	if owner == check || !slices.ContainsFunc(checks.All(), func(c audit.Check) bool { return c.ID == owner }) {
		return ""
	}
	return fmt.Sprintf("; its values stand with [%s](%s)", owner, pageName(owner))
}

// example is the first finding in the check's archive of cases.
func example(root, id string) (string, error) {
	archive, err := txtar.ParseFile(filepath.Join(root, "testdata", "checks", filepath.FromSlash(id)+".txtar"))
	if os.IsNotExist(err) {
		return "", nil
	}
	if err != nil {
		return "", err
	}
	for _, f := range archive.Files {
		if !strings.HasSuffix(f.Name, "/want") {
			continue
		}
		for line := range strings.Lines(string(f.Data)) {
			for _, grade := range []string{"critical", "major", "minor", "observation"} {
				if parts := strings.SplitN(line, ": ", 4); len(parts) == 4 && parts[0] == grade {
					return fmt.Sprintf("%s, %s: %s", grade, parts[2], strings.TrimSpace(parts[3])), nil
				}
			}
		}
	}
	return "", nil
}

func kindIndex() []byte {
	var b bytes.Buffer
	b.WriteString(generated + "# The record kinds\n\nA kind is read from a file named after it (`loads.csv`, `.json`, `.jsonl`, `.yaml`), or from every such file in a folder named after it. Everything but `practice` is optional. How values are written stands in the [guide](../guide.md); what words mean, under [words](../words.md).\n\n| kind | what it is | also called |\n|---|---|---|\n")
	for _, name := range schemas.Kinds() {
		k, _ := schemas.Lookup(name)
		fmt.Fprintf(&b, "| [%s](%s.md) | %s | %s |\n", name, name, cell(k.Description), cell(strings.Join(k.Synonyms, ", ")))
	}
	b.WriteString("\nThe files of a sterilizer's data logger are no rows: [how they are read](traces.md).\n")
	return b.Bytes()
}

func kindPage(k *schemas.Kind, battery []audit.Check) []byte {
	var b bytes.Buffer
	fmt.Fprintf(&b, "%s# %s\n\n%s\n\n", generated, k.Name, k.Description)
	if len(k.Synonyms) > 0 {
		fmt.Fprintf(&b, "Also read from files called: %s.\n\n", strings.Join(k.Synonyms, ", "))
	}
	fmt.Fprintf(&b, "Read by %s.\n\n", readers(k.Name, battery))
	b.WriteString("Words are explained under [words](../words.md). A heading may be the field's name or any of the words beside it, in any case, with or without spaces and hyphens. `*` marks a field without which a row is set aside; all others may be left empty, which means \"not written\".\n\n| field | what it is | how it is written | headings also read |\n|---|---|---|---|\n")
	for _, f := range k.Fields {
		star := ""
		if f.Required {
			star = "*"
		}
		fmt.Fprintf(&b, "| `%s`%s | %s | %s | %s |\n", f.Name, star, cell(f.Description), cell(written(f)), cell(strings.Join(f.Synonyms, ", ")))
	}
	b.WriteString("\n## Rows as they may be written\n\n")
	for _, e := range k.Examples {
		var out bytes.Buffer
		if json.Indent(&out, e, "", "  ") == nil {
			fmt.Fprintf(&b, "```json\n%s\n```\n\n", out.String())
		}
	}
	return b.Bytes()
}

// readers lists the checks that need a kind or are sharper with it.
func readers(kind string, battery []audit.Check) string {
	var links []string
	for _, c := range battery {
		for _, name := range slices.Concat(c.Needs, c.Helps) {
			if of, _, _ := strings.Cut(name, "."); of == kind {
				links = append(links, fmt.Sprintf("[%s](../checks/%s)", c.ID, pageName(c.ID)))
				break
			}
		}
	}
	switch {
	case kind == "practice" || kind == "rules":
		return "every check"
	case len(links) == 0:
		return "no check of this version; its rows are read, held against their schema and followed where they are named"
	}
	return strings.Join(links, ", ")
}

// written says in words how a field's value looks.
func written(f *schemas.Field) string {
	text := string(f.Form)
	switch f.Form {
	case "choice":
		text = "one of: " + strings.Join(f.Choices, ", ") + alsoRead(f)
	case "list":
		text = "list"
		if len(f.Choices) > 0 {
			text += " of: " + strings.Join(f.Choices, ", ") + alsoRead(f)
		}
	case "ref":
		text = "id"
	case "objects":
		text = "list of entries (JSON or YAML)"
	case "object":
		text = "entry with names and values (JSON or YAML)"
	}
	if f.All {
		text += "; or all"
	}
	if len(f.Refers) > 0 {
		text += " (of " + strings.Join(f.Refers, " or ") + ")"
	}
	if len(f.Examples) > 0 {
		if e, err := json.Marshal(f.Examples[0]); err == nil {
			text += ", such as " + strings.Trim(string(e), `"`)
		}
	}
	return text
}

// alsoRead lists the other words that are read as a choice.
func alsoRead(f *schemas.Field) string {
	if len(f.ChoiceSynonyms) == 0 {
		return ""
	}
	byChoice := map[string][]string{}
	for word, choice := range f.ChoiceSynonyms {
		byChoice[choice] = append(byChoice[choice], word)
	}
	var parts []string
	for _, choice := range slices.Sorted(maps.Keys(byChoice)) {
		slices.Sort(byChoice[choice])
		parts = append(parts, choice+" is also read from "+strings.Join(byChoice[choice], ", "))
	}
	return " (" + strings.Join(parts, "; ") + ")"
}

func nameLinks(names []string) string {
	if len(names) == 0 {
		return "nothing in particular"
	}
	var links []string
	for _, n := range names {
		links = append(links, kindLink(n))
	}
	return strings.Join(links, ", ")
}

// kindLink links a kind, or kind.field, to the kind's page.
func kindLink(name string) string {
	kind, _, _ := strings.Cut(name, ".")
	if _, ok := schemas.Lookup(kind); !ok {
		return name
	}
	return fmt.Sprintf("[%s](../records/%s.md)", name, kind)
}

func present(words ...string) (some []string) {
	for _, w := range words {
		if w != "" {
			some = append(some, w)
		}
	}
	return some
}

// cell makes text fit for a table cell.
func cell(s string) string {
	return strings.ReplaceAll(strings.Join(strings.Fields(s), " "), "|", "\\|")
}
