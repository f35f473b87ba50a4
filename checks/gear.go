package checks

import (
	"strings"

	"footing/internal/audit"
	"footing/internal/chain"
	"footing/internal/quantity"
)

// gearSize brings the sizes of gloves to one spelling, letters to letters and
// numbers to numbers; the two are never turned into each other. Any other words
// stay as they are.
func gearSize(written string) string {
	s := strings.ToUpper(strings.Join(strings.Fields(written), " "))
	s = strings.TrimSpace(strings.TrimPrefix(s, "SIZE"))
	switch strings.ReplaceAll(s, "-", " ") {
	case "EXTRA SMALL", "X SMALL", "XS":
		return "XS"
	case "SMALL", "SM", "S":
		return "S"
	case "MEDIUM", "MED", "M":
		return "M"
	case "LARGE", "LG", "L":
		return "L"
	case "EXTRA LARGE", "X LARGE", "XL":
		return "XL"
	case "EXTRA EXTRA LARGE", "XX LARGE", "2XL", "XXL":
		return "XXL"
	}
	s = strings.ReplaceAll(strings.ReplaceAll(s, ",", "."), "½", ".5")
	return strings.TrimSuffix(s, ".0")
}

// gearScale tells the scales of sizes apart: "letters", "numbers", or "" for other words.
func gearScale(size string) string {
	switch {
	case size == "XS" || size == "S" || size == "M" || size == "L" || size == "XL" || size == "XXL":
		return "letters"
	case size != "" && strings.Trim(size, "0123456789.") == "":
		return "numbers"
	}
	return ""
}

// gearFree says whether a pool of gloves is free of latex, by the words of a
// criterion; Unsure where its material is not written, or is none that is known.
func gearFree(free audit.Criterion) func(*chain.Pool) quantity.Tri {
	return func(p *chain.Pool) quantity.Tri {
		material := strings.ReplaceAll(strings.ToLower(p.Material), "-", " ")
		for _, word := range free.Items() {
			if strings.Contains(material, strings.ReplaceAll(word, "-", " ")) {
				return quantity.Yes
			}
		}
		if strings.Contains(material, "latex") || strings.Contains(material, "natural rubber") {
			return quantity.No
		}
		return quantity.Unsure
	}
}

// gearSite is a site as a subject; the practice where no site is written.
func gearSite(id string) audit.Subject {
	if id == "" {
		return audit.Whole
	}
	return audit.Subject{Kind: "sites", ID: id}
}
