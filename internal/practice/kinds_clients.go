package practice

import (
	"footing/internal/quantity"
)

// Client is one row of clients.
type Client struct {
	Entry
	BirthYear    quantity.Number `field:"birth_year"`
	FirstVisitOn quantity.Day    `field:"first_visit_on"`
	LastVisitOn  quantity.Day    `field:"last_visit_on"`
}

// History is one row of histories.
type History struct {
	Entry
	Client           string       `field:"client"`
	TakenOn          quantity.Day `field:"taken_on"`
	Diabetes         string       `field:"diabetes"`
	PoorCirculation  string       `field:"poor_circulation"`
	Neuropathy       string       `field:"neuropathy"`
	Deformity        string       `field:"deformity"`
	Anticoagulant    string       `field:"anticoagulant"`
	ImmuneSuppressed string       `field:"immune_suppressed"`
	PastUlcer        string       `field:"past_ulcer"`
	Amputation       string       `field:"amputation"`
	KidneyFailure    string       `field:"kidney_failure"`
	KnownInfection   string       `field:"known_infection"`
	Risk             string       `field:"risk"`
	NextReviewOn     quantity.Day `field:"next_review_on"`
}

// Screen is one row of screens.
type Screen struct {
	Entry
	Client           string        `field:"client"`
	AskedOn          quantity.Day  `field:"asked_on"`
	AskedBy          string        `field:"asked_by"`
	AnyKnown         string        `field:"any_known"`
	Latex            string        `field:"latex"`
	Adhesive         string        `field:"adhesive"`
	Colophony        string        `field:"colophony"`
	Chlorhexidine    string        `field:"chlorhexidine"`
	Iodine           string        `field:"iodine"`
	LocalAnaesthetic string        `field:"local_anaesthetic"`
	Lanolin          string        `field:"lanolin"`
	Nickel           string        `field:"nickel"`
	Acrylate         string        `field:"acrylate"`
	Salicylate       string        `field:"salicylate"`
	Antibiotic       string        `field:"antibiotic"`
	Fragrance        string        `field:"fragrance"`
	NutOil           string        `field:"nut_oil"`
	Other            quantity.List `field:"other"`
	Reaction         string        `field:"reaction"`
}

// Consent is one row of consents.
type Consent struct {
	Entry
	Client      string         `field:"client"`
	GivenOn     quantity.Day   `field:"given_on"`
	Procedures  quantity.List  `field:"procedures"`
	GivenBy     string         `field:"given_by"`
	StudentsOk  quantity.YesNo `field:"students_ok"`
	ExpiresOn   quantity.Day   `field:"expires_on"`
	WithdrawnOn quantity.Day   `field:"withdrawn_on"`
}

// Visit is one row of visits.
type Visit struct {
	Entry
	Client          string          `field:"client"`
	Started         quantity.Moment `field:"started"`
	Person          string          `field:"person"`
	Ended           quantity.Moment `field:"ended"`
	Site            string          `field:"site"`
	Status          string          `field:"status"`
	Procedures      quantity.List   `field:"procedures"`
	Supervisor      string          `field:"supervisor"`
	Gloves          string          `field:"gloves"`
	GloveSize       string          `field:"glove_size"`
	Gear            quantity.List   `field:"gear"`
	Instruments     quantity.List   `field:"instruments"`
	Packs           quantity.List   `field:"packs"`
	Loads           quantity.List   `field:"loads"`
	PacksUsed       quantity.Number `field:"packs_used"`
	SingleUse       quantity.List   `field:"single_use"`
	Products        quantity.List   `field:"products"`
	DustExtraction  quantity.YesNo  `field:"dust_extraction"`
	Noticed         quantity.List   `field:"found"`
	Bleeding        string          `field:"bleeding"`
	Advice          quantity.List   `field:"advice"`
	SignedOn        quantity.Day    `field:"signed_on"`
	CountersignedOn quantity.Day    `field:"countersigned_on"`

	lead []*Pack // by place in Packs; nil for what leads to no single pack
}

// Referral is one row of referrals.
type Referral struct {
	Entry
	Client    string       `field:"client"`
	SentOn    quantity.Day `field:"sent_on"`
	Visit     string       `field:"visit"`
	Reason    string       `field:"reason"`
	Urgency   string       `field:"urgency"`
	OutcomeOn quantity.Day `field:"outcome_on"`
}

// Incident is one row of incidents.
type Incident struct {
	Entry
	Type       string       `field:"kind"`
	OccurredOn quantity.Day `field:"occurred_on"`
	RecordedOn quantity.Day `field:"recorded_on"`
	Client     string       `field:"client"`
	Visit      string       `field:"visit"`
	Person     string       `field:"person"`
	Exposed    string       `field:"exposed"`
	BodyPart   string       `field:"body_part"`
	Action     string       `field:"action"`
	ReportedTo string       `field:"reported_to"`
	FollowUpOn quantity.Day `field:"follow_up_on"`
	ClosedOn   quantity.Day `field:"closed_on"`
}

// Complaint is one row of complaints.
type Complaint struct {
	Entry
	ReceivedOn     quantity.Day   `field:"received_on"`
	Client         string         `field:"client"`
	Visit          string         `field:"visit"`
	Person         string         `field:"person"`
	AboutFrom      quantity.Day   `field:"about_from"`
	AboutUntil     quantity.Day   `field:"about_until"`
	Subject        string         `field:"subject"`
	ReplyBy        quantity.Day   `field:"reply_by"`
	AcknowledgedOn quantity.Day   `field:"acknowledged_on"`
	AnsweredOn     quantity.Day   `field:"answered_on"`
	ClosedOn       quantity.Day   `field:"closed_on"`
	Hold           quantity.YesNo `field:"hold"`
}
