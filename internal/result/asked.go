package result

// Occasions that a report can be asked to be made for. Without one it is made by the
// dates of practice.yaml, and its kind is "self-audit" where none lies ahead.
const (
	Renewal    = "renewal"
	Inspection = "inspection"
	Complaint  = "complaint"
)

// States of what an inspector may ask for. Not typed is not "not done".
const (
	AskedFound   = "found"
	AskedPart    = "in part"
	AskedUntyped = "not typed"
	AskedNone    = "does not apply"
)

// AskedFor is one thing that an inspector may ask to see, and what of it is typed.
type AskedFor struct {
	Topic    string     `json:"topic"`    // "the sterilizer log"
	Question string     `json:"question"` // as it may be asked
	State    string     `json:"state"`    // found, in part, not typed, does not apply
	Found    int        `json:"found"`
	Of       int        `json:"of"`     // 0 where nothing says how many there should be
	Things   string     `json:"things"` // what is counted, plural: "months"
	What     string     `json:"what"`   // what is written, in words
	Lacks    []string   `json:"lacks"`  // each thing of which nothing is typed
	Look     string     `json:"look"`   // where to look first; "" for nothing to look for
	KeptAt   []string   `json:"kept_at"`
	Evidence []Evidence `json:"evidence"`
	Walk     *Chain     `json:"walk"` // of a pack or visit drawn; else nil
}

// Support is what the folder holds of one kind of record that a declaration rests on.
type Support struct {
	Kind     string     `json:"kind"`
	Rows     int        `json:"rows"`   // in the period, or all of a kind without days
	Months   int        `json:"months"` // of the period with a row; 0 for a kind without days
	Of       int        `json:"of"`     // months of the period; 0 for a kind without days
	Without  []string   `json:"without"`
	Papers   []Paper    `json:"papers"` // certificates or policies, with their days
	KeptAt   []string   `json:"kept_at"`
	Evidence []Evidence `json:"evidence"`
}

// Paper is a certificate or policy and the days from and until which it holds; "" for
// a day that is not written.
type Paper struct {
	What  string `json:"what"` // "liability cover of P-01"
	From  string `json:"from"`
	Until string `json:"until"`
	State string `json:"state"` // "in force", "ended", "begins later", "suspended"
}

// How far records support a declaration.
const (
	Supported   = "supported"
	PartSupport = "in part"
	NoSupport   = "nothing in the folder"
)

// Bundle is everything in the folder that touches a complaint.
type Bundle struct {
	Words    string   `json:"words"` // "complaint CP-1, received on 20 Nov 2026"
	Client   string   `json:"client"`
	Received string   `json:"received"`
	ReplyBy  string   `json:"reply_by"` // "" where none is written
	Says     []string `json:"says"`
	Now      []string `json:"now"`
	Decides  string   `json:"decides"`
	Chains   []Chain  `json:"chains"` // one a visit, by time
	Others   *Others  `json:"others"` // other clients, as counts
	Missing  []string `json:"missing"`
	Limits   []string `json:"limits"`
	Files    []Kept   `json:"files"` // that hold a row of it, by name
}

// Kept is a file to be kept as it is.
type Kept struct {
	File   string `json:"file"`
	SHA256 string `json:"sha256"`
	Places int    `json:"places"` // rows, or 1 for a data-logger file
	Later  int    `json:"later"`  // of them typed after the complaint was received
}
