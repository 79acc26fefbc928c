package toy

// What others can sit on.

// Everywhere are the features that every piece has: its sides as it lies, and its middle.
var Everywhere = []string{"top", "bottom", "left", "right", "front", "back", "middle"}

// Middles are the words for the middle of a piece that is put in one direction alone: forward and
// back, from side to side, up and down.
var Middles = []string{"middle-along", "middle-across", "middle-up"}

// FeatureKind is what a named feature is.
type FeatureKind int

// The kinds of features.
const (
	HoleFeature FeatureKind = iota
	FlatFeature
	PointFeature
	AxisFeature // of something round
)

func (k FeatureKind) String() string { return [...]string{"hole", "flat", "point", "axis"}[k] }

// Feature is a place on a piece that has a name because of the work on it.
type Feature struct {
	Name string
	Kind FeatureKind
}

// FeaturesOf returns what work gives names to, in its order.
func FeaturesOf(work []Work) (out []Feature) {
	outline := func(o Outline) {
		for _, n := range o.Flats {
			out = append(out, Feature{n.Name, FlatFeature})
		}
		for _, n := range o.Points {
			out = append(out, Feature{n.Name, PointFeature})
		}
	}
	for _, w := range work {
		switch w := w.(type) {
		case Drill:
			for _, h := range w.Holes {
				if h.Name != "" {
					out = append(out, Feature{h.Name, HoleFeature})
				}
			}
		case Saw:
			outline(w.Outline)
		case Cut:
			outline(w.Outline)
		}
	}
	return out
}

// Features returns what a part has beside its sides and middle.
func (p *Part) Features() []Feature {
	out := FeaturesOf(p.Work)
	if p.Bore > 0 {
		out = append(out, Feature{"bore", HoleFeature})
	}
	if p.Shape == Rod || p.Shape == Disc {
		out = append(out, Feature{"axis", AxisFeature})
	}
	return out
}
