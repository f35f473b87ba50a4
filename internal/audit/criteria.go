package audit

import (
	"cmp"
	"fmt"
	"io/fs"
	"math"
	"path"
	"slices"
	"strconv"
	"strings"

	"go.yaml.in/yaml/v4"

	"footing/internal/quantity"
	"footing/internal/result"
)

// Criteria is every shipped criterion and the sources they rest on.
type Criteria struct {
	byID    map[string]*criterion
	sources map[string]result.Source
}

// criterion is one id with its value under each rule set and circumstance.
type criterion struct {
	id, form, stricter, text string
	values                   []Criterion
}

// Rule sets, in the order in which they are asked. The foot-care list holds
// where a chosen set is silent.
const (
	Baseline = "cdc-2008"
	FootCare = "foot-care"
)

var setOrder = []string{Baseline, "uk-practice", "racgp-2023", "common-practice", FootCare}

type criterionFile struct {
	ID       string `yaml:"id"`
	As       string `yaml:"as"`
	Stricter string `yaml:"stricter"`
	Text     string `yaml:"text"`
	Values   []struct {
		Set     string            `yaml:"set"`
		When    map[string]string `yaml:"when"`
		Value   yaml.Node         `yaml:"value"`
		Table   []stepFile        `yaml:"table"`
		Source  string            `yaml:"source"`
		Section string            `yaml:"section"`
		Level   string            `yaml:"level"`
		Known   string            `yaml:"known"`
	} `yaml:"values"`
}

type stepFile struct {
	At    string `yaml:"at"`
	Value string `yaml:"value"`
}

// ParseCriteria reads every *.yaml of fsys: sources.yaml, and files of criteria.
// Any slip in them is an error that names the file and the criterion.
func ParseCriteria(fsys fs.FS) (*Criteria, error) {
	book := &Criteria{byID: map[string]*criterion{}, sources: map[string]result.Source{}}
	names, err := fs.Glob(fsys, "*.yaml")
	if err != nil {
		return nil, err
	}
	for _, name := range names {
		if path.Base(name) == "sources.yaml" {
			if err := book.readSources(fsys, name); err != nil {
				return nil, fmt.Errorf("%s: %w", name, err)
			}
		}
	}
	for _, name := range names {
		if path.Base(name) == "sources.yaml" {
			continue
		}
		if err := book.readCriteria(fsys, name); err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
	}
	return book, nil
}

func decodeStrict(fsys fs.FS, name string, into any) error {
	data, err := fs.ReadFile(fsys, name)
	if err != nil {
		return err
	}
	return yaml.Load(data, into, yaml.WithKnownFields())
}

func (b *Criteria) readSources(fsys fs.FS, name string) error {
	var list []struct {
		ID, Title, Body, Edition, Year, Kind, Read string
	}
	if err := decodeStrict(fsys, name, &list); err != nil {
		return err
	}
	for _, s := range list {
		if s.ID == "" || s.Title == "" || s.Kind != "published" && s.Kind != "common practice" {
			return fmt.Errorf("source %q needs an id, a title and a kind (published or common practice)", s.ID)
		}
		if _, twice := b.sources[s.ID]; twice {
			return fmt.Errorf("source %q stands twice", s.ID)
		}
		b.sources[s.ID] = result.Source(s)
	}
	return nil
}

func (b *Criteria) readCriteria(fsys fs.FS, name string) error {
	var list []criterionFile
	if err := decodeStrict(fsys, name, &list); err != nil {
		return err
	}
	for _, f := range list {
		c, err := b.criterion(f)
		if err != nil {
			return fmt.Errorf("criterion %q: %w", f.ID, err)
		}
		if _, twice := b.byID[f.ID]; twice {
			return fmt.Errorf("criterion %q stands twice", f.ID)
		}
		b.byID[f.ID] = c
	}
	return nil
}

func (b *Criteria) criterion(f criterionFile) (*criterion, error) {
	if !slices.Contains([]string{"higher", "lower", "superset", "none"}, f.Stricter) || f.Text == "" || f.ID == "" {
		return nil, fmt.Errorf("id, text and stricter (higher, lower, superset or none) are all needed")
	}
	c := &criterion{id: f.ID, form: f.As, stricter: f.Stricter, text: f.Text}
	for _, v := range f.Values {
		if _, ok := b.sources[v.Source]; !ok {
			return nil, fmt.Errorf("names a source %q that sources.yaml does not have", v.Source)
		}
		if !slices.Contains(setOrder, v.Set) {
			return nil, fmt.Errorf("names a rule set %q that is not shipped", v.Set)
		}
		if v.Level != "must" && v.Level != "should" || !slices.Contains([]string{"read", "computed", "memory"}, v.Known) {
			return nil, fmt.Errorf("level is must or should; known is read, computed or memory")
		}
		val, err := shippedValue(f.As, &v.Value, v.Table)
		if err != nil {
			return nil, err
		}
		c.values = append(c.values, Criterion{ID: f.ID, Set: v.Set, When: v.When, Level: v.Level, Known: v.Known,
			Source: v.Source, Section: v.Section, Text: f.Text, Stricter: f.Stricter, value: val})
	}
	if len(c.values) == 0 {
		return nil, fmt.Errorf("has no value")
	}
	slices.SortStableFunc(c.values, func(a, b Criterion) int {
		return cmp.Or(cmp.Compare(slices.Index(setOrder, a.Set), slices.Index(setOrder, b.Set)), cmp.Compare(len(b.When), len(a.When)))
	})
	return c, nil
}

func shippedValue(form string, node *yaml.Node, table []stepFile) (value, error) {
	if form == "table" {
		v := value{form: form}
		for _, s := range table {
			step, err := parseStep(s.At, s.Value)
			if err != nil {
				return v, err
			}
			v.table = append(v.table, step)
		}
		return v, v.sortTable()
	}
	if form == "list" {
		v := value{form: form}
		return v, node.Decode(&v.items)
	}
	return parseValue(form, node.Value)
}

// parseValue reads one value of a form as a person writes it.
func parseValue(form, text string) (v value, err error) {
	v.form = form
	text = strings.TrimSpace(text)
	switch form {
	case "span":
		v.quantity, err = quantity.Parse(text, quantity.Span, quantity.Fallback{})
	case "limit":
		err = v.limit(text)
	case "temperature":
		v.quantity, err = quantity.Parse(text, quantity.Temperature, quantity.Fallback{})
	case "difference":
		v.quantity, err = quantity.Parse(text, quantity.Difference, quantity.Fallback{})
	case "percent":
		v.quantity, err = quantity.Parse(text, quantity.Percent, quantity.Fallback{})
	case "length":
		v.quantity, err = quantity.Parse(text, quantity.Length, quantity.Fallback{})
	case "number":
		if v.number, err = strconv.ParseFloat(strings.Replace(text, ",", ".", 1), 64); err != nil || !(v.number >= 0) || math.IsInf(v.number, 0) {
			err = fmt.Errorf("%q is not a number; write it in digits alone", text)
		}
	case "yes-no":
		var yes quantity.YesNo
		yes, err = quantity.ParseYesNo(text)
		v.yes = yes == quantity.IsYes
	case "list":
		v.items = splitList(text)
	case "table":
		for _, part := range strings.FieldsFunc(text, func(r rune) bool { return r == ';' || r == '|' }) {
			at, amount, ok := strings.Cut(part, "=")
			if !ok {
				return v, fmt.Errorf("%q: write each row as temperature = time, rows apart by semicolons: 121 °C = 30 min; 134 °C = 3 min", text)
			}
			s, err := parseStep(at, amount)
			if err != nil {
				return v, err
			}
			v.table = append(v.table, s)
		}
		err = v.sortTable()
	default:
		err = fmt.Errorf("%q is no form of value", form)
	}
	return v, err
}

// limit reads a span, or one of the words for none and for the day itself.
func (v *value) limit(text string) (err error) {
	v.text = text
	switch word := strings.ToLower(strings.Join(strings.Fields(text), " ")); word {
	case "no limit", "while intact":
		v.text, v.endless = word, true
	case "same day":
		v.text, v.quantity = word, quantity.Exact(0, quantity.DayU)
	default:
		v.quantity, err = quantity.Parse(text, quantity.Span, quantity.Fallback{})
	}
	if err != nil {
		return fmt.Errorf("%w; a limit may also be written same day, while intact or no limit", err)
	}
	return nil
}

func parseStep(at, amount string) (s step, err error) {
	if s.at, err = quantity.Parse(strings.TrimSpace(at), quantity.Temperature, quantity.Fallback{}); err != nil {
		return s, err
	}
	s.value, err = quantity.Parse(strings.TrimSpace(amount), quantity.Span, quantity.Fallback{})
	return s, err
}

func (v *value) sortTable() error {
	if len(v.table) == 0 {
		return fmt.Errorf("the table has no rows")
	}
	slices.SortFunc(v.table, func(a, b step) int { return cmp.Compare(a.at.In(quantity.Celsius), b.at.In(quantity.Celsius)) })
	return nil
}

func splitList(text string) []string {
	var items []string
	for _, part := range strings.FieldsFunc(text, func(r rune) bool { return r == ';' || r == '|' }) {
		if part = strings.TrimSpace(part); part != "" {
			items = append(items, part)
		}
	}
	return items
}

func (b *Criteria) has(id string) bool { return b.byID[id] != nil }

// IDs are the criteria, sorted.
func (b *Criteria) IDs() []string {
	ids := make([]string, 0, len(b.byID))
	for id := range b.byID {
		ids = append(ids, id)
	}
	slices.Sort(ids)
	return ids
}

// Values are the shipped values of one criterion, in the order of rule sets.
func (b *Criteria) Values(id string) []Criterion {
	if c := b.byID[id]; c != nil {
		return slices.Clone(c.values)
	}
	return nil
}

// Source is a source by its id; false for a practice's own.
func (b *Criteria) Source(id string) (result.Source, bool) { s, ok := b.sources[id]; return s, ok }

// Sets are the rule sets that are shipped.
func Sets() []string { return slices.Clone(setOrder) }
