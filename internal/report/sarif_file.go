package report

import (
	"fmt"
	"strings"

	"footing/internal/result"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"
)

// FindingsSARIF writes the findings for editors, as SARIF 2.1.0 of OASIS: a rule a
// check, a result a finding, with its first place as the location and the others as
// related ones. A place of a text file has line and columns, counted in characters; one
// of a workbook its sheet and cell. What is written there is left out, so that the file
// holds no private value. Paths are relative to the folder of records, which has the name
// RECORDS. An accepted finding is no suppressed one: it is shown, and says that it is accepted.
func FindingsSARIF(r *result.Result) ([]byte, error) {
	s := newSarif(r)
	out, err := json.Marshal(s.log(), json.Deterministic(true), jsontext.AllowInvalidUTF8(true), jsontext.EscapeForHTML(false), jsontext.WithIndent("  "))
	if err != nil {
		return nil, fmt.Errorf("the findings cannot be written as SARIF: %w", err)
	}
	return append(out, '\n'), nil
}

// sarif is a result on its way into the form of editors.
type sarif struct {
	*index
	hide  func(string) string
	rule  map[string]int // check → its rule
	rules []sarifRule
	file  map[string]int // path → its artifact
	list  []sarifArtifact
}

func newSarif(r *result.Result) *sarif {
	s := &sarif{index: newIndex(r), hide: unnamed(r), rule: map[string]int{}, rules: []sarifRule{}, file: map[string]int{}}
	for i := range r.Checks {
		id := plain(r.Checks[i].ID)
		if _, known := s.rule[id]; !known {
			s.rule[id] = len(s.rules)
			s.rules = append(s.rules, s.ruleOf(&r.Checks[i]))
		}
	}
	for _, f := range r.Intake {
		s.artifact(onDisk(f), f.SHA256)
	}
	for i := range r.Traces {
		s.artifact(r.Traces[i].File, r.Traces[i].SHA256)
	}
	return s
}

// artifact lists a file once.
func (s *sarif) artifact(file, sum string) {
	path := sarifPath(file)
	if _, known := s.file[path]; known || path == "" {
		return
	}
	s.file[path] = len(s.list)
	a := sarifArtifact{Location: sarifFile{URI: path, Base: recordsBase}}
	if sum != "" {
		a.Hashes = map[string]string{"sha-256": sum}
	}
	s.list = append(s.list, a)
}

// say is one line of text without a name in it.
func (s *sarif) say(text string) sarifText { return sarifText{Text: s.hide(plain(text))} }

func (s *sarif) log() *sarifLog {
	results := make([]sarifResult, 0, len(s.order))
	for _, i := range s.order { // before the artifacts are listed, to which they may add
		results = append(results, s.result(&s.Findings[i]))
	}
	run := sarifRun{Tool: sarifTool{Driver: s.driver()}, Bases: map[string]sarifBase{recordsBase: {Description: sarifText{Text: "the folder of records that was read"}}},
		Automation: sarifAutomation{ID: "footing/" + plain(s.AsOf)}, ColumnKind: "unicodeCodePoints", Artifacts: s.list, Results: results, Invocations: []sarifInvocation{s.invocation()}}
	return &sarifLog{Schema: sarifSchema, Version: "2.1.0", Runs: []sarifRun{run}}
}

func (s *sarif) driver() sarifDriver {
	name, version, _ := strings.Cut(plain(s.Tool), " ")
	return sarifDriver{Name: orElse(name, "footing"), Version: version, Rules: s.rules}
}

func (s *sarif) ruleOf(c *result.Check) sarifRule {
	var help []string
	for _, step := range c.Fix {
		help = append(help, stop(step))
	}
	if plain(c.Verify) != "" {
		help = append(help, "Then check: "+stop(c.Verify))
	}
	if len(c.Criteria) > 0 {
		help = append(help, "Compared with: "+join(c.Criteria)+".")
	}
	rule := sarifRule{ID: plain(c.ID), Short: s.say(orElse(c.Title, c.ID)), Full: s.say(c.Why), Help: s.say(strings.Join(help, " ")),
		Properties: sarifRuleMore{Criteria: c.Criteria, Outcome: c.Outcome}}
	if len(c.Grades) > 0 {
		rule.Default = sarifDefault{Level: sarifLevel(c.Grades[0])}
	}
	return rule
}

// result is one finding.
func (s *sarif) result(f *result.Finding) sarifResult {
	out := sarifResult{Rule: plain(f.Check), Level: sarifLevel(f.Grade), Message: s.message(f), Fingerprints: map[string]string{"footing/v1": plain(f.Fingerprint)},
		Properties: sarifResultMore{Grade: f.Grade, Accepted: f.Accepted, N: f.Extent.N, Of: f.Extent.Of, Steps: make([]string, 0, len(f.Steps))}}
	if i, ok := s.rule[plain(f.Check)]; ok {
		out.RuleIndex = &i
	}
	for _, step := range f.Steps {
		out.Properties.Steps = append(out.Properties.Steps, s.hide(plain(step)))
	}
	for i := range f.Evidence {
		at, ok := s.place(&f.Evidence[i])
		switch {
		case !ok:
		case len(out.Locations) == 0:
			out.Locations = []sarifLocation{at}
		default:
			at.ID = len(out.Related) + 1
			out.Related = append(out.Related, at)
		}
	}
	return out
}

// message is what was found, and that it is accepted where it is.
func (s *sarif) message(f *result.Finding) sarifText {
	text := s.about(f) + ": " + stop(f.Summary)
	if f.Accepted {
		text += " " + s.acceptance(f)
	}
	return s.say(text)
}

// invocation says whether every check ran to its end.
func (s *sarif) invocation() sarifInvocation {
	in := sarifInvocation{Successful: true}
	for i := range s.Checks {
		if c := &s.Checks[i]; c.Outcome == result.Broken {
			in.Successful = false
			in.Notices = append(in.Notices, sarifNotice{Level: "error", Message: s.say("Check " + c.ID + " failed to run: " + orElse(c.Reason, "no reason is known")), Rule: sarifRuleRef{ID: plain(c.ID), Index: s.rule[plain(c.ID)]}})
		}
	}
	return in
}

// sarifLevel puts our grades on the three levels of editors.
func sarifLevel(grade string) string {
	switch grade {
	case result.Critical, result.Major:
		return "error"
	case result.Minor:
		return "warning"
	}
	return "note"
}
