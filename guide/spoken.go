package guide

import (
	"regexp"
	"strconv"
	"strings"

	"dryfit/shop"
	"dryfit/toy"
)

// What the proof says names things as the file does: hull/work.2.1, body/rear-axle. Who builds
// the toy has no file: the guide says which hole of which piece that is.

var path = regexp.MustCompile(`((?:the )?(?:stopped )?hole )?([A-Za-z][\w-]*(?:\.\d+)?(?:/[A-Za-z][\w-]*(?:\.\d+)*)+)`)

var counted = regexp.MustCompile(`[A-Za-z][\w-]*\.\d+`) // wheel.2

// spoken puts a text of the proof into the words of the guide.
func (b *book) spoken(says string) string {
	says = path.ReplaceAllStringFunc(says, func(s string) string {
		m := path.FindStringSubmatch(s)
		if name := b.thing(m[2]); name != "" {
			return name
		}
		return s
	})
	says = counted.ReplaceAllStringFunc(says, func(s string) string {
		if at := b.Model.Find(s); len(at) == 1 {
			return b.say("spoken.piece", "name", plain(s), "number", shop.Number(at[0]))
		}
		return s
	})
	return shop.Spoken(b.Model)(says)
}

// thing names what a path of the file stands for; "" if it is none.
func (b *book) thing(id string) string {
	if len(b.Model.Find(id)) > 0 {
		return plain(id)
	}
	k := strings.LastIndexByte(id, '/')
	of, feature := id[:k], id[k+1:]
	for _, p := range b.Model.Pieces {
		spec, bench := "", p.ID == of || p.Part.Name == of
		work, at := p.Part.Work, feature
		for _, g := range b.Model.GlueUps {
			if g.ID != p.GlueUp {
				continue
			}
			spec = g.Spec.Name
			if rest, later := strings.CutPrefix(feature, "glue-up-"); later || spec == of || g.ID == of {
				work, at = g.Spec.Work, rest
			}
		}
		if !bench && (spec == "" || spec != of && p.GlueUp != of) {
			continue
		}
		for k := range p.Made.Bores {
			if h := p.Bore(k); h.Named && h.Name == feature {
				if strings.HasSuffix(feature, "hole") {
					return b.say("spoken.hole.named", "name", plain(feature), "of", plain(of))
				}
				return b.say("spoken.hole", "name", plain(feature), "of", plain(of))
			}
		}
		if name := b.worked(work, at, plain(of)); name != "" {
			return name
		}
	}
	return ""
}

// worked names what the work of that number made: work.2, or a hole of it, work.2.1.
func (b *book) worked(work []toy.Work, id, of string) string {
	rest, ok := strings.CutPrefix(id, "work.")
	if !ok {
		return ""
	}
	number, _, _ := strings.Cut(rest, ".")
	n, err := strconv.Atoi(number)
	if err != nil || n < 1 || n > len(work) {
		return ""
	}
	switch w := work[n-1].(type) {
	case toy.Drill:
		return b.say("spoken.hole.plain", "dia", b.mm(w.Dia.MM()), "of", of, "side", shop.SideWord(w.Side))
	case toy.Cut:
		return b.say("spoken.cut", "name", b.say("word."+w.Word), "of", of, "side", shop.SideWord(w.Side))
	case toy.Saw:
		return b.say("spoken.saw", "of", of, "side", shop.SideWord(w.Side))
	}
	return ""
}
