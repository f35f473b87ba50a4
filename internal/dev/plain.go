package dev

import (
	"bufio"
	"cmp"
	"encoding/csv"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"

	"go.yaml.in/yaml/v4"
)

// Plain only reads the files of a practice, over all processors, and does nothing
// with them: the yardstick for the speed of an audit. CSV goes through
// encoding/csv, JSON and JSON Lines through encoding/json into any, YAML through
// yaml v4 into any. It gives the bytes read and the rows met (in traces: lines).
// Without traces it leaves the folder traces/ out. With thrift the records of
// encoding/csv share their memory (ReuseRecord), which a plain program does not ask for.
func Plain(dir string, traces, thrift bool) (bytes, rows int64, err error) {
	return overFiles(dir, func(name string) bool { return traces || name != "traces" }, func(path string) (int64, error) { return plainFile(path, thrift) })
}

// overFiles gives each file below dir to read, the greatest first, over all
// processors. A folder whose name enter refuses is left out.
func overFiles(dir string, enter func(name string) bool, read func(path string) (int64, error)) (bytes, rows int64, err error) {
	type job struct {
		path string
		size int64
	}
	var jobs []job
	err = filepath.WalkDir(dir, func(path string, e fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if e.IsDir() {
			if !enter(e.Name()) {
				return filepath.SkipDir
			}
			return nil
		}
		info, err := e.Info()
		if err != nil {
			return err
		}
		jobs = append(jobs, job{path, info.Size()})
		bytes += info.Size()
		return nil
	})
	if err != nil {
		return 0, 0, err
	}
	slices.SortStableFunc(jobs, func(a, b job) int { return cmp.Compare(b.size, a.size) })
	queue := make(chan string)
	var done sync.WaitGroup
	var mu sync.Mutex
	for range runtime.GOMAXPROCS(0) {
		done.Add(1)
		go func() {
			defer done.Done()
			for path := range queue {
				n, e := read(path)
				mu.Lock()
				rows += n
				if e != nil {
					err = errors.Join(err, fmt.Errorf("%s: %w", path, e))
				}
				mu.Unlock()
			}
		}()
	}
	for _, j := range jobs {
		queue <- j.path
	}
	close(queue)
	done.Wait()
	return bytes, rows, err
}

func plainFile(path string, thrift bool) (rows int64, err error) {
	switch filepath.Ext(path) {
	case ".json":
		return plainWhole(path, json.Unmarshal)
	case ".yaml", ".yml":
		return plainWhole(path, func(b []byte, v any) error { return yaml.Unmarshal(b, v) })
	}
	f, err := os.Open(path)
	if err != nil {
		return 0, err
	}
	defer f.Close()
	if strings.HasSuffix(path, ".jsonl") {
		return plainLines(f)
	}
	r := csv.NewReader(f)
	r.ReuseRecord = thrift
	r.FieldsPerRecord = -1
	for {
		if _, err := r.Read(); err == io.EOF {
			return max(0, rows-1), nil // without the heading
		} else if err != nil {
			return rows, err
		}
		rows++
	}
}

func plainWhole(path string, decode func([]byte, any) error) (int64, error) {
	b, err := os.ReadFile(path)
	if err != nil {
		return 0, err
	}
	var v any
	if err := decode(b, &v); err != nil {
		return 0, err
	}
	if list, ok := v.([]any); ok {
		return int64(len(list)), nil
	}
	return 1, nil
}

func plainLines(f io.Reader) (rows int64, err error) {
	d := json.NewDecoder(bufio.NewReaderSize(f, 1<<16))
	for {
		var v any
		if err := d.Decode(&v); err == io.EOF {
			return rows, nil
		} else if err != nil {
			return rows, err
		}
		rows++
	}
}
