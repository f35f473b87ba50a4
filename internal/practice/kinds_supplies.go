package practice

import (
	"footing/internal/quantity"
)

// Bath is one row of baths.
type Bath struct {
	Entry
	Product          string            `field:"product"`
	Active           string            `field:"active"`
	MixedOn          quantity.Day      `field:"mixed_on"`
	Concentration    quantity.Quantity `field:"concentration"`
	DiscardOn        quantity.Day      `field:"discard_on"`
	SterilizeFor     quantity.Quantity `field:"sterilize_for"`
	DisinfectFor     quantity.Quantity `field:"disinfect_for"`
	LeastTemperature quantity.Quantity `field:"least_temperature"`
}

// Soak is one row of soaks.
type Soak struct {
	Entry
	Bath         string            `field:"bath"`
	Purpose      string            `field:"purpose"`
	InAt         quantity.Moment   `field:"in_at"`
	OutAt        quantity.Moment   `field:"out_at"`
	Instruments  quantity.List     `field:"instruments"`
	Temperature  quantity.Quantity `field:"temperature"`
	StrengthTest string            `field:"strength_test"`
	Rinsed       quantity.YesNo    `field:"rinsed"`
	Person       string            `field:"person"`
}

// Stock is one row of stock.
type Stock struct {
	Entry
	Item      string          `field:"item"`
	On        quantity.Day    `field:"on"`
	Reason    string          `field:"reason"`
	Quantity  quantity.Number `field:"quantity"`
	Each      quantity.Number `field:"each"`
	Site      string          `field:"site"`
	ToSite    string          `field:"to_site"`
	Size      string          `field:"size"`
	Set       string          `field:"set"`
	Material  string          `field:"material"`
	Lot       string          `field:"lot"`
	ExpiresOn quantity.Day    `field:"expires_on"`
}

// Product is one row of products.
type Product struct {
	Entry
	Name        string            `field:"name"`
	Use         string            `field:"use"`
	Contains    quantity.List     `field:"contains"`
	OpenedOn    quantity.Day      `field:"opened_on"`
	DiscardOn   quantity.Day      `field:"discard_on"`
	ExpiresOn   quantity.Day      `field:"expires_on"`
	SheetOn     quantity.Day      `field:"sheet_on"`
	ContactTime quantity.Quantity `field:"contact_time"`
}

// Housekeeping is one row of housekeeping.
type Housekeeping struct {
	Entry
	DoneAt  quantity.Moment `field:"done_at"`
	Task    string          `field:"task"`
	Site    string          `field:"site"`
	Product string          `field:"product"`
	Person  string          `field:"person"`
}

// Waste is one row of waste.
type Waste struct {
	Entry
	Type        string            `field:"kind"`
	OpenedOn    quantity.Day      `field:"opened_on"`
	ClosedOn    quantity.Day      `field:"closed_on"`
	Fill        quantity.Quantity `field:"fill"`
	CollectedOn quantity.Day      `field:"collected_on"`
	Reference   string            `field:"reference"`
	Site        string            `field:"site"`
}

// Action is one row of actions.
type Action struct {
	Entry
	Action     string       `field:"action"`
	DueOn      quantity.Day `field:"due_on"`
	Finding    string       `field:"finding"`
	Owner      string       `field:"owner"`
	DoneOn     quantity.Day `field:"done_on"`
	VerifiedOn quantity.Day `field:"verified_on"`
	VerifiedBy string       `field:"verified_by"`
}
