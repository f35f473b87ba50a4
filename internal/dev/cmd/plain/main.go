// Command plain only reads the files of a practice: the yardstick for audit.
//
//	go run ./internal/dev/cmd/plain DIR
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
	flag.Parse()
	if flag.NArg() != 1 {
		fmt.Fprintln(os.Stderr, "plain: name one folder of records")
		os.Exit(2)
	}
	began := time.Now()
	bytes, rows, err := dev.Plain(flag.Arg(0), !*noTraces)
	if err != nil {
		fmt.Fprintln(os.Stderr, "plain:", err)
		os.Exit(2)
	}
	fmt.Printf("%d bytes, %d rows, %.3f s\n", bytes, rows, time.Since(began).Seconds())
}
