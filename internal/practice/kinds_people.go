package practice

import (
	"footing/internal/quantity"
)

// Person is one row of people.
type Person struct {
	Entry
	Role           string        `field:"role"`
	StartedOn      quantity.Day  `field:"started_on"`
	EndedOn        quantity.Day  `field:"ended_on"`
	Sites          quantity.List `field:"sites"`
	GloveSize      string        `field:"glove_size"`
	GownSize       string        `field:"gown_size"`
	LatexSensitive string        `field:"latex_sensitive"`
	HepatitisB     string        `field:"hepatitis_b"`
	HepatitisBOn   quantity.Day  `field:"hepatitis_b_on"`
	Supervisor     string        `field:"supervisor"`
}

// Credential is one row of credentials.
type Credential struct {
	Entry
	Person     string          `field:"person"`
	Type       string          `field:"kind"`
	ValidFrom  quantity.Day    `field:"valid_from"`
	ValidUntil quantity.Day    `field:"valid_until"`
	Number     string          `field:"number"`
	Class      string          `field:"class"`
	Status     string          `field:"status"`
	Hours      quantity.Number `field:"hours"`
	Procedures quantity.List   `field:"procedures"`
	Sites      quantity.List   `field:"sites"`
	Equipment  quantity.List   `field:"equipment"`
}

// Observation is one row of observations.
type Observation struct {
	Entry
	Person     string        `field:"person"`
	Skill      string        `field:"skill"`
	ObservedOn quantity.Day  `field:"observed_on"`
	Observer   string        `field:"observer"`
	Steps      quantity.List `field:"steps"`
	Outcome    string        `field:"outcome"`
}

// Policy is one row of policies.
type Policy struct {
	Entry
	Topic       string        `field:"topic"`
	Title       string        `field:"title"`
	Version     string        `field:"version"`
	EffectiveOn quantity.Day  `field:"effective_on"`
	ReviewOn    quantity.Day  `field:"review_on"`
	Document    string        `field:"file"`
	SignedBy    quantity.List `field:"signed_by"`
}

// Site is one row of sites.
type Site struct {
	Entry
	Type         string            `field:"kind"`
	OpenedOn     quantity.Day      `field:"opened_on"`
	ClosedOn     quantity.Day      `field:"closed_on"`
	Reprocessing quantity.YesNo    `field:"reprocessing"`
	NotifiedOn   quantity.Day      `field:"notified_on"`
	Altitude     quantity.Quantity `field:"altitude"`
}

// Trip is one row of trips.
type Trip struct {
	Entry
	On           quantity.Day         `field:"on"`
	Person       string               `field:"person"`
	FromSite     string               `field:"from_site"`
	ToSite       string               `field:"to_site"`
	PacksOut     quantity.CountOrList `field:"packs_out"`
	PacksBack    quantity.CountOrList `field:"packs_back"`
	PacksSpoiled quantity.CountOrList `field:"packs_spoiled"`
	SoiledSealed quantity.YesNo       `field:"soiled_sealed"`
}
