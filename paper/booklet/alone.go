package booklet

import (
	"fmt"

	"dryfit/paper/picture"
	"dryfit/shop"
)

// Step returns the drawing of a step of the guide, by the number that it has there. Pieces
// that the guide shows side by side are shown where they are in the toy.
func (b *Book) Step(n int) (picture.Drawing, error) {
	step, all := b.stepNumbered(n)
	if step.Number == 0 {
		return picture.Drawing{}, fmt.Errorf("there is no step %d: expected 1 to %d", n, all)
	}
	says := picture.StepSays(n, all, step.Title)
	if scenes := b.scenes(step.Shows); len(scenes) == 1 {
		return picture.Drawing{Scene: scenes[0], Says: says}, nil
	} else if len(scenes) == 0 {
		return picture.Drawing{}, fmt.Errorf("step %d has no drawing: %s", n, step.Title)
	}
	var scene picture.Scene
	new := map[int]bool{}
	for _, i := range step.Shows.Pieces {
		for k, p := range b.m.Pieces {
			new[k] = new[k] || p.Part == b.m.Pieces[i].Part
		}
	}
	for k := range b.m.Pieces {
		show := picture.Shown{Piece: k, Look: picture.Quiet}
		if new[k] {
			show.Look, show.Number = picture.New, shop.Number(k)
		}
		scene.Shown = append(scene.Shown, show)
	}
	return picture.Drawing{Scene: scene, Says: says}, nil
}
