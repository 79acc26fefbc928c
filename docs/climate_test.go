package docs_test

import (
	"fmt"
	"os"
	"strings"
	"testing"

	"dryfit/facts"
)

// The manual's table of climates is that of facts, and has all of it.
func TestClimates(t *testing.T) {
	text, err := os.ReadFile(page)
	if err != nil {
		t.Fatal(err)
	}
	want := "| climate | air | moisture of wood |\n|---|---|---|\n"
	for _, key := range facts.ClimateKeys() {
		y, bad := facts.ReadYear(key + ".." + key)
		if bad != nil {
			t.Fatal(bad)
		}
		want += fmt.Sprintf("| %s | %g °C, %.0f %% | %.1f %% |\n", key, y.Dry.Celsius, 100*y.Dry.RH, y.Dry.Moisture())
	}
	if !strings.Contains(string(text), "\n\n"+want+"\n") {
		t.Errorf("%s does not show the climates:\n%s", page, want)
	}
}
