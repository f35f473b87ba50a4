package dev

// columns holds the fields that the generator writes, in their order, as the
// record kinds name them.
var columns = map[string]string{
	"people":       "id role started_on ended_on sites glove_size gown_size latex_sensitive hepatitis_b hepatitis_b_on supervisor",
	"credentials":  "id person kind valid_from valid_until number class status hours procedures sites equipment",
	"observations": "id person skill observed_on observer steps outcome",
	"policies":     "id topic title version effective_on review_on signed_by kept_at",
	"sites":        "id kind opened_on reprocessing notified_on altitude",
	"clients":      "id birth_year first_visit_on last_visit_on",
	"histories": "id client taken_on diabetes poor_circulation neuropathy deformity anticoagulant immune_suppressed " +
		"past_ulcer amputation kidney_failure known_infection risk next_review_on",
	"screens": "id client asked_on asked_by any_known latex adhesive colophony chlorhexidine iodine local_anaesthetic lanolin " +
		"nickel acrylate salicylate antibiotic fragrance nut_oil reaction",
	"consents": "id client given_on procedures given_by students_ok expires_on",
	"visits": "id client started person ended site status procedures supervisor gloves glove_size gear instruments packs packs_used " +
		"single_use products dust_extraction found bleeding advice signed_on countersigned_on",
	"referrals":   "id client sent_on visit reason urgency outcome_on",
	"instruments": "id kind material hinged hollow heat_safe reuse owner touches acquired_on site",
	"cleanings":   "started ended method loads product temperature person inspected",
	"sterilizers": "id method air_removal class operated_by site most_packs installed_on counter_start logger air_detector sensor_tolerance",
	"equipment":   "id kind site installed_on",
	"programs":    "id sterilizer name temperature exposure drying pulses suits",
	"loads": "id started sterilizer counter program ended temperature pressure exposure drying wrapped hinges_open packs_dry " +
		"packs_made outside_indicator inside_indicator printout trace loaded_by released_by released_at decision fault",
	"packs": "id load set instruments packaging use_by stored_at counted_on opened_at outside_indicator inside_indicator condition label",
	"tests": "id kind run_at equipment load program counter incubated_at read_after read_at lot lot_expires_on control control_lot " +
		"leak_rate person result",
	"upkeep":       "id equipment task done_on next_due_on done_by result",
	"stock":        "id item on reason quantity each site to_site size set material lot expires_on",
	"products":     "id name use contains opened_on discard_on expires_on sheet_on contact_time",
	"housekeeping": "done_at task site product person",
	"waste":        "id kind opened_on closed_on fill collected_on reference site",
	"trips":        "on person from_site to_site packs_out packs_back soiled_sealed",
	"incidents":    "id kind occurred_on recorded_on client visit person body_part action closed_on",
	"complaints":   "id received_on client subject reply_by acknowledged_on answered_on closed_on hold",
	"actions":      "id action due_on finding owner done_on verified_on verified_by",
}
