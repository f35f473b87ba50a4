package browser_test

import (
	"bytes"
	"net/url"
	"testing"

	"footing/internal/dev/browser"

	"github.com/stretchr/testify/assert"
)

func TestBrowser(t *testing.T) {
	b := browser.Start(t, "that the browser is driven as tests mean it")
	page := "data:text/html," + url.PathEscape(`<meta name="viewport" content="width=device-width"><title>a</title><p id="p">one</p>`)
	b.Open(page, 375, 800)
	assert.Equal(t, "one", b.Value(`document.getElementById("p").textContent`))
	assert.Equal(t, 375.0, b.Value(`innerWidth`))
	assert.Empty(t, b.Said())
	b.Value(`console.log("heard"); setTimeout(() => document.title = "b", 30)`)
	b.Becomes(`document.title`, "b")
	said := b.Said()
	if assert.Len(t, said, 1) {
		assert.Contains(t, said[0], "heard")
	}
	assert.True(t, bytes.HasPrefix(b.Bytes("Page.captureScreenshot", nil), []byte("\x89PNG")))
	b.Open(page, 1280, 800)
	assert.Empty(t, b.Said(), "what was said belongs to the page that it was said on")
}
