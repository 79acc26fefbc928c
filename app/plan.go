package app

import (
	"context"
	"fmt"
	"strings"
	"time"

	"dryfit/measure"
	"dryfit/paper/booklet"
	"dryfit/paper/chart"
	"dryfit/shop/plan"
	"dryfit/toy"
)

// PlanFormats are what PlanChart writes.
var PlanFormats = []string{"pdf", "svg"}

// Plans are how toys are planned.
type Plans struct {
	Hands   string    // in the words of plan.ReadHands; "": those of the shop, or one adult
	Session string    // as "3h", "2h30m", "90m"; "": no breaks
	Shop    *toy.Shop // the builder's own; may be nil
}

// Plan says when what of some toys is made, and by whom; of a toy that is not right yet, that
// before all else.
func Plan(ctx context.Context, of []Making, o Plans) (*plan.Plan, error) {
	var s plan.Shop
	if o.Shop != nil {
		s.Rack = o.Shop.Rack
	}
	if o.Hands != "" {
		hands, err := plan.ReadHands(o.Hands, s.Rack)
		if err != nil {
			return nil, err
		}
		s.Hands = hands
	}
	session, err := sessionOf(o.Session)
	if err != nil {
		return nil, err
	}
	var jobs []plan.Job
	for _, x := range of {
		t := x.Toy
		m, probs := t.Model()
		if len(probs) > 0 {
			return nil, probs
		}
		jobs = append(jobs, plan.Job{Model: m, Guide: booklet.New(m, nil, t.cache).Guide, Count: x.Count})
	}
	p, err := plan.Make(ctx, jobs, s, plan.Options{Session: session, Seed: 1})
	if err != nil {
		return nil, err
	}
	p.Unproved = append(p.Unproved, unproved(of)...)
	return p, nil
}

// sessionOf reads how long is worked in one go, in minutes.
func sessionOf(says string) (int, error) {
	if says == "" {
		return 0, nil
	}
	d, err := time.ParseDuration(strings.ReplaceAll(strings.TrimSpace(says), " ", ""))
	if err != nil || d < 10*time.Minute || d > 24*time.Hour {
		return 0, fmt.Errorf("session %q: expected a time from 10m to 24h, as 3h or 2h30m", says)
	}
	return int(d.Minutes()), nil
}

// PlanJSON writes a plan as JSON.
func PlanJSON(p *plan.Plan) []byte { return encode(p) }

// PlanChart draws a plan, as "pdf" or "svg".
func PlanChart(p *plan.Plan, units measure.Unit, format string, on Print) ([]byte, error) {
	if on.Paper == "" && units == measure.Inch {
		on.Paper = "letter"
	}
	paper, err := on.paper(units)
	if err != nil {
		return nil, err
	}
	return chart.File(p, paper, format)
}

// plans are the outputs of this file.
func (t *Toy) plans() ([]Made, error) {
	p, err := Plan(context.Background(), []Making{{t, 2}}, Plans{Hands: "adult,child", Session: "3h"})
	if err != nil {
		return nil, err
	}
	pdf, err := PlanChart(p, t.Units, "pdf", Print{})
	if err != nil {
		return nil, err
	}
	return []Made{{"plan.json", PlanJSON(p)}, {"plan.txt", []byte(p.Text())}, {"plan.pdf", pdf}}, nil
}
