package quantity

import (
	"fmt"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/stretchr/testify/assert"
	"pgregory.net/rapid"
)

// spelled draws a value as a person may write it, with what it must come to.
func spelled(t *rapid.T) (s string, want Quantity) {
	u := Unit(rapid.IntRange(int(Celsius), int(firstMixed)-1).Draw(t, "unit"))
	places := rapid.IntRange(0, 4).Draw(t, "places")
	digits := rapid.Int64Range(0, 99999999).Draw(t, "digits")
	negative := rapid.Bool().Draw(t, "negative") && (u.Dimension() == Length || u.Dimension() == Difference)
	text := strconv.FormatInt(digits, 10)
	for len(text) <= places {
		text = "0" + text
	}
	value, _ := strconv.ParseFloat(text[:len(text)-places]+"."+text[len(text)-places:], 64)
	want = Quantity{Value: value, Half: 0.5 / powers[places], Unit: u}
	if places > 0 {
		point := "."
		if places != 3 && rapid.Bool().Draw(t, "comma") {
			point = ","
		}
		text = text[:len(text)-places] + point + text[len(text)-places:]
	}
	if negative {
		want.Value = -want.Value
		text = rapid.SampledFrom([]string{"-", "−"}).Draw(t, "minus") + text
	}
	name := u.String()
	if u.Dimension() == Pressure {
		want.Ref = Reference(rapid.IntRange(0, 2).Draw(t, "reference"))
		name += [...]string{"", " gauge", "(a)"}[want.Ref]
	}
	space := rapid.SampledFrom([]string{"", " ", "\u00a0", "\u202f"}).Draw(t, "space")
	return text + space + name, want
}

// plain undoes the spellings that String does not use.
func plain(s string) string {
	s = strings.NewReplacer("−", "-", ",", ".", "(a)", " absolute", "\u00a0", "", "\u202f", "").Replace(s)
	return strings.ReplaceAll(s, " ", "")
}

func TestWhatParsesPrintsAndReparses(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s, want := spelled(t)
		q, err := Parse(s, want.Dimension(), Fallback{})
		if err != nil {
			t.Fatal(err)
		}
		if q != want {
			t.Fatalf("%q is read as %#v, not %#v", s, q, want)
		}
		again, err := Parse(q.String(), q.Dimension(), Fallback{})
		if err != nil || again != q {
			t.Fatalf("%q prints as %q, which is read as %#v, %v", s, q, again, err)
		}
		if got := strings.ReplaceAll(q.String(), " ", ""); q.Value != 0 && q.Value != 1 && got != plain(s) {
			t.Fatalf("%q prints as %q", s, q)
		}
	})
}

func TestMixedSpansPrintAndReparse(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := rapid.SampledFrom(mixed[:]).Draw(t, "units")
		places := rapid.IntRange(0, 3).Draw(t, "places")
		s := fmt.Sprintf("%d %s %.*f %s", rapid.IntRange(0, 5000).Draw(t, "coarse"), m.coarse, places, rapid.Float64Range(0, 3000).Draw(t, "fine"), m.fine)
		q, err := Parse(s, Span, Fallback{})
		if err != nil {
			t.Fatal(err)
		}
		again, err := Parse(q.String(), Span, Fallback{})
		if err != nil || again != q {
			t.Fatalf("%q prints as %q, which is read as %#v not %#v, %v", s, q, again, q, err)
		}
	})
}

func TestConversionRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		_, q := spelled(t)
		u := q.Unit.canonical()
		back := convert(q.In(u), u, q.Unit)
		assert.InDelta(t, q.Value, back, 1e-9*(1+max(q.Value, -q.Value)))
		if q.Low(u) > q.In(u) || q.High(u) < q.In(u) {
			t.Fatalf("%v does not lie between its bounds", q)
		}
	})
}

func FuzzParse(f *testing.F) {
	for _, s := range []string{"121 °C", "3,5 min", "2 h 30 min", "15 psig", "1.05 bar(g)", "−4 K", "30'", "1,234", "75%", "1.3 mbar/min", "1 h and 5 s", "'", "° ", "\xff"} {
		for d := Plain; d <= Percent; d++ {
			f.Add(s, uint8(d), uint8(Minute), uint8(Gauge))
		}
	}
	f.Fuzz(func(t *testing.T, s string, d, u, r uint8) {
		q, err := Parse(s, Dimension(d%8), Fallback{Unit(u), Reference(r % 3)})
		if err != nil {
			if q.Written() || err.Error() == "" {
				t.Fatalf("%q: a value with an error, or an error without words", s)
			}
			return
		}
		again, err := Parse(q.String(), q.Dimension(), Fallback{})
		if err != nil || again != q {
			t.Fatalf("%q prints as %q, which is read as %#v, %v", s, q, again, err)
		}
	})
}

func FuzzParseMoment(f *testing.F) {
	for _, s := range []string{"2026-03-31", "2026-03-31 14:05", "2026-03-31T14:05:06Z", "31/03/2026 2:05 pm", "Mar 31, 2026", "2026-03-29 02:30", "2026-10-25T02:30:00+01:00", "0000-00-00", "2026-02-30", "\xff"} {
		for o := ISO; o <= MDY; o++ {
			f.Add(s, uint8(o), o%2 == 0)
		}
	}
	oslo, err := time.LoadLocation("Europe/Oslo")
	if err != nil {
		f.Fatal(err)
	}
	f.Fuzz(func(t *testing.T, s string, o uint8, utc bool) {
		loc := oslo
		if utc {
			loc = time.UTC
		}
		m, err := ParseMoment(s, DateOrder(o%3), loc)
		if err != nil {
			if m.Written() || err.Error() == "" || strings.Contains(err.Error(), "\n") {
				t.Fatalf("%q: a value with an error, or an error without words", s)
			}
			return
		}
		again, err := ParseMoment(m.String(), ISO, loc)
		if err != nil || again != m {
			t.Fatalf("%q prints as %q, which is read as %+v not %+v, %v", s, m, again, m, err)
		}
		if m.Last() < m.First() {
			t.Fatalf("%q ends before it starts", s)
		}
		if y, _, _ := m.Day().Date(); y < firstYear || y > lastYear {
			t.Fatalf("%q has the year %d", s, y)
		}
		if m.HasClock() {
			return
		}
		if d, err := ParseDay(s, DateOrder(o%3)); err != nil || d != m.Day() {
			t.Fatalf("%q is a date and no day: %v", s, err)
		}
	})
}
