package plan

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"dryfit/assembly"
	"dryfit/facts"
	"dryfit/shop"
	"dryfit/toy"
)

// Shop is who works and with what.
type Shop struct {
	Hands []toy.Hand // none: one adult
	Rack  *toy.Rack  // nil: usual tools, clamps enough
}

// The tools that tasks wait for.
const (
	drillPress = "drill press"
	handDrill  = "hand drill"
	bandSaw    = assembly.BandSaw
	scrollSaw  = assembly.ScrollSaw
	copingSaw  = "coping saw"
	sander     = "sander"
	planer     = "planer"
	lathe      = "lathe"
	clampsName = "clamps"
)

// single are the tools of which a shop has one: machines, and the hand drill, which bits are
// fitted in too. Of hand saws there are enough.
var single = []string{drillPress, handDrill, bandSaw, scrollSaw, shop.TableSaw, shop.MitreSaw, sander, planer, lathe}

// UsualYears is how old a child is taken to be whose age is not said.
const UsualYears = 8

// mostHands is how many people a small shop holds.
const mostHands = 8

// ReadHands reads who works: "adult", "child", "child=11", or a name of the rack's.
func ReadHands(says string, rack *toy.Rack) (out []toy.Hand, err error) {
	for _, word := range strings.Split(says, ",") {
		word = strings.TrimSpace(word)
		name, age, aged := strings.Cut(word, "=")
		h := toy.Hand{Name: strings.TrimSpace(name)}
		known := -1
		if rack != nil {
			known = slices.IndexFunc(rack.Hands, func(o toy.Hand) bool { return o.Name == h.Name })
		}
		switch {
		case known >= 0 && !aged:
			if h = rack.Hands[known]; slices.ContainsFunc(out, func(o toy.Hand) bool { return o == h }) {
				return nil, fmt.Errorf("hands %s: named twice, and has two hands only", word)
			}
		case h.Name == "child":
			h.Years = UsualYears
			if aged {
				n, bad := strconv.Atoi(strings.TrimSpace(age))
				if bad != nil || n < 1 || n > 120 {
					return nil, fmt.Errorf("hands %s: expected an age in years, as child=9", word)
				}
				h.Years = n
			}
		case h.Name == "adult" && !aged:
		default:
			return nil, fmt.Errorf("hands %q: expected adult, child, child=9, or a name from hands of the shop file", word)
		}
		out = append(out, h)
	}
	return numbered(out), nil
}

// numbered gives those of one name numbers that make names which nobody else has.
func numbered(hands []toy.Hand) []toy.Hand {
	taken := map[string]bool{}
	for _, h := range hands {
		taken[h.Name] = true
	}
	met := map[string]bool{}
	for i := range hands {
		name := hands[i].Name
		if !met[name] {
			met[name] = true
			continue
		}
		for n := 2; ; n++ {
			if own := fmt.Sprintf("%s %d", name, n); !taken[own] {
				taken[own], hands[i].Name = true, own
				break
			}
		}
	}
	return hands
}

// grown is the age from which somebody counts as an adult.
const grown = 18

func isAdult(h toy.Hand) bool { return h.Years == 0 || h.Years >= grown }

// crew is a shop made ready.
type crew struct {
	hands   []toy.Hand
	minutes map[string]float64
	clamps  int // -1: enough
	tools   []string
	said    bool      // the tools are said
	rack    *toy.Rack // may be nil
	notes   []string
}

func newCrew(s Shop) (*crew, error) {
	c := &crew{hands: s.Hands, minutes: map[string]float64{}, clamps: -1, rack: s.Rack}
	for _, d := range facts.Durations() {
		c.minutes[d.Name] = d.Minutes
	}
	if r := s.Rack; r != nil {
		if len(c.hands) == 0 {
			c.hands = r.Hands
		}
		c.clamps, c.tools, c.said = r.Clamps, r.Tools, len(r.Tools) > 0
		for _, d := range r.Durations {
			c.minutes[d.Name] = d.Minutes
		}
	}
	if len(c.hands) == 0 {
		c.hands = []toy.Hand{{Name: "adult"}}
	}
	if len(c.hands) > mostHands {
		return nil, fmt.Errorf("%d people are more than a plan holds: at most %d", len(c.hands), mostHands)
	}
	if !slices.ContainsFunc(c.hands, isAdult) {
		return nil, fmt.Errorf("no adult is among those who work: a child never works in a shop alone, and does not saw or drill")
	}
	return c, nil
}

// note keeps something to say, once.
func (c *crew) note(format string, args ...any) {
	if s := fmt.Sprintf(format, args...); !slices.Contains(c.notes, s) {
		c.notes = append(c.notes, s)
	}
}

// has tells whether the shop has a tool by one of its words in the shop file; usual is what
// is taken where it lists none.
func (c *crew) has(usual bool, words ...string) bool {
	if !c.said {
		return usual
	}
	return slices.ContainsFunc(words, func(w string) bool { return slices.Contains(c.tools, w) })
}

// drill is the tool that holes are drilled with.
func (c *crew) drill() string {
	if c.has(true, "drill-press") {
		return drillPress
	}
	if !c.has(false, "hand-drill") {
		c.note("the shop lists no drill: a hand drill is taken, with a guide to keep it square")
	}
	return handDrill
}

// whole is a time in minutes as it is told: never nothing.
func whole(minutes float64) int { return max(1, int(math.Ceil(minutes-1e-9))) }
