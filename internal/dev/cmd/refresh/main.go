// Refresh writes the generated pages of docs/ again. Run it from the checkout's top:
//
//	go run ./internal/dev/cmd/refresh
package main

import (
	"fmt"
	"os"

	"footing/internal/dev"
)

func main() {
	n, err := dev.Refresh(".")
	if err != nil {
		fmt.Fprintln(os.Stderr, "refresh:", err)
		os.Exit(1)
	}
	fmt.Println(n, "pages written")
}
