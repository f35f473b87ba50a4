package record

import (
	"go.yaml.in/yaml/v4"
)

// most nodes that one row may have.
const mostNodes = 10_000

// yamlRow takes one node as a row.
func (s *sheet) yamlRow(n *yaml.Node, start int) {
	s.begin(start)
	if n.Kind == yaml.ScalarNode && n.ShortTag() == "!!null" && n.Anchor == "" {
		return
	}
	budget := mostNodes
	if f := refusedNode(n, 0, &budget); f != nil {
		s.refuseRow(f, "")
		return
	}
	if n.Kind != yaml.MappingNode {
		s.refuseRow(newFault("no-names", "the row is not a set of names and values").do("write each value as name: value"), "")
		return
	}
	for !s.pairsOf(n) {
		s.again()
	}
}

// pairsOf is members for a YAML mapping.
func (s *sheet) pairsOf(n *yaml.Node) bool {
	turn := 0
	var twice *lane
	for i := 0; i+1 < len(n.Content); i += 2 {
		name := n.Content[i].Value
		l := s.following(&turn, name)
		if l == nil {
			for j := 0; j < len(n.Content); j += 2 {
				s.addLane(n.Content[j].Value)
			}
			return false
		}
		if l.met == s.serial && l != s.beyond {
			twice = l
		}
		l.met = s.serial
		sh, text := nodeValue(n.Content[i+1])
		if l.shared {
			s.share(l, sh, text)
		} else {
			s.put(l, sh, text)
		}
	}
	s.settle()
	if twice != nil {
		s.refuseRow(repeatedName(twice.written), s.rowID())
		return true
	}
	s.end()
	return true
}

// repeatedName is the fault of a row that has a name twice.
func repeatedName(name string) *fault {
	return newFault("repeated-name", `"`+shorten(name)+`" is written twice in the row, so that it is not clear which is meant`).do("keep one of the two")
}

// refusedNode finds what a row of YAML may not have.
func refusedNode(n *yaml.Node, depth int, budget *int) *fault {
	if *budget--; *budget < 0 {
		return newFault("too-long", "the row has more than 10,000 values").do("look whether rows lack their hyphens")
	}
	switch {
	case depth > deepest:
		return newFault("too-deep", "values are nested more than 200 deep").do("write plain values and lists")
	case n.Kind == yaml.AliasNode || n.Anchor != "":
		return newFault("alias", "a value in it begins with & or *, which stands for a value written elsewhere, and is not followed").do("write the values out; if a word begins with & or *, put it in quotation marks")
	}
	for i, c := range n.Content {
		if n.Kind == yaml.MappingNode && i%2 == 0 {
			switch {
			case c.Kind == yaml.ScalarNode && c.Value == "<<" && c.Style == 0:
				return newFault("alias", "it takes in another row (<<), which is not followed").do("write the values out")
			case c.Kind != yaml.ScalarNode:
				return newFault("no-names", "a name in it is no plain word").do("write each value as name: value")
			}
		}
		if f := refusedNode(c, depth+1, budget); f != nil {
			return f
		}
	}
	if n.Kind == yaml.MappingNode && depth > 0 {
		seen := map[string]bool{}
		for i := 0; i < len(n.Content); i += 2 {
			if name := n.Content[i].Value; seen[name] {
				return repeatedName(name)
			} else {
				seen[name] = true
			}
		}
	}
	return nil
}
