package guide

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"dryfit/assembly"
)

// The titles of the steps of the build. What is done alike to several pieces is said once
// of all of them, and two steps that would have one title say which pieces they are about.

// heading is one thing that a title says.
type heading struct {
	key    string
	pieces [][]int // of what it is done to, each thing by itself; of wheels their axles
	to     []int   // what they are put to, if its key has a slot for that
	host   string  // what they are put on, as it is called
}

// head adds to a title: to what it says already, where that is the same.
func (t *telling) head(h heading) {
	for k := range t.heads {
		if o := &t.heads[k]; o.key == h.key && o.host == h.host && slices.Equal(o.to, h.to) {
			o.pieces = append(o.pieces, h.pieces...)
			return
		}
	}
	t.heads = append(t.heads, h)
}

// titleOf says the title of a step, or with the numbers of its pieces.
func (b *book) titleOf(t *telling, full bool) string {
	var says []string
	things := 0
	for _, h := range t.heads {
		says = append(says, b.heading(h, full))
		var names []string
		for _, of := range h.pieces {
			if name := b.names(of); !slices.Contains(names, name) {
				names = append(names, name)
			}
		}
		things += len(names)
	}
	if len(says) > 1 && things > 2 {
		return says[0] + b.say("title.more")
	}
	return strings.Join(says, b.say("title.and")+" ")
}

func (b *book) heading(h heading, full bool) string {
	call := b.names
	if full {
		call = b.the
	}
	if h.key == "title.wheels" {
		if which := b.whichAxles(slices.Concat(h.pieces...), h.host); full && which != "" {
			return b.say("title.wheels.at", "at", which, "host", h.host)
		} else if full {
			return b.say("title.wheels.of", "axle", b.the(slices.Concat(h.pieces...)), "host", h.host)
		}
		return b.say("title.wheels", "host", h.host)
	}
	one := func(of []int) bool { return len(of) == 1 }
	piece := call(slices.Concat(h.pieces...))
	if !one(h.pieces[0]) || slices.ContainsFunc(h.pieces, func(of []int) bool { return !one(of) }) { // glue-ups have a name
		var names []string
		for _, of := range h.pieces {
			if name := call(of); !slices.Contains(names, name) {
				names = append(names, name)
			}
		}
		piece = b.listed(names)
	}
	return b.say(h.key, "piece", piece, "to", call(h.to), "host", h.host)
}

// tellApart gives steps of one title the numbers of their pieces, or says where their
// wheels are.
func (b *book) tellApart(steps []Step, told []*telling) {
	n := map[string]int{}
	for _, s := range steps {
		n[s.Title]++
	}
	for k := range steps {
		if n[steps[k].Title] > 1 {
			steps[k].Title = b.titleOf(told[k], true)
		}
	}
}

// whichAxles says which of the two or three axles of a host some are, from the rear to the
// front; "" where they are more or fewer, or do not lie one behind the other.
func (b *book) whichAxles(rods []int, host string) string {
	var all []*assembly.Axle
	for i := range b.Model.Axles {
		if a := &b.Model.Axles[i]; b.hostNames(hostPieces(a)) == host {
			all = append(all, a)
		}
	}
	at := func(a *assembly.Axle) float64 {
		c, _, _ := b.Model.Pieces[a.Rod].Axis()
		return c.X
	}
	slices.SortFunc(all, func(x, y *assembly.Axle) int { return cmp.Compare(at(x), at(y)) })
	words := map[int][]string{2: {"rear", "front"}, 3: {"rear", "middle", "front"}}[len(all)]
	var out []string
	for k := range words {
		_, dir, r := b.Model.Pieces[all[k].Rod].Axis()
		if math.Abs(dir.X) > 0.1 || k > 0 && at(all[k])-at(all[k-1]) < 2*r {
			return ""
		}
		if slices.Contains(rods, all[k].Rod) {
			out = append(out, b.say("wheels."+words[k]))
		}
	}
	return b.listed(out)
}
