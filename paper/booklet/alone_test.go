package booklet_test

import (
	"slices"
	"strconv"
	"strings"
	"testing"

	"dryfit/shop"
)

// A step drawn by itself is the guide's step of that number: it says its title, and shows
// the pieces that its words put. A step without a drawing and one that is not there say so.
func TestStepIsTheGuides(t *testing.T) {
	b := book(t, example(t, "tipping-wagon"))
	n := 0
	for _, c := range b.Chapters {
		for _, s := range c.Steps {
			n++
			d, err := b.Step(s.Number)
			drawn := s.Shows.Group >= 0 || len(s.Shows.Pieces) > 0
			switch {
			case (err == nil) != drawn:
				t.Errorf("step %d: %v", s.Number, err)
			case err == nil && !strings.Contains(d.Says, s.Title):
				t.Errorf("step %d is called %q, its drawing %q", s.Number, s.Title, d.Says)
			}
			if s.Title != "Glue the cab to the chassis" {
				continue
			}
			var shown []int
			for _, p := range d.Scene.Shown {
				shown = append(shown, p.Piece)
			}
			if !slices.Equal(shown, []int{0, 1, 2, 3, 4, 5}) { // the chassis, the rests before it, the cab's layers
				t.Errorf("step %d shows %v", s.Number, shown)
			}
		}
	}
	for _, k := range []int{-1, n + 1} {
		if _, err := b.Step(k); err == nil {
			t.Errorf("step %d of %d was drawn", k, n)
		}
	}
}

// On a screen a step has all drawings that the web page has, in one picture.
func TestStepOnAScreen(t *testing.T) {
	b := book(t, example(t, "tipping-wagon"))
	apart := false
	for _, c := range b.Chapters {
		for _, s := range c.Steps {
			got, err := b.StepSVG(s.Number)
			if err != nil {
				t.Fatal(err)
			}
			if drawn := s.Shows.Group >= 0 || len(s.Shows.Pieces) > 0; drawn != (got != nil) {
				t.Errorf("step %d is drawn: %v", s.Number, got != nil)
			}
			if !s.Shows.Apart {
				continue
			}
			apart = true
			for _, i := range s.Shows.Pieces {
				if says := ">" + strconv.Itoa(shop.Number(i)); !strings.Contains(string(got), says) {
					t.Errorf("step %d does not say %s", s.Number, says)
				}
			}
		}
	}
	if !apart {
		t.Error("no step shows pieces side by side")
	}
	if _, err := b.StepSVG(0); err == nil {
		t.Error("a step 0 was drawn")
	}
}
