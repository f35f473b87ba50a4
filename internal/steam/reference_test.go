package steam

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// tabled is one row of a table in testdata/reference: its source stands beside it there.
type tabled map[string]string

func table(t *testing.T, name string) []tabled {
	f, err := os.Open(filepath.Join("..", "..", "testdata", "reference", name))
	require.NoError(t, err)
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	all, err := r.ReadAll()
	require.NoError(t, err)
	var out []tabled
	for _, cells := range all[1:] {
		row := tabled{}
		for i, name := range all[0] {
			row[name] = cells[i]
		}
		out = append(out, row)
	}
	return out
}

func number(t *testing.T, s string) float64 {
	v, err := strconv.ParseFloat(s, 64)
	require.NoError(t, err)
	return v
}

// given returns the input of that name.
func (r tabled) given(t *testing.T, name string) float64 {
	for _, p := range strings.Split(r["inputs"], ";") {
		if k, v, _ := strings.Cut(p, "="); k == name {
			return number(t, v)
		}
	}
	t.Fatalf("%s has no %s", r["id"], name)
	return 0
}

// close says whether v is what the row expects, within the row's own tolerance.
func (r tabled) close(t *testing.T, v float64) bool {
	if lo, hi, ok := strings.Cut(r["expected"], ".."); ok {
		return number(t, lo) <= v && v <= number(t, hi)
	}
	want := number(t, r["expected"])
	how, by, _ := strings.Cut(r["tolerance"], " ")
	allowed := number(t, by)
	if how == "rel" {
		allowed *= math.Abs(want)
	} else {
		require.Equal(t, "abs", how, r["id"])
	}
	return math.Abs(v-want) <= allowed
}

const (
	psi    = 6.894757293168361 // kPa
	radius = 6356766.0         // m, of the earth, by which the standard turns heights into geopotential ones
)

func pressure(t *testing.T, celsius float64) float64 {
	p, err := SaturationPressure(celsius)
	require.NoError(t, err)
	return p
}

func temperature(t *testing.T, kPa float64) float64 {
	c, err := SaturationTemperature(kPa)
	require.NoError(t, err)
	return c
}

func air(t *testing.T, altitude float64) float64 {
	p, err := Atmosphere(altitude)
	require.NoError(t, err)
	return p
}

// How each quantity of the tables is worked out.
var worked = map[string]func(t *testing.T, r tabled) float64{
	"if97_psat_mpa": func(t *testing.T, r tabled) float64 { return pressure(t, r.given(t, "T_K")-zero) / 1000 },
	"if97_tsat_k":   func(t *testing.T, r tabled) float64 { return temperature(t, r.given(t, "p_MPa")*1000) + zero },
	"psat_kpa_abs":  func(t *testing.T, r tabled) float64 { return pressure(t, r.given(t, "t_C")) },
	"tsat_C_from_gauge_bar": func(t *testing.T, r tabled) float64 {
		return temperature(t, r.given(t, "p_bar_g")*100+r.given(t, "p_atm_kPa"))
	},
	"nominal_gauge_psi_sea_level": func(t *testing.T, r tabled) float64 {
		return (pressure(t, r.given(t, "t_C")) - air(t, 0)) / psi
	},
	"nominal_gauge_bar_inside_band": func(t *testing.T, r tabled) float64 {
		return temperature(t, r.given(t, "p_bar_g")*100+r.given(t, "p_atm_kPa"))
	},
	"isa_pressure_bar_geometric": func(t *testing.T, r tabled) float64 {
		z := r.given(t, "z_m")
		return air(t, radius*z/(radius+z)) / 100
	},
	"isa_pressure_pa_geopotential": func(t *testing.T, r tabled) float64 { return air(t, r.given(t, "H_m")) * 1000 },
	"isa_geopotential_height_m": func(t *testing.T, r tabled) float64 {
		lo, hi, want := deepest, tropopause, r.given(t, "p_hPa")/10
		for range 60 {
			if mid := (lo + hi) / 2; air(t, mid) > want {
				lo = mid
			} else {
				hi = mid
			}
		}
		return lo
	},
	"gauge_kpa_at_altitude": func(t *testing.T, r tabled) float64 {
		return pressure(t, r.given(t, "t_C")) - air(t, r.given(t, "H_m"))
	},
	"tsat_C_at_15psig_altitude": func(t *testing.T, r tabled) float64 {
		return temperature(t, r.given(t, "p_psi_g")*psi+air(t, r.given(t, "H_m")))
	},
}

// Published verification values, steam tables, altitude tables and nominal pairs
// of the trade. A row from memory, or from common practice, says so in the table.
func TestAgainstPublishedValues(t *testing.T) {
	seen := map[string]int{}
	for _, name := range []string{"steam.csv", "atmosphere.csv"} {
		for _, r := range table(t, name) {
			require.NotEmpty(t, r["source"], r["id"])
			require.NotEmpty(t, r["known"], r["id"])
			f, ok := worked[r["quantity"]]
			require.True(t, ok, "%s: nobody works out %s", r["id"], r["quantity"])
			if v := f(t, r); !r.close(t, v) {
				t.Errorf("%s: %s at %s comes to %.9g %s; %s ± %s by %s", r["id"], r["quantity"], r["inputs"], v, r["unit"], r["expected"], r["tolerance"], r["source"])
			}
			seen[r["quantity"]]++
		}
	}
	for q := range worked {
		require.NotZero(t, seen[q], "no row checks %s", q)
	}
	require.GreaterOrEqual(t, seen["if97_psat_mpa"]+seen["if97_tsat_k"], 6, "all values of tables 35 and 36")
}

// Another program for the same release, to all its figures; and another equation
// for the same line, which differs by what the two releases differ.
func TestAgainstAnotherProgram(t *testing.T) {
	seen := map[string]int{}
	for _, r := range table(t, "iapws.csv") {
		in, want := number(t, r["input"]), number(t, r["expected"])
		var got, rel float64
		switch r["quantity"] {
		case "psat_kpa_abs":
			got, rel = pressure(t, in), 1e-8
		case "tsat_C":
			got, rel = temperature(t, in), 1e-8
		case "psat_sr1_kpa_abs":
			got, rel = pressure(t, in), 1.5e-4
		}
		require.InEpsilon(t, want, got, rel, "%s at %s %s", r["quantity"], r["input"], r["input_unit"])
		seen[r["quantity"]]++
	}
	require.Equal(t, map[string]int{"psat_kpa_abs": 91, "tsat_C": 47, "psat_sr1_kpa_abs": 19}, seen)
}
