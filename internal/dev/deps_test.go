package dev

import (
	_ "github.com/go-json-experiment/json/jsontext"
	_ "github.com/google/go-cmp/cmp"
	_ "github.com/jedib0t/go-pretty/v6/table"
	_ "github.com/rogpeppe/go-internal/testscript"
	_ "github.com/santhosh-tekuri/jsonschema/v5"
	_ "github.com/schollz/progressbar/v3"
	_ "github.com/spf13/cobra"
	_ "github.com/stretchr/testify/require"
	_ "github.com/yuin/goldmark"
	_ "go.yaml.in/yaml/v4"
	_ "golang.org/x/net/html"
	_ "golang.org/x/term"
	_ "golang.org/x/text/encoding/charmap"
	_ "pgregory.net/rapid"
)
