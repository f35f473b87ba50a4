package report

import (
	"regexp"
	"strconv"
	"strings"

	"footing/internal/result"
)

// Titles of the sections of a look-back.
const (
	titleNow       = "Now"
	titleDecides   = "Who decides"
	titlePull      = "Packs to pull first"
	titleTelephone = "Whom to telephone"
	titleWindows   = "How far it could reach"
	titleNarrowing = "What would narrow it"
	titleLoads     = "Loads"
	titleVisits    = "Visits"
	titleClients   = "Clients"
	titleChains    = "What lies behind each visit"
	titleOthers    = "Other clients"
	titleMissing   = "What is missing"
	titleLimits    = "What the figures are not"
)

// windowsLead says how to read the two windows.
const windowsLead = "Two windows: the wide one takes in all that the records do not rule out, the narrow one less; each says how it was drawn. Take the wide one unless public health says that the narrow one counts. “Up to” is an upper limit: it counts each visit that does not say where all its packs came from and could have had one of these."

// A box to tick by hand on paper, and the heading above such boxes.
const (
	box  md = "☐"
	tick md = "Done"
)

// mostListed is how many rows of one list a page prints; the CSV and JSON hold all.
const mostListed = 500

// named is "Sterilizer S1"; "Sterilizer in sterilizers.csv row 1" where it has no id of its own.
func named(kind, id string) string {
	if rowPlace.MatchString(id) {
		return upper(singular(kind) + " in " + ident(kind, id))
	}
	return upper(strings.TrimSpace(singular(kind) + " " + ident(kind, id)))
}

// rowPlace is what a row without an id is known by.
var rowPlace = regexp.MustCompile(`\.[A-Za-z]+\b.* row \d+$`)

// contactName reads the name of a contact aloud.
func contactName(who string) string { return upper(strings.ReplaceAll(plain(who), "_", " ")) }

// windowName says in which windows a thing lies: the wide one holds the narrow one.
func windowName(narrow bool) string {
	if narrow {
		return "both"
	}
	return "wide only"
}

// place is where a row stands, without its column.
func place(e result.Evidence) string {
	e.Heading, e.Field, e.Line = "", "", 0
	return where(e)
}

// atMost is "12", or "up to 74, of which 12 name a pack or load of it".
func atMost(n, most int, verb string) string {
	switch {
	case most <= n:
		return strconv.Itoa(n)
	case n == 0:
		return "up to " + strconv.Itoa(most)
	}
	return "up to " + strconv.Itoa(most) + "; " + strconv.Itoa(n) + " " + verb
}

// daysOf writes the days of a window; -1 stands for what cannot be told.
func daysOf(n int) string {
	if n < 0 {
		return "cannot be told"
	}
	return strconv.Itoa(n)
}
