package booklet

import (
	"dryfit/assembly"
	"dryfit/toy"
)

// built is a step of the build with its pieces.
type built struct {
	id     string
	pieces []int
}

// buildSteps are the steps of the file's build, each with the pieces that it adds.
func buildSteps(m *assembly.Model) []built {
	out := make([]built, len(m.Toy.Build))
	for k, s := range m.Toy.Build {
		var ids []string
		switch s := s.(type) {
		case toy.Put:
			ids = []string{s.ID}
		case toy.Wheels:
			ids = append(append([]string{s.AxleID}, s.WheelIDs[0]...), s.WheelIDs[1]...)
		case toy.Peg:
			ids = []string{s.ID}
		case toy.Hinge:
			ids = []string{s.ID}
		}
		for _, id := range ids {
			out[k].id = ids[0]
			out[k].pieces = append(out[k].pieces, m.Find(id)...)
		}
	}
	return out
}
