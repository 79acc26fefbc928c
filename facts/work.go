package facts

import (
	"slices"
	"strings"
	"unicode"
)

// Deed is a kind of work in the shop, and who can do it. The ages are a shop teacher's rule
// of thumb for a child who has been shown how; that an adult saws and drills is said by
// Cautions("child") too.
type Deed struct {
	Name  string
	Says  string // as one speaks of it: sawing
	Years int    // a child from this age on can do it; 0: an adult does it
	Alone bool   // without an adult's hands on it; an adult is always in the shop
	Why   string // how the sentence goes on that says who
	Origin
}

// Deeds returns all kinds of work, in the order in which they are told.
func Deeds() []Deed { return all().deeds }

// DeedNamed returns a kind of work.
func DeedNamed(name string) (Deed, bool) {
	for _, d := range all().deeds {
		if d.Name == name {
			return d, true
		}
	}
	return Deed{}, false
}

// Duration is how long something takes one practised adult, or glue.
type Duration struct {
	Name    string
	Minutes float64
	Says    string
	Origin
}

// Durations returns the table of durations.
func Durations() []Duration { return all().durations }

// Finish is how a finish is put on.
type Finish struct {
	Words  []string
	Coats  int
	Recoat float64 // hours until the next coat, and until it can be handled
	Harden float64 // days until a child gets the toy
	Origin
}

// UsualFinish is taken where a toy does not say.
const UsualFinish = "mineral oil"

// FinishOf returns the finish that a text speaks of, the longest phrase that it has; the
// usual one, and false, where it speaks of none that is known.
func FinishOf(text string) (best Finish, known bool) {
	split := func(s string) string {
		words := strings.FieldsFunc(strings.ToLower(s), func(r rune) bool { return !unicode.IsLetter(r) })
		return " " + strings.Join(words, " ") + " "
	}
	text = split(text)
	longest := 0
	for _, f := range all().finishes {
		for _, w := range f.Words {
			if !known && w == UsualFinish {
				best = f
			}
		}
	}
	for _, f := range all().finishes {
		for _, w := range f.Words {
			if len(w) > longest && strings.Contains(text, split(w)) {
				best, longest, known = f, len(w), true
			}
		}
	}
	return best, known
}

func (t *tables) addDeed(r *record) {
	d := Deed{Name: r.text("name"), Says: r.text("says"), Years: int(r.number("years")), Why: r.text("why"), Origin: r.origin()}
	switch r.text("alone") {
	case "yes":
		d.Alone = true
	case "no":
	default:
		r.fail("alone is yes or no")
	}
	if d.Years < 0 || d.Alone && d.Years == 0 {
		r.fail("years %d", d.Years)
	}
	if slices.ContainsFunc(t.deeds, func(o Deed) bool { return o.Name == d.Name }) {
		r.fail("%s is there twice", d.Name)
	}
	t.deeds = append(t.deeds, d)
}

func (t *tables) addDuration(r *record) {
	d := Duration{r.text("name"), r.number("minutes"), r.text("says"), r.origin()}
	if !(d.Minutes > 0) {
		r.fail("minutes %g", d.Minutes)
	}
	if slices.ContainsFunc(t.durations, func(o Duration) bool { return o.Name == d.Name }) {
		r.fail("%s is there twice", d.Name)
	}
	t.durations = append(t.durations, d)
}

func (t *tables) addFinish(r *record) {
	f := Finish{strings.Split(r.text("words"), ";"), int(r.number("coats")), r.number("recoat_hours"), r.number("harden_days"), r.origin()}
	if f.Coats < 0 || f.Recoat < 0 || f.Harden < 0 {
		r.fail("coats and times cannot be less than 0")
	}
	t.finishes = append(t.finishes, f)
}
