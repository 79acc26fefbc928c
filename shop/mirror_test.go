package shop

import (
	"strings"
	"testing"
)

// A part that is another turned over is listed as itself, and drilled with the other; one that
// is not has set-ups of its own, mirrored.
func TestLeftAndRight(t *testing.T) {
	l := List(load(t, "../examples/plain/left-and-right.yaml"))
	blanks := map[string]Blank{}
	for _, s := range l.Stock {
		for _, b := range s.Blanks {
			blanks[b.Part] = b
		}
	}
	for part, want := range map[string]Blank{
		"left-side": {Count: 1}, "right-side": {Count: 1, Mirrors: "left-side"},
		"left-foot": {Count: 1}, "right-foot": {Count: 1, Mirrors: "left-foot", TurnedOver: true},
	} {
		if got := blanks[part]; got.Count != want.Count || got.Mirrors != want.Mirrors || got.TurnedOver != want.TurnedOver {
			t.Errorf("%s: %+v", part, got)
		}
	}
	hooks, feet := map[string]float64{}, 0
	for _, s := range l.Bits[0].SetUps {
		switch {
		case s.Holes[0].Name == "hook":
			hooks[s.Part] = s.Holes[0].YMM
		case s.Part == "right-foot":
			t.Error("the right foot is drilled by itself")
		case s.Part == "left-foot":
			feet = s.Pieces
		}
	}
	if feet != 2 || hooks["left-side"] != 48 || hooks["right-side"] != 70-48 {
		t.Errorf("%d feet are drilled, hooks at %v", feet, hooks)
	}
	for _, want := range []string{"left-foot, right-foot (turned over afterwards): 2 pieces", "right-foot is left-foot turned over: one pattern serves both",
		"right-side is the mirror image of left-side, by a pattern of its own"} {
		if !strings.Contains(l.Text(), want) {
			t.Errorf("%q is not said", want)
		}
	}
}
