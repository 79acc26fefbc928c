// Command same prints a digest of all that dryfit derives from toys: findings,
// patterns, lists and picture. Run natively and in WebAssembly it has to print the
// same (contract "Same answer everywhere").
package main

import (
	"crypto/sha256"
	"fmt"
	"os"

	"dryfit/app"
)

func main() {
	for _, name := range os.Args[1:] {
		text, err := os.ReadFile(name)
		if err != nil {
			fail(err)
		}
		t, probs := app.Open(name, string(text), nil, nil)
		if len(probs) > 0 {
			fail(probs)
		}
		made, err := app.Everything(t)
		if err != nil {
			fail(err)
		}
		for _, m := range made {
			fmt.Printf("%x  %s %s\n", sha256.Sum256(m.Bytes), name, m.Name)
		}
	}
}

func fail(err error) {
	fmt.Fprintln(os.Stderr, "same:", err)
	os.Exit(1)
}
