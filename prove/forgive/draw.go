package forgive

import (
	"dryfit/facts"
	"dryfit/prove/forgive/chance"
)

// draw returns the errors of one build: those of build n are the same whatever else is made.
func (in *inputs) draw(seed uint64, build int) []float64 {
	x := make([]float64, len(in.list))
	stream := chance.NewStream(seed)
	for i := range in.list {
		x[i] = stream.Draw(in.list[i].distribution(), build, i, 0)
	}
	return x
}

// one returns a single error of the first build of a seed.
func (in *inputs) one(seed uint64, i int) float64 {
	return chance.NewStream(seed).Draw(in.list[i].distribution(), 0, i, 0)
}

func (in Input) distribution() chance.Distribution {
	switch in.Shape {
	case facts.Uniform:
		return chance.Uniform{Low: -in.Spread, High: in.Spread}
	case facts.Over:
		return chance.HalfNormal{SD: in.Spread}
	}
	return chance.Normal{SD: in.Spread}
}
