package dev

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
)

// generatedFolders hold nothing but generated pages; generatedPages stand beside pages
// written by hand.
var (
	generatedFolders = []string{"checks", "records"}
	generatedPages   = []string{"words.md"}
)

// Refresh writes the generated pages below root/docs and removes those that no
// check or kind has any more. It returns how many pages there are.
func Refresh(root string) (int, error) {
	pages, err := Docs(root)
	if err != nil {
		return 0, err
	}
	for _, folder := range generatedFolders {
		if err := os.RemoveAll(filepath.Join(root, "docs", folder)); err != nil {
			return 0, err
		}
	}
	for name, data := range pages {
		path := filepath.Join(root, "docs", filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			return 0, err
		}
		if err := os.WriteFile(path, data, 0o644); err != nil {
			return 0, err
		}
	}
	return len(pages), nil
}

// Pages reads the generated pages that stand below root/docs.
func Pages(root string) (map[string][]byte, error) {
	pages := map[string][]byte{}
	for _, name := range generatedPages {
		data, err := os.ReadFile(filepath.Join(root, "docs", name))
		if err != nil && !errors.Is(err, fs.ErrNotExist) {
			return nil, err
		}
		pages[name] = data
	}
	for _, folder := range generatedFolders {
		docs := os.DirFS(filepath.Join(root, "docs"))
		err := fs.WalkDir(docs, folder, func(name string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() {
				return err
			}
			data, err := fs.ReadFile(docs, name)
			pages[name] = data
			return err
		})
		if err != nil {
			return nil, err
		}
	}
	return pages, nil
}
