package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// Two tasks of 3 and 4 that share a saw, then one of 2: 9.
const tinyPlan = `{"name": "tiny", "resource_capacity": [1], "optimum_makespan": 1, "activities": [
	{"id": 1, "duration": 0, "demand": [0], "successors": [2, 3]},
	{"id": 2, "duration": 3, "demand": [1], "successors": [4]},
	{"id": 3, "duration": 4, "demand": [1], "successors": [4]},
	{"id": 4, "duration": 2, "demand": [0], "successors": []}]}`

func TestPlanAndItsCheck(t *testing.T) {
	dir, out := t.TempDir(), t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "tiny.json"), []byte(tinyPlan), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := run([]string{"plan", dir, "--seconds", "5", "--seed", "3", "-o", out}); err != nil {
		t.Fatal(err)
	}
	if err := run([]string{"check", "plan", dir, out}); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(out, "tiny.json")
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	good := string(text)
	for _, want := range []string{`"value":9`, `"bound":9`, `"proved":true`, `"4":7`} {
		if !strings.Contains(good, want) {
			t.Errorf("no %s in %s", want, good)
		}
	}
	for _, c := range []struct{ from, to, say string }{
		{`"4":7`, `"4":6`, "the last activity ends at 8, value is 9"},
		{`"4":7`, `"5":7`, "activity 4 has no start"},
		{`"value":9`, `"value":8`, "the last activity ends at 9"},
		{`"bound":9`, `"bound":8`, "do not go together"},
		{`"2":4`, `"2":5`, "activity 4 starts at 7, activity 2 before it ends at 8"},
		{`"2":4`, `"2":3`, "resource 1: 2 of 1 are held at 3, when activity 2 starts"},
		{`"2":0`, `"2":1`, "resource 1: 2 of 1 are held at 3, when activity 3 starts"},
		{`"instance":"tiny"`, `"instance":"other"`, `is of instance "other"`},
	} {
		bad := strings.Replace(good, c.from, c.to, 1)
		if bad == good {
			continue // of two equal schedules it took the other
		}
		if err := os.WriteFile(path, []byte(bad), 0o644); err != nil {
			t.Fatal(err)
		}
		if err := run([]string{"check", "plan", dir, out}); err == nil || !strings.Contains(err.Error(), c.say) {
			t.Errorf("%s for %s: said %v, want %s", c.to, c.from, err, c.say)
		}
	}
	if err := run([]string{"check", "plan", dir}); err == nil || !strings.Contains(err.Error(), "usage") {
		t.Errorf("said %v", err)
	}
}

// What an activity takes of each resource has to be said.
func TestShortDemand(t *testing.T) {
	dir, out := t.TempDir(), t.TempDir()
	write(t, dir, "short", strings.Replace(tinyPlan, `"resource_capacity": [1]`, `"resource_capacity": [1, 2]`, 1))
	write(t, out, "short", `{"instance": "tiny", "starts": {"1": 0, "2": 4, "3": 0, "4": 7}, "value": 9, "bound": 9}`)
	for _, args := range [][]string{{"plan", dir, "--seconds", "1", "-o", out}, {"check", "plan", dir, out}} {
		if err := run(args); err == nil || !strings.Contains(err.Error(), "short.json: activity 1 has 1 demands, for 2 resources") {
			t.Errorf("%v: said %v", args, err)
		}
	}
}
