package practice

import (
	"footing/internal/quantity"
	"footing/internal/record"
)

// Records is a folder's accepted rows, by kind.
type Records struct {
	Profile      Profile        `kind:"practice"`
	Rules        Rules          `kind:"rules"`
	People       []Person       `kind:"people"`
	Credentials  []Credential   `kind:"credentials"`
	Observations []Observation  `kind:"observations"`
	Policies     []Policy       `kind:"policies"`
	Sites        []Site         `kind:"sites"`
	Clients      []Client       `kind:"clients"`
	Histories    []History      `kind:"histories"`
	Screens      []Screen       `kind:"screens"`
	Consents     []Consent      `kind:"consents"`
	Visits       []Visit        `kind:"visits"`
	Referrals    []Referral     `kind:"referrals"`
	Instruments  []Instrument   `kind:"instruments"`
	Cleanings    []Cleaning     `kind:"cleanings"`
	Sterilizers  []Sterilizer   `kind:"sterilizers"`
	Equipment    []Equipment    `kind:"equipment"`
	Programs     []Program      `kind:"programs"`
	Loads        []Load         `kind:"loads"`
	Packs        []Pack         `kind:"packs"`
	Tests        []Test         `kind:"tests"`
	Baths        []Bath         `kind:"baths"`
	Soaks        []Soak         `kind:"soaks"`
	Upkeep       []Upkeep       `kind:"upkeep"`
	Stock        []Stock        `kind:"stock"`
	Products     []Product      `kind:"products"`
	Housekeeping []Housekeeping `kind:"housekeeping"`
	Waste        []Waste        `kind:"waste"`
	Trips        []Trip         `kind:"trips"`
	Incidents    []Incident     `kind:"incidents"`
	Complaints   []Complaint    `kind:"complaints"`
	Actions      []Action       `kind:"actions"`
}

// Entry is what every row has, whatever its kind.
type Entry struct {
	record.Row
	EnteredOn quantity.Day `field:"entered_on"`
	KeptAt    string       `field:"kept_at"`
	Corrects  string       `field:"corrects"`
	Note      string       `field:"note"`
}

// Document is what the two single documents have.
type Document struct {
	record.Row
	EnteredOn quantity.Day `field:"entered_on"`
	KeptAt    string       `field:"kept_at"`
	Note      string       `field:"note"`
}

// Profile is practice.yaml.
type Profile struct {
	Document
	Name         string            `field:"name"`
	Regulator    string            `field:"regulator"`
	Jurisdiction string            `field:"jurisdiction"`
	TimeZone     string            `field:"time_zone"`
	Altitude     quantity.Quantity `field:"altitude"`
	Dates        string            `field:"dates"`
	Units        struct {
		Temperature string `field:"temperature"`
		Pressure    string `field:"pressure"`
	} `field:"units"`
	RuleSet      string        `field:"rule_set"`
	RecordsFrom  quantity.Day  `field:"records_from"`
	RenewalOn    quantity.Day  `field:"renewal_on"`
	InspectionOn quantity.Day  `field:"inspection_on"`
	Services     quantity.List `field:"services"`
	Reprocessing string        `field:"reprocessing"`
	ClosedDays   quantity.List `field:"closed_days"`
	Coverage     []Coverage    `field:"coverage"`
	Contacts     struct {
		PublicHealth string `field:"public_health"`
		Regulator    string `field:"regulator"`
		Insurer      string `field:"insurer"`
	} `field:"contacts"`
	Declarations []Declaration `field:"declarations"`
}

// Coverage says for which time all (or some) rows of a kind are in the folder.
type Coverage struct {
	Kind   string       `field:"kind"`
	From   quantity.Day `field:"from"`
	Until  quantity.Day `field:"until"`
	Share  string       `field:"share"`
	KeptAt string       `field:"kept_at"`
}

// Declaration is a statement to be signed, with the kinds of record it rests on.
type Declaration struct {
	Text    string        `field:"text"`
	RestsOn quantity.List `field:"rests_on"`
}

// Rules is rules.yaml: criteria chosen or changed, scope grants, questions asked, findings accepted.
type Rules struct {
	Document
	Criteria        []RuleChoice      `field:"criteria"`
	Scope           []ScopeGrant      `field:"scope"`
	ScreenQuestions quantity.List     `field:"screen_questions"`
	Accepted        []AcceptedFinding `field:"accepted"`
}

// RuleChoice is one criterion as the practice has it from its own source.
type RuleChoice struct {
	Criterion string `field:"criterion"`
	Value     string `field:"value"`
	When      string `field:"when"`
	Source    string `field:"source"`
	Note      string `field:"note"`
}

// ScopeGrant permits a procedure or an instrument to a role, a person or a class of credential.
type ScopeGrant struct {
	Permits string       `field:"permits"`
	To      string       `field:"to"`
	Source  string       `field:"source"`
	From    quantity.Day `field:"from"`
	Until   quantity.Day `field:"until"`
}

// AcceptedFinding is a finding that the practice accepts for a time.
type AcceptedFinding struct {
	Finding string       `field:"finding"`
	Reason  string       `field:"reason"`
	By      string       `field:"by"`
	Until   quantity.Day `field:"until"`
}
