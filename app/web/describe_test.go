package web

import (
	"flag"
	"os"
	"testing"
)

var update = flag.Bool("update", false, "write golden files anew")

// The description that the pages are compiled against is that of this program.
func TestGoldenProtocol(t *testing.T) {
	const file = "../ui/src/protocol.ts"
	want := Describe()
	if *update {
		if err := os.WriteFile(file, []byte(want), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	got, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if string(got) != want {
		t.Errorf("%s is not that of this program: run go test ./app/web -run Golden -update", file)
	}
}
