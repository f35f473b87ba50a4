package report

import (
	"testing"

	"footing/internal/dev/browser"
)

func startBrowser(t *testing.T) *browser.Browser {
	t.Helper()
	return browser.Start(t, "the look of the page")
}
