package result

import (
	"cmp"
	"reflect"
	"slices"
	"strings"

	"footing/schemas"
)

// leftOut stands for a value that a copy does not hold.
const leftOut = "left out of this copy"

// rewrite replaces, leaves out and hides, struct by struct.
func (s *sharer) rewrite(v reflect.Value) {
	eachStruct(v, s.tells)
	eachStruct(v, func(st reflect.Value) {
		switch e := st.Addr().Interface().(type) {
		case *Evidence:
			s.evidence(e)
			return
		case *Due:
			s.due(e)
			return
		case *Exhibit:
			s.exhibit(e)
			return
		}
		for i := range st.NumField() {
			s.field(st, i)
		}
		if g, ok := st.Addr().Interface().(*Gear); ok {
			slices.Sort(g.People)
		}
	})
	// Inner structs are seen after their outer one, so lists of evidence are put in order last.
	eachStruct(v, func(st reflect.Value) {
		if f := st.FieldByName("Evidence"); f.IsValid() {
			shuffled(f.Interface().([]Evidence))
		}
	})
}

// tells notes the fingerprints that were made from an id that is replaced.
func (s *sharer) tells(st reflect.Value) {
	of := func(subject Subject, matter, fingerprint string) {
		if s.id(subject.Kind, subject.ID) != subject.ID || s.spoken(matter) != matter {
			s.marks[fingerprint] = true
		}
	}
	switch e := st.Addr().Interface().(type) {
	case *Finding:
		of(e.Subject, e.Matter, e.Fingerprint)
	case *Gone:
		of(e.Subject, "", e.Finding)
	}
}

func (s *sharer) field(st reflect.Value, i int) {
	owner, name, f := st.Type().Name(), st.Type().Field(i).Name, st.Field(i)
	change := func(text string) string { return s.text(text, treated(owner, name)) }
	if kind, ok := idKind(st, name); ok {
		change = func(id string) string { return s.id(kind, id) }
	}
	switch {
	case markFields[owner+"."+name]:
		change = s.finding
	case owner == "Rule" && name == "When":
		change = s.granted
	}
	switch f.Kind() {
	case reflect.String:
		f.SetString(change(f.String()))
	case reflect.Slice:
		if f.Type().Elem().Kind() == reflect.String {
			for k := range f.Len() {
				f.Index(k).SetString(change(f.Index(k).String()))
			}
		}
	case reflect.Map:
		for k, v := range f.Seq2() {
			f.SetMapIndex(k, reflect.ValueOf(change(v.String())))
		}
	}
}

// finding is what points to a finding: a fingerprint, a check, or words.
func (s *sharer) finding(text string) string {
	bare := strings.ToLower(strings.TrimSpace(strings.TrimLeft(strings.TrimSpace(text), "'’‘")))
	switch {
	case s.marks[bare]:
		return s.mark(bare)
	case isMark(bare):
		return text
	}
	return s.typed(text)
}

func isMark(text string) bool { return len(text) == 12 && strings.Trim(text, "0123456789abcdef") == "" }

// id is the id of a record of a kind as the copy has it. What is no person keeps its
// own, but for the ids of people within it.
func (s *sharer) id(kind, id string) string {
	if name, ok := s.who(kind, id); ok {
		return name
	}
	if thing := namesThings(kind) || kind == "loads" || kind == "packs"; thing && s.alone(id) {
		return id
	}
	return s.typed(id)
}

// evidence hides the value of a piece of evidence, where it may name or describe a person, and
// the row, where the order of rows would tell whose it is.
func (s *sharer) evidence(e *Evidence) {
	kinds, kind := namedKinds(*e), e.Kind
	field := fieldOf(*e)
	switch {
	case e.Value == "":
	case e.Private:
		e.Value = leftOut
	case len(kinds) > 0:
		e.Value = s.listed(kinds, *e)
	case ReadsLikeName(kind, e.Value), sentence(field, e.Value):
		e.Value, e.Private = leftOut, true
	case field != nil && field.Name == "id":
		e.Value = s.id(kind, e.Value)
	case field != nil && field.Form == schemas.Ref:
		e.Value = s.id(field.Refers[0], e.Value)
	case field != nil && field.Form != schemas.Text && field.Form != schemas.List, field == nil && kind == "traces":
		e.Value = s.spoken(e.Value)
	default:
		e.Value = s.typed(e.Value)
	}
	e.ID, e.File, e.Heading, e.Note, e.Sheet = s.id(kind, e.ID), s.typed(e.File), s.typed(e.Heading), s.said(e.Note), s.typed(e.Sheet)
	if personal(kind) {
		e.Line, e.Column, e.EndColumn, e.Row, e.Cell = 0, 0, 0, 0, ""
	}
}

func fieldOf(e Evidence) *schemas.Field {
	if kind, ok := schemas.Lookup(e.Kind); ok {
		if f, ok := kind.Field(e.Field); ok {
			return f
		}
	}
	return nil
}

// sentence reports whether a value is words of somebody's own, which can name anyone.
func sentence(f *schemas.Field, value string) bool {
	if f == nil || f.Form != schemas.Text || namesThings(f.Kind) {
		return false
	}
	return f.Name == "note" || strings.ContainsAny(strings.TrimSpace(value), " \n\t")
}

// namedKinds are the kinds of the people, clients or cards whose ids a value is.
func namedKinds(e Evidence) (kinds []string) {
	f := fieldOf(e)
	if f == nil {
		return nil
	}
	if f.Name == "id" && personal(e.Kind) {
		return []string{e.Kind}
	}
	for _, kind := range f.Refers {
		if personal(kind) {
			kinds = append(kinds, kind)
		}
	}
	return kinds
}

// due hides whom something runs out for. Its id was made from the record's.
func (s *sharer) due(d *Due) {
	record := s.id(d.Kind, d.Record)
	if record != d.Record {
		s.marks[d.ID] = true
		d.ID = s.mark(d.ID)
	}
	d.Record, d.What = record, s.said(d.What)
}

// granted replaces the person to whom a grant of scope is given: "to P-01, from 3 Jun 2026".
func (s *sharer) granted(when string) string {
	rest, ok := strings.CutPrefix(when, "to ")
	if !ok {
		return when
	}
	end := len(rest)
	for _, next := range []string{", from ", ", until "} {
		if i := strings.LastIndex(rest, next); i >= 0 {
			end = min(end, i)
		}
	}
	if name, ok := s.who("people", rest[:end]); ok {
		return "to " + name + rest[end:]
	}
	return when
}

// exhibit looks at a table by its columns.
func (s *sharer) exhibit(e *Exhibit) {
	if e.Kind == Drawn {
		e.Title = s.typed(e.Title)
	}
	for _, row := range e.Rows {
		for i := range row {
			column := ""
			if i < len(e.Columns) {
				column = e.Columns[i]
			}
			switch column {
			case "client":
				row[i] = s.id("clients", row[i])
			case "person":
				row[i] = s.id("people", row[i])
			case "data-logger file":
				row[i] = s.typed(row[i])
			default:
				row[i] = s.spoken(row[i])
			}
		}
	}
}

// shuffled puts neighbours that lay beside each other in the order of a file of people
// into the order of their pseudonyms, which says nothing.
func shuffled(list []Evidence) {
	for from := 0; from < len(list); {
		until := from + 1
		for until < len(list) && personal(list[from].Kind) && list[until].Kind == list[from].Kind && list[until].Note == list[from].Note {
			until++
		}
		slices.SortStableFunc(list[from:until], func(a, b Evidence) int { return cmp.Compare(a.ID, b.ID) })
		from = until
	}
}
