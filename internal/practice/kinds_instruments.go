package practice

import (
	"footing/internal/quantity"
)

// Instrument is one row of instruments.
type Instrument struct {
	Entry
	Type         string          `field:"kind"`
	Material     quantity.List   `field:"material"`
	Hinged       quantity.YesNo  `field:"hinged"`
	Hollow       quantity.YesNo  `field:"hollow"`
	HeatSafe     quantity.YesNo  `field:"heat_safe"`
	Reuse        string          `field:"reuse"`
	Owner        string          `field:"owner"`
	Touches      string          `field:"touches"`
	MostCycles   quantity.Number `field:"most_cycles"`
	CyclesBefore quantity.Number `field:"cycles_before"`
	AcquiredOn   quantity.Day    `field:"acquired_on"`
	RetiredOn    quantity.Day    `field:"retired_on"`
	Site         string          `field:"site"`
}

// Cleaning is one row of cleanings.
type Cleaning struct {
	Entry
	Started     quantity.Moment   `field:"started"`
	Ended       quantity.Moment   `field:"ended"`
	Method      string            `field:"method"`
	Loads       quantity.List     `field:"loads"`
	Instruments quantity.List     `field:"instruments"`
	Product     string            `field:"product"`
	Temperature quantity.Quantity `field:"temperature"`
	Person      string            `field:"person"`
	Inspected   quantity.YesNo    `field:"inspected"`
}

// Sterilizer is one row of sterilizers.
type Sterilizer struct {
	Entry
	Method          string            `field:"method"`
	AirRemoval      string            `field:"air_removal"`
	Class           string            `field:"class"`
	Air             string            `field:"air"`
	OperatedBy      string            `field:"operated_by"`
	Site            string            `field:"site"`
	MostPacks       quantity.Number   `field:"most_packs"`
	InstalledOn     quantity.Day      `field:"installed_on"`
	RetiredOn       quantity.Day      `field:"retired_on"`
	CounterStart    quantity.Number   `field:"counter_start"`
	Logger          quantity.YesNo    `field:"logger"`
	AirDetector     quantity.YesNo    `field:"air_detector"`
	SensorTolerance quantity.Quantity `field:"sensor_tolerance"`
}

// Equipment is one row of equipment.
type Equipment struct {
	Entry
	Type        string       `field:"kind"`
	Site        string       `field:"site"`
	InstalledOn quantity.Day `field:"installed_on"`
	RetiredOn   quantity.Day `field:"retired_on"`
}

// Program is one row of programs.
type Program struct {
	Entry
	Sterilizer  string            `field:"sterilizer"`
	Name        string            `field:"name"`
	Temperature quantity.Quantity `field:"temperature"`
	Exposure    quantity.Quantity `field:"exposure"`
	Drying      quantity.Quantity `field:"drying"`
	Pulses      quantity.Number   `field:"pulses"`
	Suits       quantity.List     `field:"suits"`
}

// Load is one row of loads.
type Load struct {
	Entry
	Started          quantity.Moment   `field:"started"`
	Sterilizer       string            `field:"sterilizer"`
	Counter          quantity.Number   `field:"counter"`
	Program          string            `field:"program"`
	Ended            quantity.Moment   `field:"ended"`
	Temperature      quantity.Quantity `field:"temperature"`
	Pressure         quantity.Quantity `field:"pressure"`
	Exposure         quantity.Quantity `field:"exposure"`
	Drying           quantity.Quantity `field:"drying"`
	Wrapped          quantity.YesNo    `field:"wrapped"`
	HingesOpen       quantity.YesNo    `field:"hinges_open"`
	PacksDry         quantity.YesNo    `field:"packs_dry"`
	PacksMade        quantity.Number   `field:"packs_made"`
	Sets             quantity.List     `field:"sets"`
	OutsideIndicator string            `field:"outside_indicator"`
	InsideIndicator  string            `field:"inside_indicator"`
	Printout         quantity.YesNo    `field:"printout"`
	Certificate      string            `field:"certificate"`
	Trace            string            `field:"trace"`
	LoadedBy         string            `field:"loaded_by"`
	ReleasedBy       string            `field:"released_by"`
	ReleasedAt       quantity.Moment   `field:"released_at"`
	Decision         string            `field:"decision"`
	Fault            string            `field:"fault"`
}

// Pack is one row of packs.
type Pack struct {
	Entry
	Load             string          `field:"load"`
	Set              string          `field:"set"`
	Instruments      quantity.List   `field:"instruments"`
	Packaging        string          `field:"packaging"`
	UseBy            quantity.Day    `field:"use_by"`
	StoredAt         string          `field:"stored_at"`
	CountedOn        quantity.Day    `field:"counted_on"`
	OpenedAt         quantity.Moment `field:"opened_at"`
	OutsideIndicator string          `field:"outside_indicator"`
	InsideIndicator  string          `field:"inside_indicator"`
	Condition        string          `field:"condition"`
	Label            quantity.List   `field:"label"`
	DiscardedOn      quantity.Day    `field:"discarded_on"`

	lead packLead
}

// Test is one row of tests.
type Test struct {
	Entry
	Type         string            `field:"kind"`
	RunAt        quantity.Moment   `field:"run_at"`
	Equipment    string            `field:"equipment"`
	Load         string            `field:"load"`
	Program      string            `field:"program"`
	Counter      quantity.Number   `field:"counter"`
	IncubatedAt  quantity.Moment   `field:"incubated_at"`
	ReadAfter    quantity.Quantity `field:"read_after"`
	ReadAt       quantity.Moment   `field:"read_at"`
	ReportedOn   quantity.Day      `field:"reported_on"`
	Lot          string            `field:"lot"`
	LotExpiresOn quantity.Day      `field:"lot_expires_on"`
	Control      string            `field:"control"`
	ControlLot   string            `field:"control_lot"`
	LeakRate     quantity.Quantity `field:"leak_rate"`
	Person       string            `field:"person"`
	Result       string            `field:"result"`
}

// Upkeep is one row of upkeep.
type Upkeep struct {
	Entry
	Equipment    string          `field:"equipment"`
	Task         string          `field:"task"`
	DoneOn       quantity.Day    `field:"done_on"`
	NextDueOn    quantity.Day    `field:"next_due_on"`
	DoneBy       string          `field:"done_by"`
	Result       string          `field:"result"`
	CounterAfter quantity.Number `field:"counter_after"`
}
