package result

import "cmp"

// Gear is one size of gloves or gowns at one site: who there needs it, and what the
// rows of stock leave of it.
type Gear struct {
	Item      string   `json:"item"` // "gloves" or "gown"
	Site      string   `json:"site"` // "" where no site is written anywhere
	Size      string   `json:"size"`
	People    []string `json:"people"`     // those who work there and wear it
	LatexFree bool     `json:"latex_free"` // one of them reacts to latex, or is unsure
	Left      string   `json:"left"`       // "yes", "no" or "cannot be told"
	Free      string   `json:"free"`       // the same for those without latex; "" where nobody needs them
	Pieces    float64  `json:"pieces"`     // at most left, where the rows say how many are in a box
	Boxes     float64  `json:"boxes"`      // at most left, of rows that do not
	Counted   string   `json:"counted"`    // the day of the last count; "" where none is typed
	Why       string   `json:"why"`        // why it cannot be told
}

// Left of gear.
const (
	GearLeft   = "yes"
	GearGone   = "no"
	GearUntold = "cannot be told"
)

func compareGear(a, b Gear) int {
	return cmp.Or(cmp.Compare(a.Site, b.Site), cmp.Compare(a.Item, b.Item), cmp.Compare(sizeRank(a.Size), sizeRank(b.Size)), cmp.Compare(a.Size, b.Size))
}

// sizeRank orders sizes by letters from small to large; other words come after them.
func sizeRank(size string) int {
	for i, s := range []string{"XS", "S", "M", "L", "XL", "XXL"} {
		if s == size {
			return i
		}
	}
	return 6
}
