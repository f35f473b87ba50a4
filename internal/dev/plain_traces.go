package dev

import (
	"encoding/csv"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strconv"
	"strings"
)

// PlainTraces only reads the data-logger files of a practice that Generate made,
// over all processors: encoding/csv takes the lines apart,
// strconv turns clock, temperature and pressure into numbers, and nothing is done
// with them. It is the yardstick for reading and judging traces. It gives the bytes
// and the readings; the error names the first file that is no such file. Thrift is told at Plain.
func PlainTraces(dir string, thrift bool) (bytes, readings int64, err error) {
	every := func(string) bool { return true }
	return overFiles(filepath.Join(dir, "traces"), every, func(path string) (int64, error) { return plainTrace(path, thrift) })
}

const (
	headerLines = 4 // of a made trace: sterilizer, counter, date, headings
	secondsADay = 24 * 3600
)

func plainTrace(path string, thrift bool) (readings int64, err error) {
	f, err := os.Open(path)
	if err != nil {
		return 0, err
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.ReuseRecord = thrift
	r.FieldsPerRecord = -1
	for line := 1; ; line++ {
		record, err := r.Read()
		switch {
		case err == io.EOF:
			return readings, nil
		case err != nil:
			return readings, err
		case line <= headerLines:
			continue
		}
		if err := plainReading(record); err != nil {
			return readings, fmt.Errorf("line %d: %w", line, err)
		}
		readings++
	}
}

func plainReading(record []string) error {
	if len(record) != 3 {
		return fmt.Errorf("%d cells; a made trace has 3", len(record))
	}
	second, err := plainClock(record[0])
	if err != nil || second >= secondsADay {
		return fmt.Errorf("no time of day: %q", record[0])
	}
	for _, cell := range record[1:] {
		if _, err := strconv.ParseFloat(cell, 64); err != nil {
			return err
		}
	}
	return nil
}

// plainClock is hh:mm:ss in seconds after midnight.
func plainClock(s string) (seconds int, err error) {
	for rest, more := s, true; more; {
		var part string
		part, rest, more = strings.Cut(rest, ":")
		n, err := strconv.Atoi(part)
		if err != nil {
			return 0, err
		}
		seconds = 60*seconds + n
	}
	return seconds, nil
}
