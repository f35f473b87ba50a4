// Package steam holds physics alone: the line on which water and steam stand
// together, the pressure of the air at an altitude, what heat is worth, and what a
// series of readings did. It reads and writes nothing and holds no rule of any trade.
package steam

import (
	"fmt"
	"math"
)

// The coefficients of the saturation line: IAPWS R7-97(2012), Revised Release on
// the Industrial Formulation 1997, region 4, table 34.
const (
	n1  = 0.11670521452767e4
	n2  = -0.72421316703206e6
	n3  = -0.17073846940092e2
	n4  = 0.12020824702470e5
	n5  = -0.32325550322333e7
	n6  = 0.14915108613530e2
	n7  = -0.48232657361591e4
	n8  = 0.40511340542057e6
	n9  = -0.23855557567849
	n10 = 0.65017534844798e3
)

const (
	zero     = 273.15  // K at 0 °C
	coldest  = 273.15  // K, where the formulation begins
	critical = 647.096 // K, above which water and steam are one
)

// The pressures of the coldest and the critical point. The release gives them as
// 611.213 Pa and 22.064 MPa; taken from the equation itself, a temperature at the
// very end keeps its pressure.
var (
	lowest  = saturationPressure(coldest)
	highest = math.Max(22064, saturationPressure(critical))
)

// RangeError says that a value lies outside what a formula holds for.
type RangeError struct {
	What        string  // "a temperature", "an absolute pressure", "an altitude"
	Value       float64 // in Unit
	Least, Most float64
	Unit        string
}

// Error returns the sentence: the value, the range, what to do.
func (e *RangeError) Error() string {
	return fmt.Sprintf("%s of %.6g %s lies outside %.6g to %.6g %s, for which the formula holds; look whether value and unit are as meant",
		e.What, e.Value, e.Unit, e.Least, e.Most, e.Unit)
}

// SaturationPressure returns the absolute pressure, in kPa, of saturated steam at
// a temperature in °C. It holds from 0 to 373.946 °C (273.15 to 647.096 K); the
// error outside is a *RangeError. Source: IAPWS R7-97(2012), equation 30.
func SaturationPressure(celsius float64) (float64, error) {
	t := celsius + zero
	// Written so that what is no number fails too.
	if !(t >= coldest && t <= critical) {
		return 0, &RangeError{"a temperature", celsius, coldest - zero, critical - zero, "°C"}
	}
	return saturationPressure(t), nil
}

func saturationPressure(t float64) float64 {
	theta := t + n9/(t-n10)
	a := theta*theta + n1*theta + n2
	b := n3*theta*theta + n4*theta + n5
	c := n6*theta*theta + n7*theta + n8
	p := 2 * c / (-b + math.Sqrt(b*b-4*a*c))
	return 1000 * p * p * p * p
}

// SaturationTemperature returns the temperature, in °C, of saturated steam at an
// absolute pressure in kPa. It holds from 0.611213 to 22064 kPa; the error outside
// is a *RangeError. A gauge reading needs the pressure of the air added first: see
// Atmosphere. Source: IAPWS R7-97(2012), equation 31.
func SaturationTemperature(kPa float64) (float64, error) {
	if !(kPa >= lowest && kPa <= highest) {
		return 0, &RangeError{"an absolute pressure", kPa, lowest, highest, "kPa"}
	}
	return saturationTemperature(kPa), nil
}

func saturationTemperature(kPa float64) float64 {
	beta := math.Sqrt(math.Sqrt(kPa / 1000))
	e := beta*beta + n3*beta + n6
	f := n1*beta*beta + n4*beta + n7
	g := n2*beta*beta + n5*beta + n8
	d := 2 * g / (-f - math.Sqrt(f*f-4*e*g))
	s := n10 + d
	return (s-math.Sqrt(s*s-4*(n9+n10*d)))/2 - zero
}
