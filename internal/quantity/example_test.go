package quantity_test

import (
	"fmt"
	"time"

	"footing/internal/quantity"
)

func ExampleParse() {
	q, _ := quantity.Parse("121C", quantity.Temperature, quantity.Fallback{})
	fmt.Println(q, q.Low(quantity.Celsius), q.High(quantity.Celsius))
	q, _ = quantity.Parse("15", quantity.Pressure, quantity.Fallback{Unit: quantity.Psi, Ref: quantity.Gauge})
	fmt.Printf("%v is %.1f kPa\n", q, q.In(quantity.KPa))
	_, err := quantity.Parse("121", quantity.Temperature, quantity.Fallback{})
	fmt.Println(err)
	// Output:
	// 121 °C 120.5 121.5
	// 15 psi gauge is 103.4 kPa
	// "121" has no unit; what can be read: °C, °F or K; write the unit with it, as in 121 °C, or once in the heading
}

func ExampleQuantity_AtLeast() {
	least := quantity.Exact(121, quantity.Celsius)
	q, _ := quantity.Parse("121 °C", quantity.Temperature, quantity.Fallback{})
	fmt.Println(q.AtLeast(least, quantity.Quantity{}))
	fmt.Println(q.AtLeast(least, quantity.Exact(0.5, quantity.KelvinD)))
	q, _ = quantity.Parse("118 °C", quantity.Temperature, quantity.Fallback{})
	fmt.Println(q.AtLeast(least, quantity.Exact(0.5, quantity.KelvinD)))
	// Output:
	// yes
	// unsure
	// no
}

func ExampleParseUnit() {
	u, ref, _ := quantity.ParseUnit("bar(g)", quantity.Pressure)
	fmt.Println(u, ref)
	// Output: bar gauge
}

func ExampleParseDay() {
	d, _ := quantity.ParseDay("31/03/2026", quantity.DMY)
	fmt.Println(d, d.Words(), d.AddMonths(-1))
	_, err := quantity.ParseDay("31/03/26", quantity.DMY)
	fmt.Println(err)
	// Output:
	// 2026-03-31 31 Mar 2026 2026-02-28
	// "31/03/26" has two figures for the year; what can be read: 2026-03-31, or 31/03/2026 where the practice says day or month first; write the year with four figures, in the form 2026-03-31
}

func ExampleParseMoment() {
	oslo, _ := time.LoadLocation("Europe/Oslo")
	a, _ := quantity.ParseMoment("2026-03-31T12:05:00Z", quantity.ISO, oslo)
	b, _ := quantity.ParseMoment("31.3.2026 2:30 pm", quantity.DMY, oslo)
	c, _ := quantity.ParseMoment("2026-03-31", quantity.ISO, oslo)
	fmt.Println(a, "|", b, "|", c)
	fmt.Println(quantity.Before(a, b), quantity.Before(b, a), quantity.Before(a, c))
	// Output:
	// 2026-03-31 14:05:00 | 2026-03-31 14:30 | 2026-03-31
	// yes no unsure
}
