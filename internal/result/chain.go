package result

// Formats of the documents of look-backs and draws.
const (
	LookbackFormat = "footing look-back 1"
	DrawFormat     = "footing draw 1"
)

// Names of the two windows of a look-back.
const (
	Wide   = "wide"   // the strict rule
	Narrow = "narrow" // the lenient rule
)

// Answer is one look-back as a document of its own: lookback.json.
type Answer struct {
	Format   string            `json:"format"`
	Tool     string            `json:"tool"`
	AsOf     string            `json:"as_of"`
	Practice Practice          `json:"practice"`
	Period   Period            `json:"period"`
	Contacts map[string]string `json:"contacts"`
	RuleSet  string            `json:"rule_set"`
	Rules    []Rule            `json:"rules"` // chosen or changed
	Asked    Asked             `json:"asked"`
	Says     []string          `json:"says"` // first lines: what this is, and what was found
	Now      []string          `json:"now"`  // what to do now, in order
	Decides  string            `json:"decides"`
	// Lookbacks are forward answers: one, or one a sterilizer. Chains are backward
	// answers: one a visit.
	Lookbacks []Lookback `json:"lookbacks"`
	Chains    []Chain    `json:"chains"`
	Others    *Others    `json:"others"`          // other clients, as counts; nil where nothing is asked of one client
	Missing   []string   `json:"missing"`         // what is not in the folder, and where to look first
	Limits    []string   `json:"limits"`          // what the figures are not
	Shared    string     `json:"shared,omitzero"` // as in Result
}

// Asked is the question of a look-back.
type Asked struct {
	Kind  string `json:"kind"` // the kind of record named: loads, tests, sterilizers, packs, instruments, clients, visits, complaints
	ID    string `json:"id"`
	Since string `json:"since"`
	Until string `json:"until"`
	Words string `json:"words"` // "spore test T-41 of sterilizer S1, run on 3 Nov 2026"
}

// Others counts clients beside the one asked about: those whose visits share a load, a
// pack or an instrument with the visits listed.
type Others struct {
	Clients int      `json:"clients"`
	Shares  []string `json:"shares"` // "12 other clients had packs of the same loads"
}

// Lookback says how far back a failure could reach, and whom.
type Lookback struct {
	Kind       string      `json:"kind"` // of the subject: sterilizers, loads, tests, packs, instruments
	ID         string      `json:"id"`
	Sterilizer string      `json:"sterilizer"` // "" where several or none
	Summary    string      `json:"summary"`    // one line for a headline
	Failed     string      `json:"failed"`     // the day of a failed spore test of this time that is or may be of it; "" where none is written
	Bounded    bool        `json:"bounded"`    // a passed spore test gives the wide window its beginning
	Windows    []Window    `json:"windows"`    // the wide one first
	Pull       []Pull      `json:"pull"`       // packs to put on hold first; empty in an audit
	Affected   []Affected  `json:"affected"`   // visits, by time; empty in an audit
	Loads      []InWindow  `json:"loads"`      // by time; empty in an audit
	Narrowing  []Narrowing `json:"narrowing"`  // what would narrow it, most first
}

// Window is one time that a failure could have reached, and what lies in it. Days is
// -1 where it cannot be told.
type Window struct {
	Name       string     `json:"name"` // "wide" or "narrow"
	Since      string     `json:"since"`
	Until      string     `json:"until"` // the day of the audit where nothing closes it
	Why        string     `json:"why"`   // what it begins with, and the rule
	Proof      []Evidence `json:"proof"`
	Days       int        `json:"days"`
	Loads      int        `json:"loads"`
	Packs      int        `json:"packs"`      // with rows
	Unnumbered int        `json:"unnumbered"` // made by count alone
	Uncounted  int        `json:"uncounted"`  // loads that do not count their packs, and may have made more
	OnShelf    int        `json:"on_shelf"`
	Unwritten  int        `json:"unwritten"` // packs whose whereabouts are not written
	Visits     int        `json:"visits"`    // that name a pack or load of it
	Clients    int        `json:"clients"`
	// With the visits that name no pack, and could have had one of these: upper limits.
	MostVisits  int `json:"most_visits"`
	MostClients int `json:"most_clients"`
}

// InWindow is one load of a look-back.
type InWindow struct {
	Load     string   `json:"load"`
	On       string   `json:"on"`
	Counter  string   `json:"counter"`
	Decision string   `json:"decision"`
	Shows    string   `json:"shows"` // indicators and data-logger file, in words
	Packs    string   `json:"packs"` // how many it made, in words
	Narrow   bool     `json:"narrow"`
	Record   Evidence `json:"record"`
}

// Where to look for a pack to put on hold.
const (
	PullShelf   = "shelf"       // counted at its site
	PullBag     = "bag"         // out on a trip, or kept in a bag that travels
	PullUnknown = "not written" // it has a row, and nothing says where it is
	PullCount   = "count"       // known by its load's count alone
)

// Pull is a pack to put on hold.
type Pull struct {
	Pack   string   `json:"pack"` // "" for a count of packs without numbers
	Count  int      `json:"count"`
	Load   string   `json:"load"`
	Set    string   `json:"set"`
	Site   string   `json:"site"`
	Where  string   `json:"where"` // where to look: shelf, bag, not written, count
	State  string   `json:"state"` // the same in words: "counted on the shelf", "whereabouts not written", …
	On     string   `json:"on"`    // last seen
	Narrow bool     `json:"narrow"`
	Record Evidence `json:"record"`
}

// Affected is a visit at which something of the window was, or could have been, used.
type Affected struct {
	Visit  string   `json:"visit"`
	Client string   `json:"client"`
	On     string   `json:"on"`
	Site   string   `json:"site"`
	Person string   `json:"person"`
	How    string   `json:"how"` // "names pack P-12 of load L-3", "names no pack; could have had one"
	Named  bool     `json:"named"`
	Narrow bool     `json:"narrow"`
	Record Evidence `json:"record"`
}

// Narrowing is a record that would make the wide window smaller, with what it would
// come to then.
type Narrowing struct {
	What    string `json:"what"`
	Days    int    `json:"days"`
	Loads   int    `json:"loads"`
	Visits  int    `json:"visits"`
	Clients int    `json:"clients"`
}

// States of a link of a chain.
const (
	LinkFound   = "found"
	LinkPart    = "in part"
	LinkMissing = "not found"   // kept for others, and not found for this one
	LinkUnkept  = "never typed" // no row of it is in the folder, so it is not judged
	LinkNone    = "does not apply"
)

// Chain is everything behind one visit.
type Chain struct {
	Visit  string     `json:"visit"`
	Client string     `json:"client"`
	On     string     `json:"on"`
	Site   string     `json:"site"`
	Person string     `json:"person"`
	Whole  bool       `json:"whole"` // each link that is kept was found
	Links  []Link     `json:"links"`
	Copies []Evidence `json:"copies"` // rows typed after a complaint was received
	Record Evidence   `json:"record"`
}

// Link is one step of a chain.
type Link struct {
	Name     string     `json:"name"`  // "allergy screen"
	State    string     `json:"state"` // found, in part, not found, never typed, does not apply
	What     string     `json:"what"`  // "asked 2 Feb 2026; latex: no"
	Evidence []Evidence `json:"evidence"`
}

// Trail is what a random draw of visits came to. Low and High are per cent, 0 to 100.
type Trail struct {
	Seed     int64       `json:"seed"`
	Of       int         `json:"of"` // visits that could be drawn
	Drawn    []string    `json:"drawn"`
	Judged   int         `json:"judged"`   // those with some link that is kept; the interval is over these
	Followed int         `json:"followed"` // those of them whose chain is whole
	Level    float64     `json:"level"`    // of the interval, per cent
	Low      float64     `json:"low"`
	High     float64     `json:"high"`
	Links    []TrailLink `json:"links"`   // in the order of the chain
	Weakest  string      `json:"weakest"` // name of a link; "" where none was missing
}

// TrailLink counts one link over the visits drawn.
type TrailLink struct {
	Name    string `json:"name"`
	Found   int    `json:"found"`
	Missing int    `json:"missing"`
	Unkept  int    `json:"unkept"`
	None    int    `json:"none"` // does not apply
}

// Draw is a random draw as a document of its own: draw.json.
type Draw struct {
	Format   string            `json:"format"`
	Tool     string            `json:"tool"`
	AsOf     string            `json:"as_of"`
	Practice Practice          `json:"practice"`
	Period   Period            `json:"period"`
	Contacts map[string]string `json:"contacts"`
	RuleSet  string            `json:"rule_set"`
	Rules    []Rule            `json:"rules"` // chosen or changed
	Trail    Trail             `json:"trail"`
	Chains   []Chain           `json:"chains"`
	Missing  []string          `json:"missing"`         // what of the folder could not be read
	Shared   string            `json:"shared,omitzero"` // as in Result
}

// Day is one day of one sterilizer on which something is written. A test's word is
// pass, fail or pending; "" where none was run that day, "no result" where none is written.
type Day struct {
	On         string `json:"on"`
	Sterilizer string `json:"sterilizer"`
	Loads      int    `json:"loads"` // but rejected ones
	Rejected   int    `json:"rejected"`
	Spore      string `json:"spore"`
	AirRemoval string `json:"air_removal"`
	Leak       string `json:"leak"`
}

// Gap is a stretch of days in which a test was looked for and is not written.
type Gap struct {
	Sterilizer string `json:"sterilizer"`
	Test       string `json:"test"` // "spore", "air-removal", "leak"
	From       string `json:"from"`
	Until      string `json:"until"`
	Days       int    `json:"days"`
}

// Month is one month of one sterilizer, with what each load has written. Spore is
// "yes", "no" or "not told".
type Month struct {
	Month      string `json:"month"` // 2026-03
	Sterilizer string `json:"sterilizer"`
	Loads      int    `json:"loads"` // but rejected ones
	Exposure   int    `json:"exposure"`
	Indicators int    `json:"indicators"`
	Release    int    `json:"release"`
	Spore      string `json:"spore"`
	Missing    string `json:"missing"` // what keeps it from being whole, in words; "" for nothing
}
