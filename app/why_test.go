package app

import (
	"fmt"
	"strings"
	"testing"

	"dryfit/prove"
)

// Every check says what it asks, how it is computed, and what it compares with from
// which source; and Why prints all of it.
func TestEveryCheckExplainsItself(t *testing.T) {
	for _, c := range prove.Checks {
		if !strings.HasSuffix(c.Asks, "?") || len(c.How) < 40 || len(c.Limits) == 0 {
			t.Errorf("%s asks %q, how %q, %d limits", c.ID, c.Asks, c.How, len(c.Limits))
		}
		text, near, ok := Why(c.ID)
		flat := strings.Join(strings.Fields(text), " ")
		if !ok || near != "" || !strings.HasPrefix(text, c.ID+": ") || !strings.Contains(flat, strings.Join(strings.Fields(c.How), " ")) {
			t.Errorf("%s is explained as\n%s", c.ID, text)
		}
		for _, l := range c.Limits {
			if l.What == "" || l.Is == "" || l.Source == "" {
				t.Errorf("%s has the limit %+v", c.ID, l)
			}
			if want := strings.Join(strings.Fields(fmt.Sprintf("%s: %s (%s)", l.What, l.Is, l.Source)), " "); !strings.Contains(flat, want) {
				t.Errorf("%s does not say: %s", c.ID, want)
			}
		}
		for _, line := range strings.Split(text, "\n") {
			if len([]rune(line)) > 96 {
				t.Errorf("%s: a line wider than 96: %s", c.ID, line)
			}
		}
	}
}

// A wrong id is answered with the nearest; one not made yet says so; the list has
// every check once.
func TestWhyOthers(t *testing.T) {
	if _, near, ok := Why("fit.overlaps"); ok || near != "fit.overlap" {
		t.Errorf("near %q, %v", near, ok)
	}
	if _, near, ok := Why("xyzzy-plugh"); ok || near != "" {
		t.Errorf("near %q, %v", near, ok)
	}
	for _, id := range prove.NotYet() {
		if text, _, ok := Why(id); !ok || !strings.Contains(text, "does not compute it") && !strings.Contains(text, prove.Elsewhere(id)) {
			t.Errorf("%s: %q", id, text)
		}
	}
	all := WhyAll()
	for _, id := range append(prove.IDs(), prove.NotYet()...) {
		if strings.Count("\n"+all, "\n"+id+" ") != 1 {
			t.Errorf("%s is not once in\n%s", id, all)
		}
	}
	if page := ChecksPage(); strings.Count(page, "\n## ") != len(prove.Checks) {
		t.Error("not a section for every check")
	}
}
