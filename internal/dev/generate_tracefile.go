package dev

import (
	"bufio"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"runtime"
	"strconv"
	"sync"
)

// traceWriters write trace files beside the records, one at a time for each processor.
type traceWriters struct {
	dir   string
	every int // seconds between readings
	jobs  chan *cycle
	done  sync.WaitGroup
	mu    sync.Mutex
	err   error
}

func newTraceWriters(dir string, every int) *traceWriters {
	w := &traceWriters{dir: filepath.Join(dir, "traces"), every: every, jobs: make(chan *cycle, 64)}
	for range runtime.GOMAXPROCS(0) {
		w.done.Add(1)
		go func() {
			defer w.done.Done()
			for c := range w.jobs {
				if err := w.write(c); err != nil {
					w.mu.Lock()
					w.err = err
					w.mu.Unlock()
				}
			}
		}()
	}
	return w
}

func (w *traceWriters) add(c *cycle) { w.jobs <- c }

func (w *traceWriters) wait() error {
	close(w.jobs)
	w.done.Wait()
	return w.err
}

// write streams one trace: three lines of header, then clock, temperature, pressure.
func (w *traceWriters) write(c *cycle) error {
	path := filepath.Join(w.dir, filepath.FromSlash(c.name()))
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		return err
	}
	f, err := os.Create(path)
	if err != nil {
		return err
	}
	out := bufio.NewWriterSize(f, 1<<16)
	start := c.start.Add(c.flaw.ahead)
	fmt.Fprintf(out, "sterilizer,%s\ncounter,%d\ndate,%s\n", c.sterilizer, c.shown(), day(start))
	out.WriteString("time,temperature [°C],pressure [kPa absolute]\n")
	began := start.Hour()*3600 + start.Minute()*60
	var line []byte
	c.readings(func(second int, celsius, kPa float64) {
		if second%w.every != 0 || c.flaw.lost.holds(second) || c.flaw.torn.holds(second) {
			return
		}
		line = clock(line[:0], began+second)
		if !c.flaw.blank.holds(second) {
			line = hundredths(line, celsius)
		}
		line = append(hundredths(append(line, ','), kPa), '\n')
		if c.flaw.torn.holds(second + w.every) {
			line = line[:len(line)-6]
		}
		out.Write(line)
	})
	err = out.Flush()
	if e := f.Close(); err == nil {
		err = e
	}
	return err
}

// clock writes a second of the day and a comma.
func clock(b []byte, now int) []byte {
	b = append(twoDigits(b, now/3600), ':')
	b = append(twoDigits(b, now/60%60), ':')
	return append(twoDigits(b, now%60), ',')
}

func twoDigits(b []byte, n int) []byte { return append(b, byte('0'+n/10), byte('0'+n%10)) }

// hundredths writes a positive number with two digits after the point.
func hundredths(b []byte, x float64) []byte {
	n := int64(math.Round(x * 100))
	b = append(strconv.AppendInt(b, n/100, 10), '.')
	return twoDigits(b, int(n%100))
}
