package app

import (
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strings"

	"dryfit/facts"
	"dryfit/measure"
	"dryfit/measure/source"
	"dryfit/prove/asbuilt"
	"dryfit/toy"
	"dryfit/toy/file/tree"
)

// SpreadsFound are what a builder was found to be off by.
type SpreadsFound struct {
	Skill  string
	Builds int
	Found  []asbuilt.Found
	toy    *Toy
}

// Spreads gathers what a builder is off by from builds of the toy; what is usual for the skill counts
// for a few measures.
func (t *Toy) Spreads(builds []*asbuilt.Build, skill string) (*SpreadsFound, error) {
	k := slices.Index(facts.Skills(), skill)
	if k < 0 {
		return nil, NoSuch{"skill", skill, "", facts.Skills()}
	}
	s := &SpreadsFound{Skill: skill, Builds: len(builds), Found: asbuilt.Spreads(builds, facts.Skill(k)), toy: t}
	if len(s.Found) == 0 {
		return nil, errors.New("nothing was measured: fill in a measures file (dryfit measures FILE)")
	}
	return s, nil
}

// Text writes them for a reader.
func (s *SpreadsFound) Text() string {
	var b strings.Builder
	fmt.Fprintf(&b, "what the builder of %s is off by, from %s\n", s.toy.Name, fmt.Sprintf("%d %s", s.Builds, plural(s.Builds, "build", "builds")))
	mm := func(x float64) string { return fmt.Sprintf("%.2f mm", x) }
	for _, f := range s.Found {
		fmt.Fprintf(&b, "  %-12s %s (%s to %s, 95 %% sure); usual for %q %s; %s, off by %+.2f mm on the average\n", f.Name, mm(f.By), mm(f.Low), mm(f.High), s.Skill, mm(f.Usual), fmt.Sprintf("%d %s", f.Measured, plural(f.Measured, "measure", "measures")), f.Mean)
	}
	b.WriteString("What is usual counts for four measures beside yours, so that a few do not say too much. Leaning saws and\ndrills and slipping glue are not measured here: they stay as usual.\n")
	return b.String()
}

// Into writes them into the text of a shop's own file, as its builder; "" makes a new one. All else
// of the file stays as it is.
func (s *SpreadsFound) Into(name, text string) (string, error) {
	if strings.TrimSpace(text) == "" {
		text = fmt.Sprintf("dryfit: 1\nunits: %s\n", s.toy.Units)
	}
	kept := map[string]string{}
	if shop, probs := ReadShop(name, text); len(probs) > 0 {
		return "", probs
	} else if shop.Builder != nil {
		for _, o := range shop.Builder.Spreads { // of what was not measured this time
			kept[o.Of] = fmt.Sprintf("{of: %s, by: %s, measured: %d}", o.Of, by(o.By, o.Angle), o.Measured)
		}
	}
	for _, f := range s.Found {
		kept[f.Name] = fmt.Sprintf("{of: %s, by: %s, measured: %d}", f.Name, by(f.By, f.Angle), f.Measured)
	}
	var rows strings.Builder
	fmt.Fprintf(&rows, "skill: %s\nspreads:\n", strings.ReplaceAll(s.Skill, " ", "-"))
	for _, e := range facts.Errors() {
		if row := kept[e.Name]; row != "" {
			rows.WriteString("  - " + row + "\n")
		}
	}
	f := source.New(name, text)
	root, probs := tree.Parse(f)
	if len(probs) > 0 {
		return "", probs
	}
	edit := tree.Edit{Op: "insert", Path: "builder", Value: rows.String(), As: tree.AsYAML}
	if root.Get("builder") != nil {
		edit.Op = "set"
	}
	out, _, err := tree.Apply(f, edit)
	return out, err
}

func by(x float64, angle bool) string {
	if angle {
		return measure.FromDegrees(x * 180 / 3.141592653589793).Format()
	}
	return fmt.Sprintf("%.3f mm", x)
}

type foundJSON struct {
	Operation string  `json:"operation"`
	By        float64 `json:"by_mm"`
	Low       float64 `json:"low_mm"`
	High      float64 `json:"high_mm"`
	Usual     float64 `json:"usual_mm"`
	Measured  int     `json:"measured"`
	Mean      float64 `json:"mean_mm"`
}

// JSON writes them for programs.
func (s *SpreadsFound) JSON() []byte {
	out := struct {
		Format  int         `json:"format"`
		Toy     string      `json:"toy"`
		Skill   string      `json:"skill"`
		Builds  int         `json:"builds"`
		Spreads []foundJSON `json:"spreads"`
	}{1, s.toy.Name, s.Skill, s.Builds, nil}
	for _, f := range s.Found {
		out.Spreads = append(out.Spreads, foundJSON{f.Name, f.By, f.Low, f.High, f.Usual, f.Measured, f.Mean})
	}
	b, err := json.MarshalIndent(out, "", "  ")
	if err != nil {
		panic(err) // all of it can be written
	}
	return append(b, '\n')
}

// knownSpreads refuses spreads of operations that there are not.
func knownSpreads(f *source.File, b *toy.Builder) (probs source.Problems) {
	if b == nil {
		return nil
	}
	var names []string
	angle := map[string]bool{}
	for _, e := range facts.Errors() {
		names = append(names, e.Name)
		angle[e.Name] = e.Angle
	}
	for _, s := range b.Spreads {
		switch {
		case !slices.Contains(names, s.Of):
			probs = append(probs, f.Problem("unknown-name", s.At, "there is no operation "+s.Of).Near(s.Of, names))
		case s.Angle != angle[s.Of]:
			p := f.Problem("wrong-kind", s.At, "the spread of "+s.Of+" is of another kind")
			p.Expected = map[bool]string{true: "an angle, as 0.3°", false: "a length, as 0.2 mm"}[angle[s.Of]]
			probs = append(probs, p)
		}
	}
	return probs
}
