package workbook

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"strings"
	"testing"
	"testing/iotest"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

// ourEvents lists what the scanner sees: elements of spreadsheet namespaces by name,
// others as "-", attributes as they are written, text joined.
func ourEvents(r io.Reader) (list []string, err error) {
	x := newScanner("p", r)
	text := []byte{}
	for {
		t, err := x.next()
		if t != words && len(text) > 0 {
			list, text = append(list, fmt.Sprintf("%q", text)), text[:0]
		}
		switch {
		case err != nil:
			return list, err
		case t == atEnd:
			return list, nil
		case t == words:
			if text, err = x.appendText(text); err != nil {
				return list, err
			}
		case t == closed:
			list = append(list, "/"+shown(x.name))
		default:
			s := shown(x.name)
			for _, a := range x.attrs {
				v, err := x.decode(nil, a.value)
				if err != nil {
					return list, err
				}
				s += fmt.Sprintf(" %s=%q", a.name, v)
			}
			list = append(list, s)
		}
	}
}

func shown(name []byte) string {
	if name == nil {
		return "-"
	}
	return string(name)
}

// theirEvents lists the same by encoding/xml.
func theirEvents(data []byte) (list []string, err error) {
	d := xml.NewDecoder(bytes.NewReader(data))
	d.CharsetReader = func(label string, r io.Reader) (io.Reader, error) { return r, nil }
	text := ""
	name := func(n xml.Name) string {
		if knownSpaces[n.Space] {
			return n.Local
		}
		return "-"
	}
	raw := xml.NewDecoder(bytes.NewReader(data)) // for the names of attributes as written
	raw.CharsetReader = d.CharsetReader
	for {
		t, err := d.Token()
		switch t.(type) {
		case xml.CharData, xml.Comment, xml.ProcInst:
		default:
			if text != "" {
				list, text = append(list, fmt.Sprintf("%q", text)), ""
			}
		}
		if errors.Is(err, io.EOF) {
			return list, nil
		}
		if err != nil {
			return list, err
		}
		switch t := t.(type) {
		case xml.Directive:
			return list, errors.New("a definition")
		case xml.CharData:
			text += string(t)
		case xml.EndElement:
			list = append(list, "/"+name(t.Name))
		case xml.StartElement:
			s := name(t.Name)
			for _, a := range rawAttrs(raw) {
				if a.Name.Space != "" {
					a.Name.Local = a.Name.Space + ":" + a.Name.Local
				}
				s += fmt.Sprintf(" %s=%q", a.Name.Local, a.Value)
			}
			list = append(list, s)
		}
	}
}

// rawAttrs gives those of the next element.
func rawAttrs(d *xml.Decoder) []xml.Attr {
	for {
		t, err := d.RawToken()
		if err != nil {
			return nil
		}
		if s, ok := t.(xml.StartElement); ok {
			return s.Copy().Attr
		}
	}
}

var xmlSeeds = []string{
	`<?xml version="1.0" encoding="UTF-8" standalone="yes"?><worksheet xmlns="` + spreadsheetSpace + `"><sheetData><row r="1"><c r="A1" t="s"><v>0</v></c></row></sheetData></worksheet>`,
	`<x:worksheet xmlns:x="` + spreadsheetSpace + `"><x:c r='A"1'/><c/><y:c/></x:worksheet>`,
	`<a xmlns="` + spreadsheetSpace + `"><b xmlns="other"><c/></b><c/><d xmlns=""/></a>`,
	`<t>a &lt;&amp;&gt;&quot;&apos;&#65;&#x41;&#13; b</t>`, `<t><![CDATA[a < b && ]] ]]></t>`, `<t>a<!-- b > <c> -->d</t>`,
	`<a><!----></a>`, `<a><!-- a -- b --></a>`, `<a><!-- a---></a>`, "<t>a\r\nb\rc</t>", `<a b = "1"  c='2' />`, `<a b="1"c="2"/>`, `<a b=1/>`, `<a b/>`, `<a b="&bad;"/>`,
	`<a></b>`, `<a>`, `</a>`, `<a/`, `<`, ``, ` `, `<a:b:c/>`, `<:a/>`, `<a:/>`, `<1/>`, `<-a/>`, `<a ><b></b ></a >`, `< a/>`, "<t>\x00</t>", "<t>\xff</t>", "<t>\uFFFE</t>", `<t>&#0;</t>`,
	`<t>&#xD800;</t>`, `<t>&#1114112;</t>`, `<!DOCTYPE a><a/>`, `<?x?><a/>`, `<??><a/>`, `<?8?><a/>`, `<t>]]></t>`, `<a b="<"/>`, `<é/>`, `<t>&</t>`, `<t>&amp</t>`, "<a b=\"1\n2\t3\"/>", `<a/><b/>`, `text<a/>`,
}

// agree holds the scanner to encoding/xml. It may be laxer in what no part of a workbook
// depends on: "]]>" in text, "<" in an attribute, letters of names beyond ASCII, the
// version of XML; and stricter in definitions, depth and length, encodings, and in &#xD800; (half a character).
func agree(t require.TestingT, data []byte) {
	theirs, theirErr := theirEvents(data)
	ours, err := ourEvents(bytes.NewReader(data))
	slow, slowErr := ourEvents(iotest.OneByteReader(bytes.NewReader(data)))
	require.Equal(t, ours, slow, "%q read byte by byte", data)
	require.Equal(t, err == nil, slowErr == nil, "%q read byte by byte: %v, %v", data, err, slowErr)
	switch {
	case err == nil && theirErr == nil:
		require.Equal(t, theirs, ours, "%q", data)
	case theirErr == nil:
		known := bytes.Contains(data, []byte("<!")) || bytes.Contains(data, []byte("encoding")) || bytes.Contains(data, []byte("&#")) || deepNames(data) > deepest
		require.True(t, known, "%q is refused (%v), but not by encoding/xml", data, err)
	case err == nil:
		why := theirErr.Error()
		lax := strings.Contains(why, "]]>") || strings.Contains(why, "unescaped <") || strings.Contains(why, "invalid XML name") ||
			strings.Contains(why, "unsupported version") || strings.Contains(why, "element name") || strings.Contains(why, "attribute name") ||
			strings.Contains(why, "invalid UTF-8") || strings.Contains(why, "encoding") || strings.Contains(why, "XML declaration") || strings.Contains(why, "target name")
		require.True(t, lax && !plainASCII(data) || strings.Contains(why, "]]>") || strings.Contains(why, "unescaped <") || strings.Contains(why, "version"),
			"%q is read, but encoding/xml says %v", data, theirErr)
	}
}

func plainASCII(data []byte) bool {
	for _, c := range data {
		if c >= 0x80 {
			return false
		}
	}
	return true
}

func deepNames(data []byte) int { return bytes.Count(data, []byte("<")) }

func TestScannerAgreesWithEncodingXML(t *testing.T) {
	for _, s := range xmlSeeds {
		agree(t, []byte(s))
	}
}

func FuzzScanner(f *testing.F) {
	for _, s := range xmlSeeds {
		f.Add([]byte(s))
	}
	f.Fuzz(func(t *testing.T, data []byte) { agree(t, data) })
}

// Pieces put together at random reach further into the grammar than random bytes.
func TestScannerAgreesOnPieces(t *testing.T) {
	pieces := append([]string{"<a>", "</a>", "<b c='d'>", "</b>", "<x:a xmlns:x=\"" + spreadsheetSpace + "\">", "</x:a>", "<a/>", " ", "text", "&lt;", "<!-- c -->", "<![CDATA[", "]]>", "é", "\r", "\n"}, xmlSeeds...)
	rapid.Check(t, func(t *rapid.T) {
		agree(t, []byte(strings.Join(rapid.SliceOfN(rapid.SampledFrom(pieces), 0, 12).Draw(t, "pieces"), "")))
	})
}

func TestScannerBounds(t *testing.T) {
	read := func(s string) error { _, err := ourEvents(strings.NewReader(s)); return err }
	nested := func(n int) string { return strings.Repeat("<a>", n) + strings.Repeat("</a>", n) }
	assert.NoError(t, read(nested(deepest)))
	assert.Error(t, read(nested(deepest+1)))
	long := strings.Repeat("x", longestToken-64<<10)
	over := strings.Repeat("x", longestToken)
	for _, form := range []string{"<t>%s</t>", "<t a='%s'/>", "<!--%s--><t/>", "<t><![CDATA[%s]]></t>", "<%s/>", "<?%s?><t/>"} {
		assert.NoError(t, read(fmt.Sprintf(form, long)), form)
		assert.Error(t, read(fmt.Sprintf(form, over)), form)
	}
	for _, end := range []string{"<a>", "<a", "<a b='", "<!--", "<![CDATA[", "<?x", "<a>text", "<a></a"} {
		assert.Error(t, read(end), end)
	}
	_, err := ourEvents(iotest.TimeoutReader(strings.NewReader(nested(9))))
	assert.Error(t, err)
}
