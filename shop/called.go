package shop

import (
	"slices"
	"strings"

	"dryfit/assembly"
	"dryfit/toy"
)

// A piece has one name on every page: in the steps, on the list of pieces and above its
// pattern.

// Called is the name of a piece: its own, or that of its part where it is the only one and
// the part's name says the same and more. It is written as in the file.
func Called(m *assembly.Model, i int) string {
	p := m.Pieces[i]
	own, part := plainID(p.ID[strings.LastIndexByte(p.ID, '/')+1:]), p.Part.Name
	if p.Part.Shape == toy.Rod || !strings.HasSuffix(part, "-"+own) {
		return own
	}
	for k, q := range m.Pieces {
		if k != i && q.Part.Name == part {
			return own
		}
	}
	return part
}

// CalledTogether are the names of some pieces of a part: that of the part, where they are
// things of that kind, else their own. Of dowels the part's name says too little.
func CalledTogether(m *assembly.Model, p *toy.Part, pieces []int) []string {
	last := func(name string) string { return name[strings.LastIndexByte(name, '-')+1:] }
	var names []string
	kind := len(pieces) != 1
	for _, i := range pieces {
		name := Called(m, i)
		kind = kind && last(name) == last(p.Name)
		names = with(names, name)
	}
	if len(names) == 0 || kind && p.Shape != toy.Rod || slices.Contains(names, p.Name) {
		return []string{p.Name}
	}
	return names
}
