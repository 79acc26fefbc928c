package page

import (
	"context"
	"fmt"
	"strings"

	"dryfit/app"
)

// BuildsPage is what virtual builds of a toy have shown so far.
type BuildsPage struct {
	Hash    string     `json:"hash"`
	Skill   string     `json:"skill"`
	Says    string     `json:"says"`   // in how many it works
	Builds  int        `json:"builds"` // that were looked at
	Works   ShareShown `json:"works"`
	Things  []Failing  `json:"things"` // what fails, most first
	Loosen  string     `json:"loosen"` // what to loosen first; "" for nothing, or not yet
	Care    []string   `json:"care"`
	Spreads []string   `json:"spreads"` // what builders are off by
	Whole   bool       `json:"whole"`   // all builds were looked at
}

// ShareShown is a share of builds with the interval that it lies in.
type ShareShown struct {
	Of   float64 `json:"of"`
	Low  float64 `json:"low"`
	High float64 `json:"high"`
}

// Failing is what fails in some builds.
type Failing struct {
	ID    string     `json:"id"`
	Check string     `json:"check"`
	About string     `json:"about"`
	Fails ShareShown `json:"fails"`
	Says  string     `json:"says"` // what it comes from
}

// mostFailing is how many are shown: the page is for what to do first.
const mostFailing = 16

// MostBuilds is how many builds a page may ask for.
const MostBuilds = 10000

// VirtualOf makes virtual builds and tells what is known so far, now and then, and at the end.
func VirtualOf(ctx context.Context, j *Job, skill string, builds int, found func(BuildsPage)) error {
	if builds < 1 || builds > MostBuilds {
		return fmt.Errorf("%d builds: expected a number from 1 to %d", builds, MostBuilds)
	}
	show := func(f *app.Forgiving) BuildsPage { return buildsPage(j, f, builds) }
	f, err := j.Toy.Forgiving(ctx, app.Builders{Skill: skill, Builds: builds, Seed: 1, Progress: func(f *app.Forgiving) { found(show(f)) }})
	if err != nil {
		return err
	}
	found(show(f))
	return nil
}

func buildsPage(j *Job, f *app.Forgiving, builds int) BuildsPage {
	out := BuildsPage{Hash: j.Hash, Skill: f.Skill.String(), Says: f.Line(), Builds: f.Builds, Works: ShareShown{f.Works.Of(), f.Works.Lo, f.Works.Hi},
		Things: []Failing{}, Care: append([]string{}, f.CareLines()...), Spreads: append([]string{}, f.SpreadLines()...), Whole: f.Complete && f.Builds == builds}
	for _, t := range f.Things {
		if t.Holds.K < t.Holds.N && len(out.Things) < mostFailing {
			n := float64(max(1, t.Holds.N))
			out.Things = append(out.Things, Failing{t.ID, t.Check, t.About, ShareShown{float64(t.Holds.N-t.Holds.K) / n, 1 - t.Holds.Hi, 1 - t.Holds.Lo}, f.CausesLine(t)})
		}
	}
	if l := f.Loosen; l != nil {
		out.Loosen = l.ID
		if l.Size != nil {
			out.Loosen += ": a mark of the rule more room by " + app.MendText(*l.Size)
		} else {
			out.Loosen += ": no size that has a name gives it room"
		}
	}
	return out
}

// AdaptWish is what a toy is to be adapted to; what is empty stays.
type AdaptWish struct {
	Stock string  `json:"stock"` // "beech=18mm", several parted by spaces
	Dowel string  `json:"dowel"`
	Wheel string  `json:"wheel"`
	Units string  `json:"units"`
	Scale float64 `json:"scale"` // 0: as it is
	Mend  bool    `json:"mend"`  // mends of what no longer holds are made in it
}

// AdaptPage is an adapted toy.
type AdaptPage struct {
	Hash  string `json:"hash"` // of the toy that it is made from
	Says  string `json:"says"` // what changed and what no longer holds, line by line
	Holds bool   `json:"holds"`
	Text  string `json:"text"`
}

// AdaptOf adapts a toy.
func AdaptOf(ctx context.Context, j *Job, name, text string, w AdaptWish) (AdaptPage, error) {
	spec := app.Spec{Stock: strings.Fields(w.Stock), Units: w.Units, Scale: w.Scale}
	if w.Dowel != "" {
		spec.Dowels = []string{w.Dowel}
	}
	if w.Wheel != "" {
		spec.Wheels = []string{w.Wheel}
	}
	a, err := app.Adapt(ctx, name, text, spec, app.Options{Shop: j.Shop}, w.Mend, func(string) {})
	if err != nil {
		return AdaptPage{}, err
	}
	return AdaptPage{Hash: j.Hash, Says: a.Report(), Holds: a.Holds, Text: a.Text}, nil
}

// ComparePage is what changed from an older edition.
type ComparePage struct {
	Hash string `json:"hash"`
	With string `json:"with"` // the file of the older one
	Says string `json:"says"`
	SVG  string `json:"svg"` // the changed parts, the old outline dashed
}

// CompareOf compares a toy with an older one.
func CompareOf(j, with *Job, name string) (ComparePage, error) {
	c, err := app.Compare(with.Toy, j.Toy)
	if err != nil {
		return ComparePage{}, err
	}
	svg, err := c.Draw("svg", j.On(Print{}, nil))
	if err != nil {
		return ComparePage{}, err
	}
	return ComparePage{Hash: j.Hash, With: name, Says: c.Text(), SVG: string(svg)}, nil
}
