package cli

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"strings"

	"footing/internal/trace"
)

// loggerFile is one file that was named, or that lies in a folder that was.
type loggerFile struct {
	path   string // to open it by
	name   string // below its folder, with forward slashes; of a file, its own
	shown  string // as it is told: its name, or its path where two have one name
	folder string // the folder that was named, "" for a file
	layout *trace.Layouts
	err    error // why it cannot be read
}

// loggerFiles are the files that the names stand for, in the order of the names, and
// in a folder by name. A name that leads nowhere stays, with its error.
func loggerFiles(names []string) (files []loggerFile, err error) {
	for _, name := range spread(names) {
		name = unquoted(name, runtime.GOOS)
		info, err := os.Stat(name)
		switch {
		case name == "":
			return nil, problem("a file's name is empty", "footing cycle FILE; a full stop means the folder that you are in")
		case err != nil:
			files = append(files, loggerFile{path: name, err: unreadable(name, err, "check the name, and that you may open it")})
		case info.IsDir():
			below, err := folderFiles(name)
			if err != nil {
				return nil, err
			}
			files = append(files, below...)
		default:
			files = append(files, loggerFile{path: name, name: filepath.Base(name)})
		}
	}
	show(files)
	return files, nil
}

// show settles how each file is told. A path as it was typed may say more of this
// machine than a page that is passed on should.
func show(files []loggerFile) {
	times := map[string]int{}
	for _, f := range files {
		times[f.name]++
	}
	for i := range files {
		f := &files[i]
		if f.shown = f.name; f.name == "" || times[f.name] > 1 {
			f.shown = filepath.ToSlash(f.path)
		}
		f.shown = plain(f.shown)
	}
}

// spread replaces names with * or ?, where no such file is, by the files that they
// fit: on Windows no shell does it.
func spread(names []string) (all []string) {
	for _, name := range names {
		if _, err := os.Lstat(name); err != nil && strings.ContainsAny(name, "*?") {
			if found, err := filepath.Glob(name); err == nil && len(found) > 0 {
				all = append(all, found...)
				continue
			}
		}
		all = append(all, name)
	}
	return all
}

// folderFiles are the files below a folder, by name; links are not followed, and
// names that begin with . or _ and the layout are none.
func folderFiles(folder string) (files []loggerFile, err error) {
	if info, err := os.Stat(filepath.Join(folder, "traces")); err == nil && info.IsDir() {
		return nil, problem(plain(folder)+" is a folder of records, and its data-logger files are in the folder traces", "footing cycle "+plain(filepath.Join(folder, "traces")))
	}
	err = filepath.WalkDir(folder, func(path string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			files = append(files, loggerFile{path: path, folder: folder, err: unreadable(path, err, "check that you may open it")})
			return nil
		case path != folder && strings.HasPrefix(d.Name(), "."), path != folder && strings.HasPrefix(d.Name(), "_"):
			if d.IsDir() {
				return fs.SkipDir
			}
			return nil
		case !d.Type().IsRegular() || isLayout(d.Name()):
			return nil
		}
		rel, err := filepath.Rel(folder, path)
		files = append(files, loggerFile{path: path, name: filepath.ToSlash(rel), folder: folder})
		return err
	})
	if err == nil && len(files) == 0 {
		err = problem(plain(folder)+" holds no file", "name the folder that the data-logger files are in")
	}
	return files, err
}

func isLayout(name string) bool {
	name = strings.ToLower(name)
	return name == "layout.yaml" || name == "layout.yml"
}

// mostLayout is the largest layout that is read.
const mostLayout = 1 << 20

// layouts gives each file its layout: the one named, else that of its folder.
func (q *question) layouts(files []loggerFile, named string) error {
	read := map[string]*trace.Layouts{}
	for i := range files {
		f := &files[i]
		places := []string{named}
		if named == "" {
			if f.folder == "" {
				continue
			}
			places = []string{filepath.Join(f.folder, "layout.yaml"), filepath.Join(f.folder, "layout.yml")}
		}
		for _, place := range places {
			l, known := read[place]
			if !known {
				var err error
				if l, err = readLayout(place); err != nil && (named != "" || !errors.Is(err, fs.ErrNotExist)) {
					return layoutTrouble(place, err)
				}
				read[place] = l
			}
			if f.layout = l; l != nil {
				break
			}
		}
	}
	return nil
}

func layoutTrouble(place string, err error) error {
	var t trouble
	if errors.As(err, &t) {
		return t
	}
	return problem(fmt.Sprintf("the layout %s cannot be read: %v", plain(place), reason(err)), "check the name, and that you may open it; it is a file such as layout.yaml")
}

// readLayout reads one. Reading by other columns than the ones that were named
// would be no answer, so that a mistake in it is an error.
func readLayout(path string) (*trace.Layouts, error) {
	if err := openable(path); err != nil {
		return nil, err
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	text, err := io.ReadAll(io.LimitReader(f, mostLayout+1))
	if err != nil {
		return nil, err
	}
	if len(text) > mostLayout {
		return nil, errors.New("it has more than 1 MiB, and a layout is a short text")
	}
	l, problems := trace.ParseLayouts(text)
	if len(problems) > 0 {
		return nil, problem(plain("the layout "+path+": "+problems[0].Sentence), plain(problems[0].Todo))
	}
	return l, nil
}
