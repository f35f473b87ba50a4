package trace

import (
	"path"
	"strconv"
	"strings"

	"go.yaml.in/yaml/v4"

	"footing/internal/quantity"
	"footing/schemas"
)

// layoutRoles are the names of an entry that hold columns.
var layoutRoles = map[string]Role{"time": Time, "date": Date, "temperature": Temperature, "pressure": Pressure, "phase": PhaseName}

// entryOf reads an entry that meets its schema.
func entryOf(n *yaml.Node) layout {
	e := layout{skip: -1}
	eachName(n, func(name string, value *yaml.Node) {
		switch name {
		case "files":
			e.files = strings.TrimPrefix(strings.TrimPrefix(strings.ToLower(value.Value), "./"), "traces/")
		case "sterilizer":
			e.sterilizer = schemas.Fold(value.Value)
		case "skip":
			e.skip, _ = strconv.Atoi(value.Value)
		case "delimiter":
			e.delimiter = map[string]byte{"comma": ',', "semicolon": ';', "tab": '\t', "bar": '|'}[value.Value]
		case "decimal":
			e.decimal = map[string]byte{"point": '.', "comma": ','}[value.Value]
		case "date_order":
			e.hasOrder = true
			e.order = map[string]quantity.DateOrder{"dmy": quantity.DMY, "mdy": quantity.MDY, "iso": quantity.ISO}[value.Value]
		default:
			if role, ok := layoutRoles[name]; ok {
				e.columns = append(e.columns, columnsOf(value, role)...)
			}
		}
	})
	return e
}

// eachName calls for each name of a mapping whose value is written.
func eachName(n *yaml.Node, call func(name string, value *yaml.Node)) {
	for i := 0; i+1 < len(n.Content); i += 2 {
		if !isBlank(n.Content[i+1]) {
			call(n.Content[i].Value, n.Content[i+1])
		}
	}
}

// columnsOf reads a column, or a list of them.
func columnsOf(n *yaml.Node, role Role) (list []layoutColumn) {
	if n.Kind == yaml.SequenceNode {
		for _, c := range n.Content {
			list = append(list, columnsOf(c, role)...)
		}
		return list
	}
	c := layoutColumn{role: role}
	if n.Kind != yaml.MappingNode {
		c.point(n)
		return []layoutColumn{c}
	}
	eachName(n, func(name string, value *yaml.Node) {
		switch name {
		case "column":
			c.point(value)
		case "unit":
			c.unit, _, _ = quantity.ParseUnit(value.Value, dimensions[role]) // its schema takes no other
		case "from":
			c.ref = map[string]quantity.Reference{"gauge": quantity.Gauge, "absolute": quantity.Absolute}[value.Value]
		}
	})
	return []layoutColumn{c}
}

var dimensions = map[Role]quantity.Dimension{Time: quantity.Span, Temperature: quantity.Temperature, Pressure: quantity.Pressure}

// point takes the heading or the number of the column.
func (c *layoutColumn) point(n *yaml.Node) {
	if n.Style == 0 && wholeNumber(n.Value) {
		c.index, _ = strconv.Atoi(n.Value)
		return
	}
	c.heading = n.Value
}

// check finds what no schema can tell of an entry.
func (f *layoutFaults) check(e *layout, n *yaml.Node) {
	lines := map[string]int{}
	eachName(n, func(name string, value *yaml.Node) { lines[name] = value.Line })
	switch _, err := path.Match(e.files, ""); {
	case strings.ContainsRune(e.files, '\\'):
		f.add(lines["files"], "the pattern in files has a backslash", "write / between a folder and a file")
	case err != nil:
		f.add(lines["files"], "the pattern in files has a bracket that does not end", "leave brackets out, or close them")
	}
	met := map[layoutColumn]bool{}
	eachName(n, func(name string, value *yaml.Node) {
		if _, ok := layoutRoles[name]; !ok {
			return
		}
		eachColumn(value, func(value *yaml.Node) {
			var c layoutColumn
			c.point(value)
			c.heading = schemas.Fold(c.heading)
			if met[c] {
				f.add(value.Line, "the column "+quoted(value)+" is named for two things", "name each column once; a column with day and clock is time alone")
			}
			met[c] = true
		})
	})
}

// eachColumn calls for each heading or number that the value of a role names.
func eachColumn(n *yaml.Node, call func(*yaml.Node)) {
	switch n.Kind {
	case yaml.SequenceNode:
		for _, c := range n.Content {
			eachColumn(c, call)
		}
	case yaml.MappingNode:
		eachName(n, func(name string, value *yaml.Node) {
			if name == "column" {
				call(value)
			}
		})
	default:
		call(n)
	}
}
