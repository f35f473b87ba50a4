package dev

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"
)

// machine is one sterilizer and the number on its counter.
type machine struct {
	id, program string
	counter     int
	free        time.Time // of the chamber
	spored      time.Time // day of the last spore test
	leaked      time.Time // day of the last leak test
}

const (
	packsPerLoad   = 14
	loadsPerDay    = 6 // of one sterilizer
	packsExpected  = 12
	setsPerVisit   = 4
	spareSets      = 8
	maker134       = "134 °C"
	makerExposure  = "4 min"
	makerDrying    = "20 min"
	practiceOnHill = "120 m"
)

var setOf = []struct {
	kind, touches string
	hinged        bool
}{
	{"double-action-nipper", "broken-skin", true},
	{"curette", "broken-skin", false},
	{"probe", "broken-skin", false},
	{"file", "intact-skin", false},
}

func (m *maker) premises() {
	opened := m.first.AddDate(-4, 0, 0)
	m.put("sites", row{"id": clinic, "kind": "clinic", "opened_on": day(opened), "reprocessing": true, "notified_on": day(opened), "altitude": practiceOnHill})
	m.put("sites", row{"id": bag, "kind": "mobile", "opened_on": day(opened), "reprocessing": false, "notified_on": day(opened), "altitude": practiceOnHill})

	loads := math.Ceil(m.plan.VisitsPerDay / packsExpected)
	for range int(math.Ceil(loads / loadsPerDay)) {
		s := machine{id: m.next("S", 1), counter: 1000}
		s.program = s.id + "-134"
		m.put("sterilizers", row{"id": s.id, "method": "steam", "air_removal": "dynamic", "class": "B", "operated_by": "own", "site": clinic,
			"most_packs": packsPerLoad, "installed_on": day(m.first.AddDate(-1, 0, 0)), "counter_start": 1, "logger": true, "air_detector": true,
			"sensor_tolerance": "0.3 K"})
		m.put("programs", row{"id": s.program, "sterilizer": s.id, "name": "wrapped 134", "temperature": maker134, "exposure": makerExposure,
			"drying": makerDrying, "pulses": 3, "suits": []string{"wrapped", "unwrapped", "hollow"}})
		m.sterilizer = append(m.sterilizer, s)
	}
	for _, kind := range []string{"ultrasonic-cleaner", "extractor", "incubator"} {
		m.put("equipment", row{"id": kind, "kind": kind, "site": clinic, "installed_on": day(m.first.AddDate(-1, 0, 0))})
	}
	for set := range int(setsPerVisit*m.plan.VisitsPerDay) + spareSets {
		for part, i := range setOf {
			m.put("instruments", row{"id": instrument(set, part), "kind": i.kind, "material": []string{"surgical-stainless-steel"}, "hinged": i.hinged,
				"hollow": false, "heat_safe": true, "reuse": "reusable", "touches": i.touches, "acquired_on": day(m.first.AddDate(0, -6, 0)), "site": clinic})
		}
		m.soiled = append(m.soiled, set)
	}
	if m.plan.slips() {
		m.put("instruments", row{"id": outOfScope, "kind": "scalpel-blade", "material": []string{"carbon-steel"}, "hinged": false, "hollow": false,
			"heat_safe": true, "reuse": "single-use", "touches": "broken-skin", "acquired_on": day(m.first), "site": clinic})
	}
}

// outOfScope is what no registration here permits.
const outOfScope = "I-scalpel"

func instrument(set, part int) string { return fmt.Sprintf("I-%03d%c", set+1, 'a'+part) }

func instruments(set int) []string {
	var ids []string
	for part := range setOf {
		ids = append(ids, instrument(set, part))
	}
	return ids
}

var topics = strings.Fields("hand-hygiene protective-gear instrument-cleaning sterilization failed-sterilization storage transport " +
	"single-use rotary-tool-dust surface-cleaning linen chemicals equipment-upkeep waste-and-sharps exposure outbreak complaints " +
	"allergy-screening consent referral students records-and-privacy")

// papers writes the policies, a new version a year.
func (m *maker) papers() {
	version := 1
	for from := m.first.AddDate(0, 0, -150); !from.After(m.last); from = from.AddDate(1, 0, 0) {
		for _, topic := range topics {
			m.put("policies", row{"id": m.next("PO", 4), "topic": topic, "title": strings.ReplaceAll(topic, "-", " "), "version": fmt.Sprint(version),
				"effective_on": day(from), "review_on": day(from.AddDate(1, 0, 0)), "signed_by": m.staffIDs(later(from, m.first)), "kept_at": "policy binder"})
		}
		version++
	}
}

func later(a, b time.Time) time.Time {
	if a.Before(b) {
		return b
	}
	return a
}

// practice writes the single document that says how all others are to be read.
func (m *maker) practice() {
	var b strings.Builder
	fmt.Fprintf(&b, `name: Tern Quay Foot Care
regulator: Council for Foot Care of Terncliff
jurisdiction: Terncliff
time_zone: America/St_Johns
altitude: %s
rule_set: cdc-2008
records_from: %q
renewal_on: %q
services: [nail-trim, callus-reduction, rotary-sanding]
reprocessing: own
closed_days: [saturday, sunday]
contacts:
  public_health: health desk of Terncliff, extension 12
  regulator: the council's office, extension 30
  insurer: the insurer's line, extension 41
declarations:
  - text: I hold liability cover for all that I do
    rests_on: [credentials]
coverage:
`, practiceOnHill, day(m.first), day(m.last.AddDate(0, 0, 43)))
	kinds := slices.Clone(m.order)
	slices.Sort(kinds)
	for _, kind := range kinds {
		fmt.Fprintf(&b, "  - {kind: %s, from: %q, until: %q, share: all}\n", kind, day(m.first), day(m.last))
	}
	name, text := "practice.yaml", b.String()
	if m.plan.Format == "json" || m.plan.Format == "jsonl" {
		name, text = "practice.json", asJSON(text)
	}
	if err := os.WriteFile(filepath.Join(m.dir, name), []byte(text), 0o644); err != nil && m.failed == nil {
		m.failed = err
	}
}
