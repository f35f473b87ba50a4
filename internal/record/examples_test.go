package record

import (
	"context"
	"encoding/json"
	"reflect"
	"strings"
	"testing"

	"footing/schemas"
)

// The examples in the schemas are read without a word, in JSON and in JSON Lines.
func TestExamplesAreAccepted(t *testing.T) {
	files := map[string]string{}
	rows := 0
	for _, name := range schemas.Kinds() {
		kind, _ := schemas.Lookup(name)
		var parts []string
		for _, e := range kind.Examples {
			parts = append(parts, string(e))
		}
		if kind.Single {
			parts = parts[len(parts)-1:]
		}
		rows += len(parts)
		text, err := json.Marshal(kind.Examples[len(kind.Examples)-len(parts):])
		if err != nil {
			t.Fatal(err)
		}
		if kind.Single {
			files[name+".json"] = parts[0]
		} else {
			files[name+".json"] = string(text)
		}
	}
	target := reflect.New(allKinds())
	in, err := Fill(context.Background(), folderOf(t, files), target.Interface(), Options{})
	if err != nil {
		t.Fatal(err)
	}
	accounted(t, in)
	if list := sentences(in); len(list) > 1 || len(list) == 1 && in.Problems[0].Cause != "shared-id" {
		t.Errorf("problems:\n%s", strings.Join(list, "\n"))
	}
	accepted := 0
	for _, f := range in.Files {
		accepted += f.Accepted
	}
	if accepted != rows {
		t.Errorf("accepted %d of %d rows", accepted, rows)
	}
}
