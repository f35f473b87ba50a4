package checks

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"footing/internal/practice"
	"footing/internal/quantity"
	"footing/internal/record"
)

// certificate is "from until status class", days as on paper, - for what is not written.
func certificates(t *testing.T, rows [][4]string) *peopleRegister {
	t.Helper()
	day := func(s string) quantity.Day {
		if s == "" {
			return 0
		}
		d, err := quantity.ParseDay(s, quantity.ISO)
		require.NoError(t, err)
		return d
	}
	r := peopleNewRegister(&practice.Practice{Intake: &record.Intake{}}, "registration")
	for _, c := range rows {
		r.of["P-1"] = append(r.of["P-1"], &practice.Credential{Type: "registration", ValidFrom: day(c[0]), ValidUntil: day(c[1]), Status: c[2], Class: c[3]})
	}
	return r
}

// The days of certificates, counted by hand on a calendar (2024 is a leap year).
func TestPeopleStanding(t *testing.T) {
	two := [][4]string{{"2024-01-01", "2024-12-31"}, {"2025-02-01", "2025-12-31"}}
	year := [][4]string{{"2023-01-01", "2023-12-31"}, {"2025-01-01", "2025-12-31"}}
	almost := [][4]string{{"2023-01-01", "2023-12-31"}, {"2024-12-30", "2025-12-31"}}
	leap := [][4]string{{"2024-01-01", "2024-12-31"}, {"2026-01-01", "2026-12-31"}}
	open := [][4]string{{"2024-01-01", ""}, {"2025-01-01", "2025-12-31"}}
	stop := [][4]string{{"2025-01-01", "2025-12-31"}, {"2025-06-01", "", "suspended"}, {"2025-09-01", "2025-12-31"}}
	for _, c := range []struct {
		rows [][4]string
		day  string
		want peopleState
	}{
		{nil, "2025-01-01", peopleNone},
		{two, "2023-12-31", peopleBefore},
		{two, "2024-01-01", peopleHeld},
		{two, "2024-12-31", peopleHeld},
		{two, "2025-01-01", peopleGap},
		{two, "2025-01-31", peopleGap},
		{two, "2025-02-01", peopleHeld},
		{two, "2025-12-31", peopleHeld},
		{two, "2026-01-01", peopleAfter},
		{year, "2024-06-01", peopleLong},  // 366 days lie between, a year's certificate fits
		{almost, "2024-06-01", peopleGap}, // 364 do: one of 365 does not fit
		{leap, "2025-06-01", peopleLong},  // 365 lie between: the later one, of 365, fits
		{open, "2024-12-31", peopleHeld},
		{open, "2026-01-01", peopleAfter},
		{stop, "2025-05-31", peopleHeld},
		{stop, "2025-06-01", peopleSuspended},
		{stop, "2025-08-31", peopleSuspended},
		{stop, "2025-09-01", peopleHeld},
		{[][4]string{{"2025-01-01", "2025-12-31", "suspended"}}, "2025-06-01", peopleUndated},
		{[][4]string{{"2025-01-01", "2025-12-31", "suspended"}}, "2026-06-01", peopleNone},
		{[][4]string{{"2025-01-01", "2024-12-31"}}, "2025-06-01", peopleCrooked},
		{[][4]string{{"2025-01-01", "", "", "nursing"}, {"2025-03-01", "2025-04-30", "", "foot care"}}, "2025-06-01", peopleHeld},
	} {
		d, err := quantity.ParseDay(c.day, quantity.ISO)
		require.NoError(t, err)
		assert.Equal(t, c.want, certificates(t, c.rows).on("P-1", d).state, "%v on %s", c.rows, c.day)
	}
}

// Day by day, for certificates with both days written: one holds where some
// interval has the day, and nothing holds after the last of them.
func TestPeopleStandingDayByDay(t *testing.T) {
	r := certificates(t, [][4]string{{"2024-02-28", "2024-04-30"}, {"2024-03-15", "2024-03-20"}, {"2024-06-01", "2024-06-01"}, {"2024-06-03", "2024-09-30"}, {"2024-09-30", "2024-12-31"}})
	all := r.certificates("P-1")
	for day := all[0].ValidFrom - 3; day < all[4].ValidUntil+400; day++ {
		inside, later := false, false
		for _, c := range all {
			inside = inside || c.ValidFrom <= day && day <= c.ValidUntil
			later = later || day <= c.ValidUntil
		}
		state := r.on("P-1", day).state
		assert.Equal(t, inside, state == peopleHeld, "%s", day)
		assert.Equal(t, !later, state == peopleAfter, "%s", day)
	}
}
