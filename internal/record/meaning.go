package record

import (
	"errors"
	"time"

	"footing/internal/quantity"
)

// meanings check what a schema cannot: that a name means something. They are found by
// the kind of record and the pointer of the field's schema.
var meanings = map[string]func(l *lane, text string) *fault{
	"practice#/properties/time_zone": func(l *lane, text string) *fault {
		if _, err := loadZone(text); err != nil {
			return l.fault("zone", text, "is not the name of a time zone").allow("a name from the IANA list").
				do("write continent and city of the practice, in the form Pacific/Auckland")
		}
		return nil
	},
	"practice#/properties/units/properties/temperature": func(l *lane, text string) *fault {
		return l.unitName(text, quantity.Temperature)
	},
	"practice#/properties/units/properties/pressure": func(l *lane, text string) *fault {
		return l.unitName(text, quantity.Pressure)
	},
}

func (l *lane) unitName(text string, d quantity.Dimension) *fault {
	if _, _, err := quantity.ParseUnit(text, d); err != nil {
		form := unitHints[d].unit
		if d == quantity.Pressure {
			form = "bar gauge"
		}
		return l.unread(err, text).do(`write the unit that is meant where none is written, in the form "` + form + `"`)
	}
	return nil
}

var errNoZone = errors.New("no time zone is named")

// loadZone finds a time zone by its IANA name; it never takes the zone of the machine.
func loadZone(name string) (*time.Location, error) {
	if name == "" || name == "Local" {
		return time.UTC, errNoZone
	}
	return time.LoadLocation(name)
}
