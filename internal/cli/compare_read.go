package cli

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"

	"footing/internal/result"
)

// earlierAudit reads an audit that was written: its audit.json, or the folder that holds it.
func earlierAudit(name string) (*result.Result, error) {
	name = unquoted(name, runtime.GOOS)
	if name == "" {
		return nil, problem("the name of an audit is empty", "name the folder that audit wrote, or its audit.json")
	}
	path := name
	info, err := os.Stat(name)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, problem("there is no audit "+name, "name the folder that audit wrote, such as records-audit-2026-11-24, or its audit.json")
	case err != nil:
		return nil, problem(fmt.Sprintf("%s cannot be read: %v", name, reason(err)), "check that you may open it")
	case info.IsDir():
		path = filepath.Join(name, auditFile)
		if _, err := os.Stat(path); errors.Is(err, fs.ErrNotExist) {
			return nil, problem(name+" holds no "+auditFile, "name the folder that audit wrote"+wroteBeside(name))
		}
	}
	data, err := os.ReadFile(path)
	if err != nil {
		return nil, problem(fmt.Sprintf("%s cannot be read: %v", path, reason(err)), "check that you may open it")
	}
	r, err := result.Read(bytes.NewReader(data))
	if err != nil {
		return nil, problem(fmt.Sprintf("%s: %v", path, err), "name an audit.json as this version of the program wrote it; audit the records of then anew with --as-of")
	}
	return r, nil
}

// wroteBeside names the newest audit of a folder of records, where there is one.
func wroteBeside(records string) string {
	whole, err := filepath.Abs(records)
	if err != nil {
		return ""
	}
	entries, err := os.ReadDir(filepath.Dir(whole))
	if err != nil {
		return ""
	}
	newest := ""
	for _, e := range entries {
		if n := e.Name(); e.IsDir() && strings.HasPrefix(n, filepath.Base(whole)+"-"+auditOutput.name+"-") && n > newest {
			newest = n
		}
	}
	if newest == "" {
		return ", such as records-audit-2026-11-24"
	}
	return ", such as " + filepath.Join(filepath.Dir(records), newest)
}
