package record

import (
	"encoding/json"
	"strings"

	"go.yaml.in/yaml/v4"
)

// nodeValue gives a node as the other formats would: numbers as written if they are
// such as JSON has, yes/no only for true and false, dates and all else as words.
func nodeValue(n *yaml.Node) (shape, string) {
	switch n.Kind {
	case yaml.MappingNode:
		return isObject, nodeJSON(n)
	case yaml.SequenceNode:
		return isArray, nodeJSON(n)
	}
	if n.Style&(yaml.SingleQuotedStyle|yaml.DoubleQuotedStyle|yaml.LiteralStyle|yaml.FoldedStyle|yaml.TaggedStyle) != 0 {
		return isText, n.Value
	}
	return plainScalar(n.Value)
}

// plainScalar gives the meaning of a scalar without quotation marks, by the core
// schema of YAML 1.2: "no" and "on" are words.
func plainScalar(v string) (shape, string) {
	switch v {
	case "", "~", "null", "Null", "NULL":
		return isNull, ""
	case "true", "True", "TRUE":
		return isBool, "true"
	case "false", "False", "FALSE":
		return isBool, "false"
	}
	if jsonNumber(v) {
		return isNumber, v
	}
	return isText, v
}

// jsonNumber is true for a number as JSON writes it.
func jsonNumber(s string) bool {
	i := 0
	if i < len(s) && s[i] == '-' {
		i++
	}
	run := func() bool {
		from := i
		for i < len(s) && s[i] >= '0' && s[i] <= '9' {
			i++
		}
		return i > from
	}
	from := i
	if !run() || s[from] == '0' && i > from+1 {
		return false
	}
	if i < len(s) && s[i] == '.' {
		if i++; !run() {
			return false
		}
	}
	if i < len(s) && (s[i] == 'e' || s[i] == 'E') {
		if i++; i < len(s) && (s[i] == '+' || s[i] == '-') {
			i++
		}
		if !run() {
			return false
		}
	}
	return i == len(s)
}

// nodeJSON writes a node as JSON.
func nodeJSON(n *yaml.Node) string {
	var b strings.Builder
	writeNode(&b, n)
	return b.String()
}

func writeNode(b *strings.Builder, n *yaml.Node) {
	open, end, step := byte('['), byte(']'), 1
	switch n.Kind {
	case yaml.MappingNode:
		open, end, step = '{', '}', 2
	case yaml.SequenceNode:
	default:
		writeScalar(b, n)
		return
	}
	b.WriteByte(open)
	for i := 0; i+step <= len(n.Content); i += step {
		if i > 0 {
			b.WriteByte(',')
		}
		if step == 2 {
			writeText(b, n.Content[i].Value)
			b.WriteByte(':')
		}
		writeNode(b, n.Content[i+step-1])
	}
	b.WriteByte(end)
}

func writeScalar(b *strings.Builder, n *yaml.Node) {
	switch sh, text := nodeValue(n); sh {
	case isText:
		writeText(b, text)
	case isNull:
		b.WriteString("null")
	default:
		b.WriteString(text)
	}
}

func writeText(b *strings.Builder, s string) {
	text, _ := json.Marshal(s) // a string always can
	b.Write(text)
}
