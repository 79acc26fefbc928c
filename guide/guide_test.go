package guide_test

import (
	"flag"
	"os"
	"strings"
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

// A right one that mirrors the left says how it is got: by a pattern of its own, or as
// the left one turned over, with the pattern then on its other face.
func TestMirrorImagesAreSaid(t *testing.T) {
	says := text(of(t, "plain/left-and-right"))
	for _, want := range []string{
		"It is the mirror image of the left side, with a pattern of its own: do not mix the two up.",
		"Its pattern serves the right foot as well: print a copy for each piece, or trace the first.",
		"It is the left foot turned over, and made by the same pattern, which then lies on the other face: saw all alike, then turn this one over.",
		"Drill the peg hole from the face with the 8 mm bit, right through.",
		"Drill the peg hole from the other face with the 8 mm bit, right through.",
	} {
		if strings.Count(says, want) != 1 {
			t.Errorf("%q is said %d times", want, strings.Count(says, want))
		}
	}
}
