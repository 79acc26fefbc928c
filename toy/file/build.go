package file

import (
	"fmt"
	"regexp"
	"slices"
	"sort"
	"strings"

	"dryfit/measure"
	"dryfit/measure/source"
	"dryfit/toy"
	"dryfit/toy/file/shape"
	"dryfit/toy/file/tree"
)

func sortStrings(s []string) { sort.Strings(s) }

// stepMap is an entry of the build that is not a put.
type stepMap struct {
	shape.Place
	Wheels *wheels `key:"wheels" pick:"one" says:"An axle with wheels in a hole."`
	Peg    *peg    `key:"peg" pick:"one" says:"A dowel glued into holes in line."`
	Hinge  *hinge  `key:"hinge" pick:"one" says:"A pin that one piece is fixed to and another turns on."`
}

// FromNode reads a put, or one of wheels, peg and hinge.
func (s *step) FromNode(n *tree.Node, r *shape.Reader) {
	s.At = n.Range
	if n.At("put") != nil {
		s.put = &put{}
		r.Decode(n, s.put)
		return
	}
	var m stepMap
	r.Decode(n, &m)
	s.wheels, s.peg, s.hinge = m.Wheels, m.Peg, m.Hinge
}

// Schema describes the four entries.
func (s *step) Schema(g *shape.Generator) map[string]any {
	return map[string]any{"anyOf": []any{g.Of(put{}), g.Of(stepMap{})}}
}

// FromNode reads the word rolls, or a map.
func (m *must) FromNode(n *tree.Node, r *shape.Reader) {
	m.At = n.Range
	if n.Kind == tree.Scalar {
		if n.Text == "rolls" {
			m.Rolls = true
			return
		}
		r.Problem("must", n.Range, "this does not say what the toy must do").Expected = "rolls, or a map with swings, stands-on-slope, clears-floor or turns-in"
		return
	}
	var long mustMap
	r.Decode(n, &long)
	*m = must{Place: shape.Place{At: n.Range}, Swings: long.Swings, Least: long.Least, Each: long.Each, Stands: long.Stands, Clears: long.Clears, Turns: long.Turns}
}

// Schema describes both forms.
func (m *must) Schema(g *shape.Generator) map[string]any {
	return map[string]any{"anyOf": []any{map[string]any{"const": "rolls"}, g.Of(mustMap{})}}
}

// put resolves one piece. inBuild is false inside a glue-up, where only parts
// may be put.
func (r *resolver) put(p *put, inBuild bool) (toy.Put, bool) {
	out := toy.Put{Part: p.Put.Text, Glued: p.Glued.Is, Leave: p.Leave.Text, At: p.Put.At}
	var options []string
	for _, x := range r.toy.Parts {
		options = append(options, x.Name)
	}
	_, isPart := r.toy.PartNamed(out.Part)
	_, isGlueUp := r.toy.GlueUpNamed(out.Part)
	if inBuild {
		for _, g := range r.toy.GlueUps {
			options = append(options, g.Name)
		}
	}
	if !isPart && !(isGlueUp && inBuild) {
		pr := r.problem("unknown-name", p.Put.At, "there is no part "+out.Part)
		pr.Nearest = source.Nearest(out.Part, options)
		pr.Expected = "one of " + strings.Join(options, ", ")
		r.lost = true
		return out, false
	}
	first := len(r.order) == 0
	out.ID = r.newID(p.As, out.Part)
	hangs := false
	features := r.featuresOfKind(pieceKind{part: out.Part})
	if isGlueUp {
		features = r.featuresOfKind(pieceKind{glueUp: out.Part})
	}
	for _, s := range p.Sits {
		if sit, ok := r.sit(s.Key, s.Value, out.Part, features); ok {
			out.Sits = append(out.Sits, sit)
			if !hangs {
				hangs = r.sameGroup(out.Leave, sit.Target.Piece, s.Value.At)
			}
		}
	}
	if first && len(out.Sits) > 0 {
		r.problem("sits", p.Put.At, "the first piece lies where it is: there is nothing yet to sit on")
	}
	if p.Lies != nil {
		l := r.liesOf(p.Lies)
		out.Lies = &l
		if isGlueUp {
			r.problem("unwanted", p.Lies.At, "a glue-up lies as its first piece does")
		}
	}
	if isPart {
		if part, _ := r.toy.PartNamed(out.Part); part.Shape == toy.Rod && part.Length == 0 {
			r.problem("missing", p.Put.At, "how long is "+out.Part+"? Only an axle, a peg or a pin gets its length from the build").Expected = "length, in the part"
		}
	}
	for _, g := range p.GlueTo {
		if r.pieceID(g.Text, g.At) && !r.sameGroup(out.Leave, g.Text, g.At) {
			out.GlueTo = append(out.GlueTo, g.Text)
			out.Glued = true
		}
	}
	if p.Keyed.Text != "" && r.pieceID(p.Keyed.Text, p.Keyed.At) && !r.sameGroup(out.Leave, p.Keyed.Text, p.Keyed.At) {
		out.Keyed = p.Keyed.Text
	}
	for _, s := range []struct {
		word string
		from *saddle
	}{{"saddle", p.Saddle}, {"slot", p.Slot}} {
		if s.from != nil && r.pieceID(s.from.Over.Text, s.from.Over.At) && !r.sameGroup(out.Leave, s.from.Over.Text, s.from.Over.At) {
			out.Saddle = &toy.Saddle{Word: s.word, Over: s.from.Over.Text, Across: dirOf(s.from.Across.Text), Glued: s.from.Fit.Text == "glued", At: s.from.Place.At}
		}
	}
	r.register(out.ID, out.Part, isGlueUp, out.Leave)
	return out, true
}

// newID gives a piece its id: the name it was given, or that of its part; the
// second of one name becomes name.2.
func (r *resolver) newID(as shape.Word, part string) string {
	base := part
	if as.Text != "" {
		base = as.Text
		if _, taken := r.pieces[base]; taken {
			r.problem("name-twice", as.At, "there is already a piece "+base)
		}
	}
	r.count[base]++
	if n := r.count[base]; n > 1 {
		return fmt.Sprintf("%s.%d", base, n)
	}
	return base
}

func (r *resolver) register(id, part string, glueUp bool, leave string) {
	kind := pieceKind{part: part}
	if glueUp {
		kind = pieceKind{glueUp: part}
		g, _ := r.toy.GlueUpNamed(part)
		for _, p := range g.Pieces {
			inner := id + "/" + p.ID
			r.pieces[inner], r.group[inner] = pieceKind{part: p.Part}, leave
			r.order = append(r.order, inner)
		}
	}
	r.pieces[id], r.group[id] = kind, leave
	r.order = append(r.order, id)
	if len(r.order) == maxPieces+1 {
		r.problem("too-many", r.toy.File.Whole(), "more pieces than dryfit builds").Expected = fmt.Sprintf("at most %d", maxPieces)
	}
}

// sameGroup refuses a piece that would hang in the air once a group is left out.
func (r *resolver) sameGroup(leave, on string, at source.Range) (hangs bool) {
	if g := r.group[on]; g != "" && g != leave {
		r.problem("left-out", at, on+" may be left out with "+g+", and this would then sit on nothing").Expected = "may-leave-out: " + g
		return true
	}
	return false
}

func (r *resolver) pieceID(id string, at source.Range) bool {
	if _, ok := r.pieces[id]; ok {
		return true
	}
	if r.lost {
		return false // a piece could not be put: what names it would only repeat the fault
	}
	p := r.problem("unknown-name", at, "there is no piece "+id+" yet")
	p.Nearest = source.Nearest(id, r.order)
	if len(r.order) > 0 && len(r.order) <= 12 {
		p.Expected = "one of " + strings.Join(r.order, ", ")
	}
	return false
}

var refForm = regexp.MustCompile(`^\s*([A-Za-z][\w-]*(?:/[A-Za-z][\w-]*)?(?:\.\d+)?(?:/[A-Za-z][\w-]*(?:\.\d+)?)?)\.([A-Za-z][\w-]*)\s*(?:([+-])\s+(.+))?$`)

// SplitRef parts a place on a piece, as frame.front - 1/8, into the piece, its feature and what is
// added: "- 1/8", or nothing.
func SplitRef(text string) (piece, feature, off string, ok bool) {
	m := refForm.FindStringSubmatch(text)
	if m == nil {
		return "", "", "", false
	}
	if m[3] != "" {
		off = m[3] + " " + strings.TrimSpace(m[4])
	}
	return m[1], m[2], off, true
}

// ref reads PIECE.FEATURE, and what is added to it.
func (r *resolver) ref(t shape.Text) (ref toy.Ref, off measure.Length, ok bool) {
	m := refForm.FindStringSubmatchIndex(t.Text)
	if m == nil {
		r.problem("place", t.At, "this does not name a place on a piece").Expected = "piece.side or piece.hole, perhaps + or - a length, as frame.front - 1/8"
		return ref, 0, false
	}
	part := func(i int) string {
		if m[2*i] < 0 {
			return ""
		}
		return t.Text[m[2*i]:m[2*i+1]]
	}
	ref = toy.Ref{Piece: part(1), Feature: part(2), At: t.At}
	if !r.pieceID(ref.Piece, t.At) {
		return ref, 0, false
	}
	if part(4) != "" {
		// The sign belongs to the formula: "- 3/4 - 1/4" takes both away.
		at, text := t.At, "0 "+part(3)+" "+part(4)
		if at.End-at.Start == len(t.Text) {
			at = source.Range{Start: at.Start + m[9] - len(text), End: at.Start + m[9]}
		}
		off = r.length(shape.Formula{Text: text, At: at}, nil)
	}
	return ref, off, r.feature(ref)
}

// feature tells whether a piece has a side, hole, flat or point of that name.
func (r *resolver) feature(ref toy.Ref) bool {
	names := append([]string(nil), toy.Everywhere...)
	names = append(names, r.featuresOf(ref.Piece)...)
	for _, n := range names {
		if n == ref.Feature {
			return true
		}
	}
	p := r.problem("unknown-name", ref.At, ref.Piece+" has no side, hole, flat or point "+ref.Feature)
	p.Nearest = source.Nearest(ref.Feature, names)
	p.Expected = "one of " + strings.Join(names, ", ")
	return false
}

func (r *resolver) featuresOf(id string) []string { return r.featuresOfKind(r.pieces[id]) }

func (r *resolver) featuresOfKind(kind pieceKind) []string {
	if kind.glueUp != "" {
		g, _ := r.toy.GlueUpNamed(kind.glueUp)
		return featureNames(toy.FeaturesOf(g.Work))
	}
	part, ok := r.toy.PartNamed(kind.part)
	if !ok {
		return nil
	}
	return featureNames(part.Features())
}

func featureNames(list []toy.Feature) []string {
	names := make([]string, len(list))
	for i, f := range list {
		names[i] = f.Name
	}
	return names
}

// sit reads one line of sits. features are those of the piece that is put.
func (r *resolver) sit(own shape.Word, t shape.Text, part string, features []string) (toy.Sit, bool) {
	names := slices.Concat(toy.Everywhere, toy.Middles, features)
	if !slices.Contains(names, own.Text) {
		p := r.problem("unknown-name", own.At, part+" has no side, hole, flat or point "+own.Text)
		p.Nearest, p.Expected = source.Nearest(own.Text, names), "one of "+strings.Join(names, ", ")
		return toy.Sit{}, false
	}
	ref, off, ok := r.ref(t)
	return toy.Sit{Own: own.Text, Target: ref, Off: off, At: own.At}, ok
}

// hole resolves references that have to be holes.
func (r *resolver) holes(list shape.OneOrMany[shape.Text]) []toy.Ref {
	var out []toy.Ref
	for _, t := range list.Items {
		ref, off, ok := r.ref(t)
		if !ok {
			continue
		}
		isHole := false
		for _, n := range r.featuresOf(ref.Piece) {
			isHole = isHole || n == ref.Feature
		}
		if !isHole || off != 0 {
			r.problem("place", t.At, t.Text+" is not a hole").Expected = "the name of a hole, as frame.front-axle"
			continue
		}
		out = append(out, ref)
	}
	return out
}

// dowelPart checks that a part is a piece of dowel, as axles, pegs and pins are.
func (r *resolver) dowelPart(w shape.Word) bool {
	var rods []string
	for _, p := range r.toy.Parts {
		if p.Shape == toy.Rod {
			rods = append(rods, p.Name)
		}
		if p.Name == w.Text && p.Shape == toy.Rod {
			return true
		}
	}
	p := r.problem("unknown-name", w.At, w.Text+" is not a part made of dowel")
	p.Nearest, p.Expected = source.Nearest(w.Text, rods), "one of "+strings.Join(rods, ", ")
	return false
}

func (r *resolver) build(d *doc) {
	for i := range d.Build {
		s := &d.Build[i]
		switch {
		case s.put != nil:
			if p, ok := r.put(s.put, true); ok {
				r.toy.Build = append(r.toy.Build, p)
			}
		case s.wheels != nil:
			r.wheels(s.wheels, s.At)
		case s.peg != nil:
			p := s.peg
			out := toy.Peg{Use: p.Use.Text, In: r.holes(p.In), Proud: r.length(p.Proud, nil), Length: r.optional(p.Length), Leave: p.Leave.Text, At: s.At}
			if !r.dowelPart(p.Use) {
				continue
			}
			out.ID = r.newID(p.As, out.Use)
			r.register(out.ID, out.Use, false, out.Leave)
			r.refGroups(out.Leave, out.In)
			if part, _ := r.toy.PartNamed(out.Use); out.Length == nil && part.Length > 0 {
				out.Length = &part.Length
			}
			r.toy.Build = append(r.toy.Build, out)
		case s.hinge != nil:
			r.hinge(s.hinge, s.At)
		}
	}
	if len(r.toy.Build) == 0 && len(*r.probs) == 0 {
		r.problem("empty", d.At, "the build puts nothing together")
	}
}

func (r *resolver) refGroups(leave string, refs []toy.Ref) {
	for _, ref := range refs {
		r.sameGroup(leave, ref.Piece, ref.At)
	}
}

func (r *resolver) hinge(h *hinge, at source.Range) {
	out := toy.Hinge{Name: h.Name.Text, Pin: h.Pin.Text, Fixed: r.holes(h.Fixed), Runs: r.holes(h.Runs),
		Proud: r.length(h.Proud, nil), Length: r.optional(h.Length), LiftsOff: h.LiftsOff.Is, Leave: h.Leave.Text, At: at}
	for _, s := range r.toy.Build {
		if other, ok := s.(toy.Hinge); ok && other.Name == out.Name {
			r.problem("name-twice", h.Name.At, "there is already a hinge "+out.Name)
			return
		}
	}
	if !r.dowelPart(h.Pin) {
		return
	}
	as := h.As
	if as.Text == "" {
		as = shape.Word{Text: out.Name + "-" + out.Pin, At: h.Name.At}
	}
	out.ID = r.newID(as, out.Pin)
	r.register(out.ID, out.Pin, false, out.Leave)
	r.refGroups(out.Leave, append(append([]toy.Ref(nil), out.Fixed...), out.Runs...))
	if part, _ := r.toy.PartNamed(out.Pin); out.Length == nil && part.Length > 0 {
		out.Length = &part.Length
	}
	r.toy.Build = append(r.toy.Build, out)
}

func (r *resolver) wheels(w *wheels, at source.Range) {
	out := toy.Wheels{In: r.holes(w.In), Axle: w.Axle.Text, Length: r.optional(w.Length), Proud: r.optional(w.Proud),
		Play: r.optional(w.Play), Gap: r.optional(w.Gap), Leave: w.Leave.Text, At: at}
	if !r.dowelPart(w.Axle) {
		return
	}
	if part, _ := r.toy.PartNamed(out.Axle); part.Length > 0 {
		if out.Length != nil {
			r.problem("twice", w.Length.At, "the length of "+out.Axle+" is already said in its part")
		}
		out.Length = &part.Length
	}
	for i, word := range w.Outward {
		if word.Text == "gap" { // there is one between every two wheels; the word is for the reader
			if i == 0 || i == len(w.Outward)-1 || w.Outward[i-1].Text == "gap" {
				r.problem("wheels", word.At, "a gap stands between two wheels").Expected = "as [wheel, gap, wheel]"
				return
			}
			continue
		}
		p, ok := r.toy.PartNamed(word.Text)
		if !ok || p.Shape != toy.Disc {
			var discs []string
			for _, x := range r.toy.Parts {
				if x.Shape == toy.Disc {
					discs = append(discs, x.Name)
				}
			}
			pr := r.problem("unknown-name", word.At, word.Text+" is not a wheel: a part made as a disc")
			pr.Nearest, pr.Expected = source.Nearest(word.Text, discs), "one of "+strings.Join(discs, ", ")
			return
		}
		out.Outward = append(out.Outward, word.Text)
	}
	if len(out.Outward) == 0 || len(out.Outward) > 8 {
		r.problem("wheels", at, "an axle carries from one to eight wheels at each end").Expected = "outward: [wheel]"
		return
	}
	missing := 0
	for _, l := range []*measure.Length{out.Length, out.Proud, out.Play} {
		if l == nil {
			missing++
		}
	}
	if len(out.Outward) > 1 && out.Gap == nil {
		missing++
	}
	if len(out.Outward) == 1 && out.Gap != nil {
		r.problem("unwanted", w.Gap.At, "there is no gap between single wheels")
	}
	switch missing {
	case 0:
		r.problem("too-much", at, "axle length, proud, play and gap are all said, and any three give the fourth").Expected = "one of them left out"
		return
	case 1:
	default:
		r.problem("missing", at, "the axle is not settled: of its length, proud, play and (for twins) gap only one can be left out")
		return
	}
	out.AxleID = r.newID(shape.Word{}, out.Axle)
	r.register(out.AxleID, out.Axle, false, out.Leave)
	for end := range out.WheelIDs {
		for _, p := range out.Outward {
			id := r.newID(shape.Word{}, p)
			out.WheelIDs[end] = append(out.WheelIDs[end], id)
			r.register(id, p, false, out.Leave)
		}
	}
	r.refGroups(out.Leave, out.In)
	r.toy.Build = append(r.toy.Build, out)
}
