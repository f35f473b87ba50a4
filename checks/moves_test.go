package checks

import (
	"bytes"
	"fmt"
	"io/fs"
	"math"
	"regexp"
	"strconv"
	"testing"
	"testing/fstest"

	"github.com/stretchr/testify/require"
	"go.yaml.in/yaml/v4"

	"footing/internal/audit"
)

// move is the shipped criteria with one value changed.
type move struct {
	id, what string
	criteria *audit.Criteria
}

var numberIn = regexp.MustCompile(`\d+(\.\d+)?`)

// moves lists every single change: each number a tenth up and a tenth down, each
// word of a list gone, each yes turned to no.
func moves(t *testing.T) (all []move) {
	t.Helper()
	sub, err := fs.Sub(criteria, "criteria")
	require.NoError(t, err)
	files := fstest.MapFS{}
	names, err := fs.Glob(sub, "*.yaml")
	require.NoError(t, err)
	for _, name := range names {
		data, err := fs.ReadFile(sub, name)
		require.NoError(t, err)
		files[name] = &fstest.MapFile{Data: data}
	}
	for _, name := range names {
		if name == "sources.yaml" {
			continue
		}
		original := files[name].Data
		var doc yaml.Node
		require.NoError(t, yaml.Load(original, &doc))
		try := func(id, what string) {
			var out bytes.Buffer
			enc := yaml.NewEncoder(&out)
			require.NoError(t, enc.Encode(&doc))
			require.NoError(t, enc.Close())
			files[name].Data = out.Bytes()
			changed, err := audit.ParseCriteria(files)
			require.NoError(t, err, "%s: %s", id, what)
			all = append(all, move{id, what, changed})
		}
		for _, c := range doc.Content[0].Content {
			moveCriterion(c, try)
		}
		files[name].Data = original
	}
	return all
}

func moveCriterion(c *yaml.Node, try func(id, what string)) {
	id, form := field(c, "id").Value, field(c, "as").Value
	for _, v := range field(c, "values").Content {
		where := fmt.Sprintf("%s %s", field(v, "set").Value, flat(field(v, "when")))
		switch form {
		case "table":
			for _, s := range field(v, "table").Content {
				moveNumber(field(s, "at"), id, where+" at", try)
				moveNumber(field(s, "value"), id, where+" value", try)
			}
		case "list":
			list := field(v, "value")
			words := list.Content
			for i, w := range words {
				list.Content = append(append([]*yaml.Node{}, words[:i]...), words[i+1:]...)
				try(id, where+": without "+w.Value)
			}
			list.Content = words
		case "yes-no":
			node := field(v, "value")
			was := node.Value
			node.Value = map[bool]string{true: "no", false: "yes"}[was == "yes" || was == "true"]
			try(id, where+": turned from "+was)
			node.Value = was
		case "limit":
			if numberIn.MatchString(field(v, "value").Value) {
				moveDays(field(v, "value"), id, where, try)
			}
		default:
			moveNumber(field(v, "value"), id, where, try)
		}
	}
}

func moveNumber(n *yaml.Node, id, where string, try func(id, what string)) {
	was := n.Value
	for _, factor := range []float64{0.9, 1.1} {
		n.Value = numberIn.ReplaceAllStringFunc(was, func(s string) string {
			f, _ := strconv.ParseFloat(s, 64)
			return strconv.FormatFloat(f*factor, 'f', 2, 64)
		})
		try(id, fmt.Sprintf("%s: %s moved to %s", where, was, n.Value))
	}
	n.Value = was
}

// moveDays moves a limit in whole days: records know the day, not the hour.
func moveDays(n *yaml.Node, id, where string, try func(id, what string)) {
	was := n.Value
	for _, sign := range []float64{-1, 1} {
		n.Value = numberIn.ReplaceAllStringFunc(was, func(s string) string {
			f, _ := strconv.ParseFloat(s, 64)
			return strconv.FormatFloat(f+sign*math.Ceil(f/10), 'f', 0, 64)
		})
		try(id, fmt.Sprintf("%s: %s moved to %s", where, was, n.Value))
	}
	n.Value = was
}

func field(m *yaml.Node, name string) *yaml.Node {
	for i := 0; i+1 < len(m.Content); i += 2 {
		if m.Content[i].Value == name {
			return m.Content[i+1]
		}
	}
	return &yaml.Node{}
}

func flat(m *yaml.Node) string {
	s := ""
	for i := 0; i+1 < len(m.Content); i += 2 {
		s += m.Content[i].Value + "=" + m.Content[i+1].Value + " "
	}
	return s
}
