// Command dump prints what the engine says of toy files, as oracle.mjs reads it:
//
//	go run ./oracle/dump examples/quay-tram.yaml | node oracle/oracle.mjs
package main

import (
	"encoding/json"
	"fmt"
	"os"

	"dryfit/oracle"
)

func main() {
	var q oracle.Request
	for _, name := range os.Args[1:] {
		text, err := os.ReadFile(name)
		if err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(2)
		}
		if probs := q.Read(name, string(text)); len(probs) > 0 {
			fmt.Fprintln(os.Stderr, probs)
			os.Exit(2)
		}
	}
	if err := json.NewEncoder(os.Stdout).Encode(q); err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(2)
	}
}
