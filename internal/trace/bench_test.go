package trace

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"io"
	"math"
	"math/rand/v2"
	"strconv"
	"testing"

	"footing/internal/steam"
)

// bigFile is one cycle as the generator of large practices writes it: three lines
// of header, the headings, about 2,800 readings a second apart.
func bigFile() []byte {
	rng := rand.New(rand.NewPCG(1, 2))
	var b bytes.Buffer
	b.WriteString("sterilizer,S1\ncounter,341\ndate,2026-03-03\ntime,temperature [°C],pressure [kPa absolute]\n")
	for i := range 2800 {
		celsius := 24 + 110*min(1, float64(i)/900)
		if i > 1200 {
			celsius = 134.9 - float64(i-1200)/60
		}
		celsius += 0.05 * rng.NormFloat64()
		pressure, _ := steam.SaturationPressure(celsius)
		now := 9*3600 + 5*60 + i
		fmt.Fprintf(&b, "%02d:%02d:%02d,%.2f,%.2f\n", now/3600, now/60%60, now%60, celsius, pressure+0.3*math.Abs(rng.NormFloat64()))
	}
	return b.Bytes()
}

func sixLevels(*Header) Look {
	return Look{Setting: steam.Setting{Levels: []float64{115, 121, 126, 132, 134, 135}, Above: 0.5, Below: 0.5,
		Over: []float64{2, 3, 4}, Apart: []float64{1, 2}}, Altitude: 350, AltitudeKnown: true}
}

// BenchmarkRead reads one file: alone, with what is looked for, with points for a
// chart, and by encoding/csv with strconv, which keeps nothing and judges nothing.
func BenchmarkRead(b *testing.B) {
	file := bigFile()
	buffer, series := make([]byte, leastBuffer), new(steam.Series)
	run := func(name string, read func() error) {
		b.Run(name, func(b *testing.B) {
			b.SetBytes(int64(len(file)))
			b.ReportAllocs()
			for b.Loop() {
				if err := read(); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/2800, "ns/reading")
		})
	}
	ours := func(o Options) func() error {
		return func() error {
			o.Name, o.Buffer, o.Series = "2026/S1-00341.csv", buffer, series
			t, err := Read(bytes.NewReader(file), o)
			if err == nil && t.Readings != 2800 {
				err = fmt.Errorf("%d readings: %s %v", t.Readings, t.Unusable, t.Problems)
			}
			return err
		}
	}
	run("alone", ours(Options{}))
	run("look", ours(Options{Look: sixLevels}))
	run("points", ours(Options{Look: sixLevels, Points: 1000}))
	run("plain", func() error { return plainCSV(bytes.NewReader(file)) })
}

// plainCSV only reads: every field a string, every number a float64.
func plainCSV(from io.Reader) error {
	c := csv.NewReader(from)
	c.FieldsPerRecord = -1
	c.ReuseRecord = true
	sum := 0.0
	for {
		cells, err := c.Read()
		if err == io.EOF {
			return nil
		}
		if err != nil {
			return err
		}
		for _, s := range cells[1:] {
			if v, err := strconv.ParseFloat(s, 64); err == nil {
				sum += v
			}
		}
	}
}
