package facts

import (
	"slices"
	"strings"
	"unicode"
)

// Care is what a toy maker has to know about a wood or a finish.
type Care struct {
	Words []string // what it goes by
	Of    string   // wood: the plain name of a wood; stock: a word in what stock is called; finish: a word of a finish
	Kind  string   // one of the kinds below
	Text  string   // how the sentence goes on after the name
	Origin
}

// The kinds of care.
const (
	CareNever   = "never"   // on no toy
	CareDoubt   = "doubt"   // only if it is known what is in it
	CareMouthed = "mouthed" // not where a child under three will mouth it; the maker minds the dust
	CareNut     = "nut"     // allergens
	CareCoat    = "coat"    // a coating, with limits of its own
	CareNote    = "note"    // good to know
	CarePlain   = "plain"   // customary
)

// Heed is a word of a text and what has to be known about it.
type Heed struct {
	Word string
	Care
}

// WoodCare returns what has to be known about a wood, by its plain name.
func WoodCare(name string) (Care, bool) {
	for _, c := range all().care {
		if c.Of == "wood" && slices.Contains(c.Words, name) {
			return c, true
		}
	}
	return Care{}, false
}

// Cares finds the words of the table in what somebody wrote about a finish or called
// stock, in their order. Longer phrases come first: "walnut oil" is not also oil,
// "lead-free" is no lead. A word after "no", "not", "non" or "without" is not meant.
func Cares(of, text string) (found []Heed) {
	words := strings.FieldsFunc(strings.ToLower(text), func(r rune) bool { return !unicode.IsLetter(r) })
	for i := 0; i < len(words); {
		var best Heed
		most := 0
		for _, c := range all().care {
			if c.Of != of {
				continue
			}
			for _, w := range c.Words {
				p := strings.FieldsFunc(w, func(r rune) bool { return !unicode.IsLetter(r) })
				if len(p) > most && len(p) <= len(words)-i && slices.Equal(p, words[i:i+len(p)]) {
					best, most = Heed{w, c}, len(p)
				}
			}
		}
		if most == 0 {
			i++
			continue
		}
		if i == 0 || !slices.Contains([]string{"no", "not", "non", "without", "never"}, words[i-1]) {
			found = append(found, best)
		}
		i += most
	}
	return found
}

func (t *tables) addCare(r *record) {
	c := Care{Words: strings.Split(r.text("words"), ";"), Of: r.text("of"), Kind: r.text("kind"), Text: r.maybe("text"), Origin: r.origin()}
	if !slices.Contains([]string{"wood", "stock", "finish"}, c.Of) {
		r.fail("of %q", c.Of)
	}
	if !slices.Contains([]string{CareNever, CareDoubt, CareMouthed, CareNut, CareCoat, CareNote, CarePlain}, c.Kind) {
		r.fail("kind %q", c.Kind)
	}
	for _, w := range c.Words {
		if w == "" || w != strings.ToLower(w) {
			r.fail("word %q", w)
		}
		for _, o := range t.care {
			if o.Of == c.Of && slices.Contains(o.Words, w) {
				r.fail("word %q is there twice", w)
			}
		}
		if c.Of == "wood" {
			if i, ok := t.woodAt[plain(w)]; !ok || t.woods[i].Name != w {
				r.fail("%q is not the plain name of a wood", w)
			}
		}
	}
	t.care = append(t.care, c)
}
