package practice

import "footing/internal/quantity"

// Answer is what a screen has written for one question, named as its column is:
// yes, no, unsure, not-asked, or "" where nothing is written.
func (s *Screen) Answer(question string) string {
	switch question {
	case "latex":
		return s.Latex
	case "adhesive":
		return s.Adhesive
	case "colophony":
		return s.Colophony
	case "chlorhexidine":
		return s.Chlorhexidine
	case "iodine":
		return s.Iodine
	case "local_anaesthetic":
		return s.LocalAnaesthetic
	case "lanolin":
		return s.Lanolin
	case "nickel":
		return s.Nickel
	case "acrylate":
		return s.Acrylate
	case "salicylate":
		return s.Salicylate
	case "antibiotic":
		return s.Antibiotic
	case "fragrance":
		return s.Fragrance
	case "nut_oil":
		return s.NutOil
	}
	return ""
}

// NoneKnown reports whether the client said to know of no allergy at all.
func (s *Screen) NoneKnown() bool { return s.AnyKnown == "no" }

// Answered reports whether a screen holds any answer of the client.
func (s *Screen) Answered() bool {
	if s.AnyKnown != "" || len(s.Other.Items) > 0 || s.Reaction != "" {
		return true
	}
	for _, a := range []string{s.Latex, s.Adhesive, s.Colophony, s.Chlorhexidine, s.Iodine, s.LocalAnaesthetic, s.Lanolin, s.Nickel, s.Acrylate,
		s.Salicylate, s.Antibiotic, s.Fragrance, s.NutOil} {
		if a != "" && a != "not-asked" {
			return true
		}
	}
	return false
}

// Standing is where one question stands for a client on one day.
type Standing struct {
	Answer string       // yes, no, unsure, not-asked, or "" where nothing is written
	Since  quantity.Day // the day from which it stands so
	On     quantity.Day // the last day the client was asked; for not-asked, the day that is written
	Screen *Screen      // where the answer is written
	Field  string       // its column: the question's own, or any_known
	Before string       // the answer as it stood on the days before Since
}

// AnswerOf is where a question stands for a client at the end of a day. Each
// question takes its latest answer, and a yes ends only by a later no to that
// question: not by "unsure", nor by "no known allergy" in general. That nobody
// asked on some day takes no earlier answer away. "No known allergy" answers, as
// no, each question left blank beside it.
func (p *Practice) AnswerOf(client, question string, until quantity.Day) (at Standing) {
	for _, s := range p.screensOf[client] {
		if s.AskedOn > until {
			break
		}
		answer, field := s.Answer(question), question
		if answer == "" && s.NoneKnown() {
			answer, field = "no", "any_known"
		}
		ends := field == question && s.AskedOn > at.Since
		switch {
		case answer == "", answer == "not-asked" && at.Answer != "":
		case answer == at.Answer:
			at.On, at.Screen, at.Field = s.AskedOn, s, field
		case at.Answer == "yes" && answer == "unsure":
			at.On = s.AskedOn
		case at.Answer == "yes" && !ends:
		case s.AskedOn == at.Since:
			at.Answer, at.Screen, at.Field = answer, s, field
		default:
			at = Standing{Answer: answer, Since: s.AskedOn, On: s.AskedOn, Screen: s, Field: field, Before: at.Answer}
		}
	}
	return at
}
