package cli

import (
	"context"
	"crypto/rand"
	"crypto/sha256"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"unicode/utf8"

	"github.com/spf13/cobra"

	"footing/internal/practice"
	"footing/internal/quantity"
	"footing/internal/report"
	"footing/internal/result"
)

// Files of the key to a shared copy.
const (
	keyFile     = "key.csv"
	keyRead     = "read me first.txt"
	leastPhrase = 12 // characters: a shorter phrase is soon guessed
)

const keyWords = "This folder is the key to a copy for someone else. It says which client or person each\n" +
	"name in the copy stands for.\n\n" +
	"Keep it where you keep the records, and under the same lock. Never send it with the copy,\n" +
	"nor lay it beside the copy on a shared disk or stick. When nobody needs the copy any\n" +
	"more, delete the key. What you must keep, and for how long, your regulator says.\n"

// shareFlags ask for a copy for someone else.
type shareFlags struct {
	share  bool
	phrase string
}

func (o *shareFlags) registerShare(cmd *cobra.Command) {
	f := cmd.Flags()
	f.BoolVar(&o.share, "share", false, "write a copy for someone else too, with clients and people under other names, and its key into a folder apart")
	f.StringVar(&o.phrase, "share-phrase", "", "with --share: take the names from these secret `WORDS`, so that the same words give the same names again; by chance if not given")
}

// copyPlaces are the new folders of a copy and of its key: beside the records' folder, or
// beside the one named with --out.
type copyPlaces struct{ copy, key string }

// shareTo finds the places of a copy; none where none was asked for.
func (o *shareFlags) shareTo(records, named, out string, asOf quantity.Day) (at *copyPlaces, err error) {
	switch {
	case !o.share && o.phrase != "":
		return nil, problem("--share-phrase goes with --share, and that was not given", "add --share, or leave --share-phrase out")
	case !o.share:
		return nil, nil
	case o.phrase != "" && utf8.RuneCountInString(o.phrase) < leastPhrase:
		return nil, problem(fmt.Sprintf("--share-phrase has fewer than %d characters, and could be guessed", leastPhrase), "write several words that nobody would think of, and keep them as secret as the key; or leave it out")
	}
	front, back := out, ""
	if named == "" {
		front, back = records, "-"+asOf.String()
	}
	for n := 1; ; n++ {
		end := back
		if n > 1 {
			end = fmt.Sprintf("%s-%d", back, n)
		}
		at := &copyPlaces{front + "-share" + end, front + "-share-key" + end}
		copyFree, err := vacant(at.copy)
		if err != nil {
			return nil, err
		}
		keyFree, err := vacant(at.key)
		if err != nil {
			return nil, err
		}
		if copyFree && keyFree {
			return at, nil
		}
	}
}

// vacant reports whether nothing lies at a path.
func vacant(path string) (bool, error) {
	_, err := os.Lstat(path)
	if err == nil || errors.Is(err, fs.ErrNotExist) {
		return err != nil, nil
	}
	return false, problem(fmt.Sprintf("%s cannot be looked at: %v", path, reason(err)), "name another place with --out DIR")
}

// secret decides the names of a copy.
func (o *shareFlags) secret() []byte {
	if o.phrase != "" {
		sum := sha256.Sum256([]byte(o.phrase))
		return sum[:]
	}
	b := make([]byte, sha256.Size)
	_, _ = rand.Read(b) // never fails: it ends the program instead
	return b
}

// idsKey is where a context holds the ids to be replaced.
type idsKey struct{}

// sharing is a context that takes the ids of whoever the records name, for a copy; reading
// the records fills them in.
func sharing(ctx context.Context, at *copyPlaces) (context.Context, map[string][]string) {
	if at == nil {
		return ctx, nil
	}
	ids := map[string][]string{}
	return context.WithValue(ctx, idsKey{}, ids), ids
}

// noteIDs fills in the ids that a copy is to replace, where one is to be made.
func noteIDs(ctx context.Context, p *practice.Practice) {
	ids, ok := ctx.Value(idsKey{}).(map[string][]string)
	if !ok {
		return
	}
	note := func(kind string, all ...string) { ids[kind] = append(ids[kind], all...) }
	for _, e := range entries(p.People, func(x *practice.Person) *practice.Entry { return &x.Entry }) {
		note("people", practice.Key(&e.Row))
	}
	note("clients", idsOf(p, "clients")...)
	for _, e := range entries(p.Histories, func(x *practice.History) *practice.Entry { return &x.Entry }) {
		note("histories", practice.Key(&e.Row))
	}
	for _, e := range entries(p.Screens, func(x *practice.Screen) *practice.Entry { return &x.Entry }) {
		note("screens", practice.Key(&e.Row))
	}
	for _, e := range entries(p.Consents, func(x *practice.Consent) *practice.Entry { return &x.Entry }) {
		note("consents", practice.Key(&e.Row))
	}
	for i := range p.Visits {
		note("people", p.Visits[i].Person)
	}
	for _, d := range p.Dangling {
		if len(d.Kinds) > 0 {
			note(d.Kinds[0], d.ID)
		}
	}
}

// shareOut writes a copy and its key, both or none, and says where they lie.
func (a *app) shareOut(ctx context.Context, at *copyPlaces, files []file, page string, key []result.Pseudonym) error {
	if err := writeOwn(ctx, at.key, []file{{keyFile, report.ShareKeyCSV(key)}, {keyRead, []byte(keyWords)}}); err != nil {
		return err
	}
	if err := writeFolder(ctx, at.copy, files); err != nil {
		return errors.Join(err, os.RemoveAll(at.key))
	}
	line(a.out, "\nCopy for someone else: "+plain(filepath.Join(at.copy, page)))
	line(a.out, "Its key, for you alone: "+plain(filepath.Join(at.key, keyFile)))
	for _, l := range []string{
		"Keep the key with the records and never beside the copy. Read the copy before you",
		"hand it on: days, places and what you typed about rules and the practice are as",
		"written, and may tell someone who knows a client whose visit it was.",
	} {
		line(a.out, l)
	}
	return nil
}

// shareAudit makes the copy of an audit.
func (a *app) shareAudit(ctx context.Context, at *copyPlaces, o *shareFlags, ids map[string][]string, r *result.Result) error {
	if at == nil {
		return nil
	}
	copied, key := result.Share(r, ids, o.secret())
	files, err := auditFiles(at.copy, copied)
	if err != nil {
		return err
	}
	return a.shareOut(ctx, at, files, pageFile, key)
}

// shareLookback makes the copy of a look-back.
func (a *app) shareLookback(ctx context.Context, at *copyPlaces, o *shareFlags, ids map[string][]string, answer *result.Answer) error {
	if at == nil {
		return nil
	}
	copied, key := result.ShareAnswer(answer, ids, o.secret())
	files, err := lookbackFiles(copied)
	if err != nil {
		return err
	}
	return a.shareOut(ctx, at, files, lookbackPage, key)
}

// shareDraw makes the copy of a draw.
func (a *app) shareDraw(ctx context.Context, at *copyPlaces, o *shareFlags, ids map[string][]string, d *result.Draw) error {
	if at == nil {
		return nil
	}
	copied, key := result.ShareDraw(d, ids, o.secret())
	files, err := drawFiles(copied)
	if err != nil {
		return err
	}
	return a.shareOut(ctx, at, files, drawPage, key)
}

var shareHelp = strings.TrimSpace(`
--share writes a copy for someone else too: clients and people stand in it under other
names (client-1, person-1), private values are left out, and the key goes into a folder
apart. Nothing is sent anywhere.`)
