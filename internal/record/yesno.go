package record

import (
	"footing/internal/quantity"
	"footing/schemas"
)

// toYesNo takes yes and no in the words people use for them, and in the field's own.
func (l *lane) toYesNo(dst *quantity.YesNo, sh shape, text string) *fault {
	if sh != isText && sh != isBool {
		return l.refused(plainValue(sh, text), text)
	}
	v, err := quantity.ParseYesNo(text)
	if err != nil {
		if l.unsaid(text) {
			return nil
		}
		if v = l.ownAnswer(text); v == quantity.NotWritten {
			return l.unread(err, text)
		}
	}
	if yes := v == quantity.IsYes; !l.col.judge.value(yes) {
		return l.refused(yes, text)
	}
	*dst = v
	return nil
}

// ownAnswers are the words for yes and no that only one field has.
var ownAnswers = map[string][2]string{
	"packs_dry": {"dry", "wet"}, "dust_extraction": {"on", "off"}, "hinges_open": {"open", "closed"}, "wrapped": {"wrapped", "unwrapped"},
}

// ownAnswer reads an answer in the words of the field: "rinsed" and "not rinsed" under
// rinsed, "dry" and "wet" under packs_dry.
func (l *lane) ownAnswer(text string) quantity.YesNo {
	if len(text) > longestChoice || dashed(text) {
		return quantity.NotWritten
	}
	if text = quantity.Tidy(text); dashed(text) || schemas.Fold(text) == "" {
		return quantity.NotWritten
	}
	if v, err := quantity.ParseYesNo(text); err == nil {
		return v
	}
	words, name := schemas.Fold(text), l.col.field.Name
	if name == "packs_dry" && words == "ok" { // what was looked at there is whether they are dry
		return quantity.IsYes
	}
	own := ownAnswers[name]
	switch words {
	case schemas.Fold(name), own[0]:
		return quantity.IsYes
	case "not" + schemas.Fold(name), "no" + schemas.Fold(name), "not" + own[0], own[1]:
		return quantity.IsNo
	}
	return quantity.NotWritten
}
