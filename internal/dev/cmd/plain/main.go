// Command plain only reads the files of a practice: the yardstick for audit.
//
//	go run ./internal/dev/cmd/plain DIR
//	go run ./internal/dev/cmd/plain -only-traces DIR   # and turns their readings into numbers
package main

import (
	"flag"
	"fmt"
	"os"
	"time"

	"footing/internal/dev"
)

func main() {
	noTraces := flag.Bool("no-traces", false, "leave data-logger files out")
	onlyTraces := flag.Bool("only-traces", false, "read the data-logger files alone, and turn their readings into numbers")
	thrift := flag.Bool("thrift", false, "let the records of encoding/csv share their memory (ReuseRecord)")
	flag.Parse()
	if flag.NArg() != 1 {
		fmt.Fprintln(os.Stderr, "plain: name one folder of records")
		os.Exit(2)
	}
	if *noTraces && *onlyTraces {
		fmt.Fprintln(os.Stderr, "plain: choose one of -no-traces and -only-traces")
		os.Exit(2)
	}
	read := func(dir string) (bytes, rows int64, err error) { return dev.Plain(dir, !*noTraces, *thrift) }
	if *onlyTraces {
		read = func(dir string) (bytes, rows int64, err error) { return dev.PlainTraces(dir, *thrift) }
	}
	began := time.Now()
	bytes, rows, err := read(flag.Arg(0))
	if err != nil {
		fmt.Fprintln(os.Stderr, "plain:", err)
		os.Exit(2)
	}
	fmt.Printf("%d bytes, %d rows, %.3f s\n", bytes, rows, time.Since(began).Seconds())
}
