package guide_test

import (
	"strings"
	"testing"
)

// How far the wagon's prop turns is decided by where its bed stands, so no angle is told; that
// of its bed, which is stopped by what stays, is.
func TestSwingThatAnotherMoveDecides(t *testing.T) {
	says := map[string]string{}
	for _, c := range of(t, "tipping-wagon").Checks {
		says[c.What] = c.Is
	}
	if got := says["Try the prop by hand"]; got != "freely, until it meets the bed front (11)" {
		t.Errorf("turn the prop: %q", got)
	}
	if got := says["Try the tip by hand"]; !strings.HasPrefix(got, "at least 35° (drawn: ") {
		t.Errorf("turn the tip: %q", got)
	}
}
