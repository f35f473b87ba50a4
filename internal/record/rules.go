package record

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// useRules puts a rules file from outside the folder in the place of the folder's own.
func (f *folder) useRules(path string) error {
	plan := f.plans["rules"]
	if plan == nil {
		return nil
	}
	form, readable := formats[strings.ToLower(strings.TrimPrefix(filepath.Ext(path), "."))]
	if !readable {
		return fmt.Errorf("the rules file %s is no csv, json, jsonl or yaml file (a sheet of a workbook is read only from the folder itself; save it as csv)", path)
	}
	root, err := os.OpenRoot(filepath.Dir(path))
	if err != nil {
		return fmt.Errorf("the rules file %s cannot be read: %w", path, plainError(err))
	}
	name := filepath.Base(path)
	info, err := root.Stat(name)
	if err != nil {
		root.Close()
		return fmt.Errorf("the rules file %s cannot be read: %w", path, plainError(err))
	}
	if info.Size() > f.most {
		root.Close()
		return fmt.Errorf("the rules file %s has %s, and files of more than %s are not read", path, bytesWords(info.Size()), bytesWords(f.most))
	}
	f.records = slices.DeleteFunc(f.records, func(e *entry) bool {
		if e.plan == plan {
			f.skip(e.name, "another rules file was named for this audit")
		}
		return e.plan == plan
	})
	f.records = append(f.records, &entry{name: name, info: info, plan: plan, form: form, root: root})
	slices.SortFunc(f.records, func(a, b *entry) int { return strings.Compare(a.name, b.name) })
	return nil
}

// close lets go of the folders that were opened.
func (f *folder) close() {
	f.root.Close()
	for _, e := range f.records {
		if e.root != nil {
			e.root.Close()
		}
	}
}
