package report

import (
	"bytes"
	_ "embed"
	"errors"
	"html/template"
)

// Live is what stands around a page while its folder is watched. Clocks are times of
// day in words, as the reader's clock shows them.
type Live struct {
	Number  int      // of the reading, from 1; the page reloads itself when another is told of
	At      string   // when the folder was read
	Before  string   // when it was read before that; "" for the first reading
	Changes *Changes // since then; nil for the first reading
	Trouble string   // why the newest reading could not be made; "" where it could
	Nonce   string   // of the script in the content security policy that goes with the page
}

//go:embed changes.html
var liveText string

//go:embed changes.css
var liveStyle string

//go:embed changes.js
var liveScript string

var live = template.Must(template.New("live").Parse(liveText))

// liveMarks are where a page of ours takes what Live adds: its policy, which lets no script
// run, makes way for the one that is sent with it.
var liveMarks = struct{ policy, policyEnd, body, end []byte }{
	[]byte(`<meta http-equiv="Content-Security-Policy"`), []byte(">\n"), []byte("<body>\n"), []byte("</body>"),
}

// LiveHTML is a page of HTML with a bar that says when it was read and what changed, and
// a script that loads it again when there is another reading. Without a page the bar
// stands alone.
func LiveHTML(page []byte, l Live) ([]byte, error) {
	if page == nil {
		page = []byte("<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<title>Waiting for records</title>\n<style>\n" + styleText + "</style>\n</head>\n<body>\n</body>\n</html>\n")
	}
	page = withoutPolicy(page)
	before, after, found := bytes.Cut(page, liveMarks.body)
	last := bytes.LastIndex(after, liveMarks.end)
	if !found || last < 0 {
		return nil, errors.New("the page has no place for what changed")
	}
	var bar, script bytes.Buffer
	data := map[string]any{"Live": l, "Lines": l.lines(), "Style": template.CSS(liveStyle), "Script": template.JS(liveScript)} // our own files
	if err := errors.Join(live.ExecuteTemplate(&bar, "bar", data), live.ExecuteTemplate(&script, "script", data)); err != nil {
		return nil, err
	}
	return bytes.Join([][]byte{before, liveMarks.body, bar.Bytes(), after[:last], script.Bytes(), after[last:]}, nil), nil
}

func withoutPolicy(page []byte) []byte {
	before, after, found := bytes.Cut(page, liveMarks.policy)
	if !found {
		return page
	}
	_, after, _ = bytes.Cut(after, liveMarks.policyEnd)
	return append(bytes.Clone(before), after...)
}

// liveLine is a line of the bar.
type liveLine struct{ Lead, Words, At string }

func (l Live) lines() (out []liveLine) {
	if l.Changes != nil {
		for _, c := range l.Changes.lines {
			out = append(out, liveLine{c.lead, plain(c.words()), c.at})
		}
	}
	return out
}
