package steam_test

import (
	"fmt"
	"math"

	"footing/internal/steam"
)

func ExampleSaturationPressure() {
	p, _ := steam.SaturationPressure(121)
	fmt.Printf("%.2f kPa absolute\n", p)
	_, err := steam.SaturationPressure(400)
	fmt.Println(err)
	// Output:
	// 205.04 kPa absolute
	// a temperature of 400 °C lies outside 0 to 373.946 °C, for which the formula holds; look whether value and unit are as meant
}

// What 15 psi gauge comes to at the sea, and at 2,000 m where the air weighs less.
func ExampleSaturationTemperature() {
	for _, altitude := range []float64{0, 2000} {
		air, _ := steam.Atmosphere(altitude)
		t, _ := steam.SaturationTemperature(15*6.894757293168361 + air)
		fmt.Printf("%.1f °C\n", t)
	}
	// Output:
	// 121.0 °C
	// 117.4 °C
}

func ExampleAtmosphere() {
	p, _ := steam.Atmosphere(1500)
	fmt.Printf("%.1f kPa\n", p)
	// Output: 84.6 kPa
}

// Three minutes at 134 °C, told in minutes at 121.1 °C; and the heating to it, on a
// straight line over one minute from 110 °C.
func ExampleScale_Segment() {
	fmt.Printf("%.1f min\n", steam.F0.Segment(134, 134, 180)/60)
	fmt.Printf("%.1f min\n", steam.F0.Segment(110, 134, 60)/60)
	// Output:
	// 58.5 min
	// 3.5 min
}

func ExampleScale_Rate() {
	l, _ := steam.F0.Rate(111.1)
	fmt.Printf("%.1f\n", l)
	_, err := steam.F0.Rate(-300)
	fmt.Println(err)
	// Output:
	// 0.1
	// a temperature of -300 °C lies outside -273.15 to 1000 °C, for which the formula holds; look whether value and unit are as meant
}

// A logger that writes every half minute, without a pressure: the time at 121 °C is
// known within what the readings leave open.
func ExampleSeries() {
	s := steam.NewSeries(steam.Setting{Levels: []float64{121}, Below: 0.05, Above: 0.5})
	for i, celsius := range []float64{25, 60, 95, 118, 121.6, 121.9, 121.8, 121.7, 121.7, 110, 96, 80} {
		s.Add(30*float64(i), celsius, celsius, math.NaN())
	}
	c := s.End()
	h := c.Holds[0]
	fmt.Printf("held %.0f s, at least %.0f s and at most %.0f s\n", h.Seconds(), h.Least, h.Most)
	fmt.Printf("%.1f to %.1f °C, a reading each %.0f s\n", h.Lowest, h.Highest, c.Interval)
	// Output:
	// held 127 s, at least 120 s and at most 180 s
	// 121.6 to 121.9 °C, a reading each 30 s
}
