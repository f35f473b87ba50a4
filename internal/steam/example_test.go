package steam_test

import (
	"fmt"

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
