package report

import (
	"strings"

	"footing/internal/result"
)

const (
	namePrivate  = "(a name, kept out of this report)"
	valuePrivate = "(kept out of this report; see the row)"
)

// ident returns the id of a record of that kind for print: what looks like a
// person's name is masked, since ids are meant to be pseudonyms. Kinds that name
// things keep theirs: a site may well be called Main Clinic.
func ident(kind, id string) string {
	if result.ReadsLikeName(kind, plain(id)) {
		return namePrivate
	}
	return id
}

// written returns the value of a piece of evidence for print.
func written(e result.Evidence) string {
	switch {
	case e.Private && e.Value != "":
		return valuePrivate
	case namesPerson(e.Field) && result.LikeName(plain(e.Value)):
		return namePrivate
	}
	return e.Value
}

func namesPerson(field string) bool {
	switch field {
	case "client", "person", "supervisor", "observer", "owner", "exposed":
		return true
	}
	return strings.HasSuffix(field, "_by")
}
