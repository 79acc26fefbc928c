package guide_test

import (
	"flag"
	"os"
	"testing"
)

var update = flag.Bool("update", false, "write the goldens anew")

// The guides of the demo toys, read as one reads them.
func TestGolden(t *testing.T) {
	for _, name := range []string{"quay-tram", "tipping-wagon", "plain/log-load"} {
		t.Run(name, func(t *testing.T) {
			got := text(of(t, name))
			path := "testdata/" + base(name) + ".golden"
			if *update {
				if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
					t.Fatal(err)
				}
				return
			}
			want, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			if got != string(want) {
				t.Errorf("the guide has changed: look at it with -update\n%s", got)
			}
		})
	}
}

func base(name string) string {
	for i := len(name) - 1; i >= 0; i-- {
		if name[i] == '/' {
			return name[i+1:]
		}
	}
	return name
}
