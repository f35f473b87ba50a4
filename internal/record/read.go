package record

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"hash"
	"io"
	"io/fs"
	"os"
)

// refusal says why a file was not read.
type refusal struct{ cause, says, todo string }

func refuse(cause, says string) *refusal { return &refusal{cause: cause, says: says} }

func (r *refusal) do(words string) *refusal { r.todo = words; return r }

// Error gives the words for the person who typed the file.
func (r *refusal) Error() string {
	if r.todo == "" {
		return r.says
	}
	return r.says + "; " + r.todo
}

// entry is one file to read, as it was when the folder was listed.
type entry struct {
	name string
	info fs.FileInfo
	plan *plan // nil for a data-logger file
	form format
	root *os.Root // where it lies, if not in the folder
}

// opened is called, in tests alone, after a file is opened and before it is read.
var opened = func(name string) {}

// open opens a listed file within the folder. It refuses what has become another file since.
func (f *folder) open(e *entry) (*os.File, error) {
	root := f.root
	if e.root != nil {
		root = e.root
	}
	return e.open(root, e.name)
}

// open opens the file by its name within a root.
func (e *entry) open(root *os.Root, name string) (*os.File, error) {
	file, err := root.Open(name)
	if err != nil {
		return nil, cannotRead(err)
	}
	info, err := file.Stat()
	if err == nil && !os.SameFile(info, e.info) {
		err = errors.New("another file")
	}
	if err != nil {
		file.Close()
		return nil, refuse("changed", "it was replaced while the folder was read").do("close it in other programs and run again")
	}
	opened(e.name)
	return file, nil
}

func cannotRead(err error) *refusal {
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return refuse("vanished", "it was there when the folder was listed, and is gone").do("run again when no other program is at work in the folder")
	case errors.Is(err, fs.ErrPermission):
		return refuse("permission", "its permissions do not let it be read").do("give yourself the right to read it")
	}
	return refuse("unreadable", "the computer could not read it").do("see whether it opens in another program, and whether its disk is still there")
}

// read gives the bytes of a record file, and their SHA-256.
func (f *folder) read(ctx context.Context, e *entry, done func(int64)) ([]byte, string, error) {
	file, err := f.open(e)
	if err != nil {
		return nil, "", err
	}
	defer file.Close()
	b := make([]byte, 0, e.info.Size()+1)
	sum := sha256.New()
	for {
		if err := ctx.Err(); err != nil {
			return nil, "", err
		}
		n, err := file.Read(b[len(b):min(cap(b), len(b)+1<<18)])
		sum.Write(b[len(b) : len(b)+n])
		b = b[:len(b)+n]
		done(int64(n))
		switch {
		case errors.Is(err, io.EOF) && int64(len(b)) == e.info.Size():
			return b, hexSum(sum), nil
		case err == nil && len(b) <= int(e.info.Size()):
			continue
		case err == nil, errors.Is(err, io.EOF):
			return nil, "", refuse("changed", "its length changed while it was read").do("close it in other programs and run again")
		}
		return nil, "", cannotRead(err)
	}
}

func hexSum(h hash.Hash) string { return hex.EncodeToString(h.Sum(nil)) }

// bytesWords gives a size for a sentence: "64 MiB".
func bytesWords(n int64) string {
	switch {
	case n >= 1<<20 && n%(1<<20) == 0:
		return fmt.Sprintf("%d MiB", n>>20)
	case n >= 1<<20:
		return fmt.Sprintf("%.1f MiB", float64(n)/(1<<20))
	}
	return fmt.Sprintf("%d bytes", n)
}
