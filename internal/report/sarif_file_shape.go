package report

// The names of SARIF 2.1.0 (OASIS, 27 March 2020, with errata 01), as far as they are
// used. A member that says nothing is left out.

const (
	sarifSchema = "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json"
	recordsBase = "RECORDS"
)

type sarifLog struct {
	Schema  string     `json:"$schema"`
	Version string     `json:"version"`
	Runs    []sarifRun `json:"runs"`
}

type sarifRun struct {
	Tool        sarifTool            `json:"tool"`
	Invocations []sarifInvocation    `json:"invocations"`
	Automation  sarifAutomation      `json:"automationDetails"`
	Bases       map[string]sarifBase `json:"originalUriBaseIds"`
	ColumnKind  string               `json:"columnKind"`
	Artifacts   []sarifArtifact      `json:"artifacts,omitzero"`
	Results     []sarifResult        `json:"results"`
}

type sarifText struct {
	Text string `json:"text"`
}

type sarifBase struct {
	Description sarifText `json:"description"`
}

type sarifAutomation struct {
	ID string `json:"id"`
}

type sarifTool struct {
	Driver sarifDriver `json:"driver"`
}

type sarifDriver struct {
	Name    string      `json:"name"`
	Version string      `json:"version,omitzero"`
	Rules   []sarifRule `json:"rules"`
}

type sarifRule struct {
	ID         string        `json:"id"`
	Short      sarifText     `json:"shortDescription"`
	Full       sarifText     `json:"fullDescription,omitzero"`
	Help       sarifText     `json:"help,omitzero"`
	Default    sarifDefault  `json:"defaultConfiguration,omitzero"`
	Properties sarifRuleMore `json:"properties"`
}

type sarifDefault struct {
	Level string `json:"level"`
}

type sarifRuleMore struct {
	Criteria []string `json:"criteria"`
	Outcome  string   `json:"outcome"`
}

type sarifInvocation struct {
	Successful bool          `json:"executionSuccessful"`
	Notices    []sarifNotice `json:"toolExecutionNotifications,omitzero"`
}

type sarifNotice struct {
	Level   string       `json:"level"`
	Message sarifText    `json:"message"`
	Rule    sarifRuleRef `json:"associatedRule"`
}

type sarifRuleRef struct {
	ID    string `json:"id"`
	Index int    `json:"index"`
}

type sarifArtifact struct {
	Location sarifFile         `json:"location"`
	Hashes   map[string]string `json:"hashes,omitzero"`
}

type sarifFile struct {
	URI   string `json:"uri"`
	Base  string `json:"uriBaseId"`
	Index *int   `json:"index,omitzero"`
}

type sarifResult struct {
	Rule         string            `json:"ruleId"`
	RuleIndex    *int              `json:"ruleIndex,omitzero"`
	Level        string            `json:"level"`
	Message      sarifText         `json:"message"`
	Locations    []sarifLocation   `json:"locations,omitzero"`
	Related      []sarifLocation   `json:"relatedLocations,omitzero"`
	Fingerprints map[string]string `json:"partialFingerprints"`
	Properties   sarifResultMore   `json:"properties"`
}

type sarifResultMore struct {
	Grade    string   `json:"grade"`
	Accepted bool     `json:"accepted"`
	N        int      `json:"n"`
	Of       int      `json:"of"`
	Steps    []string `json:"steps"`
}

type sarifLocation struct {
	ID       int            `json:"id,omitzero"`
	Physical *sarifPhysical `json:"physicalLocation,omitzero"`
	Logical  []sarifLogical `json:"logicalLocations,omitzero"`
	Message  *sarifText     `json:"message,omitzero"`
}

type sarifPhysical struct {
	File   sarifFile    `json:"artifactLocation"`
	Region *sarifRegion `json:"region,omitzero"`
}

type sarifRegion struct {
	Line      int `json:"startLine"`
	Column    int `json:"startColumn,omitzero"`
	EndColumn int `json:"endColumn,omitzero"`
}

type sarifLogical struct {
	Name string `json:"name"`
	Full string `json:"fullyQualifiedName"`
}
