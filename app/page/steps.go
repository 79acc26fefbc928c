package page

import (
	"context"
	"strings"

	"dryfit/app"
	"dryfit/guide"
	"dryfit/shop/plan"
)

// StepsPage is the guide: what is done one after the other.
type StepsPage struct {
	Hash     string         `json:"hash"`
	Unproved string         `json:"unproved"` // that the toy is not right yet; "" if it is
	Who      []string       `json:"who"`      // what an adult does, and a child from which age on
	Chapters []GuideChapter `json:"chapters"`
	Checks   []GuideCheck   `json:"checks"` // of the finished toy
	Minds    string         `json:"minds"`  // what stands before a warning
	Wait     string         `json:"wait"`   // and before how long to wait
}

// GuideChapter is steps that belong together.
type GuideChapter struct {
	Title string      `json:"title"`
	Says  string      `json:"says"`
	Steps []GuideStep `json:"steps"`
}

// GuideStep is one thing to do.
type GuideStep struct {
	Number   int            `json:"number"`
	Title    string         `json:"title"`
	Does     []string       `json:"does"`
	Measures []GuideMeasure `json:"measures"`
	Minds    []string       `json:"minds"`
	Who      string         `json:"who"`
	Dry      string         `json:"dry"` // how long to wait; "" if not at all
	Drawn    bool           `json:"drawn"`
}

// GuideMeasure is where something goes, or how large it is; of names the piece where a step has
// several.
type GuideMeasure struct {
	Of   string `json:"of"`
	What string `json:"what"`
	Is   string `json:"is"`
}

// GuideCheck is what the finished toy is checked against.
type GuideCheck struct {
	What string `json:"what"`
	Is   string `json:"is"`
}

// StepsOf says the guide step by step.
func StepsOf(j *Job, g *guide.Guide) StepsPage {
	out := StepsPage{Hash: j.Hash, Unproved: g.Unproved, Who: append([]string{}, g.Who...), Chapters: []GuideChapter{}, Checks: []GuideCheck{}, Minds: g.Words.Minds, Wait: g.Words.Wait}
	for _, c := range g.Chapters {
		chapter := GuideChapter{Title: c.Title, Says: c.Says, Steps: []GuideStep{}}
		for _, s := range c.Steps {
			step := GuideStep{Number: s.Number, Title: s.Title, Does: append([]string{}, s.Does...), Measures: []GuideMeasure{}, Minds: append([]string{}, s.Minds...),
				Who: s.Whoever(), Dry: s.Dry, Drawn: s.Shows.Group >= 0 || len(s.Shows.Pieces) > 0}
			several := len(s.Ofs()) > 1
			for _, m := range s.Measures {
				one := GuideMeasure{What: m.What, Is: m.Is}
				if several {
					one.Of = m.Of
				}
				step.Measures = append(step.Measures, one)
			}
			chapter.Steps = append(chapter.Steps, step)
		}
		out.Chapters = append(out.Chapters, chapter)
	}
	for _, c := range g.Checks {
		out.Checks = append(out.Checks, GuideCheck{c.What, c.Is})
	}
	return out
}

// PlanPage is when what is done, and by whom. Times are h:mm from the start.
type PlanPage struct {
	Hash     string     `json:"hash"`
	Title    string     `json:"title"`
	Elapsed  string     `json:"elapsed"`
	HandsOn  string     `json:"handsOn"` // of all people
	Sessions int        `json:"sessions"`
	Sums     []string   `json:"sums"` // the figures in words
	Hands    []PlanHand `json:"hands"`
	Tasks    []PlanTask `json:"tasks"`
	Who      []PlanWho  `json:"who"`
	Advice   []string   `json:"advice"`
	Notes    []string   `json:"notes"`
	Chart    string     `json:"chart"` // SVG
}

// PlanHand is someone who works.
type PlanHand struct {
	Name    string `json:"name"`
	Years   int    `json:"years"` // 0: an adult
	HandsOn string `json:"handsOn"`
}

// PlanTask is something to do, or to wait for.
type PlanTask struct {
	Step  int    `json:"step"`  // of the guide; 0: the check on its last page; less: before the first
	Place string `json:"place"` // the same as it is said
	Day   int    `json:"day"`   // from 1; 0 where there are no sessions
	Begin string `json:"begin"`
	Until string `json:"until"`
	Says  string `json:"says"`
	With  string `json:"with"`  // tool and bit or blade
	Hands string `json:"hands"` // "": it waits
	Why   string `json:"why"`   // they do it
	Then  string `json:"then"`  // until when glue sets or finish dries afterwards; "": not at all
}

// PlanWho says who can do a kind of work.
type PlanWho struct {
	Says   string `json:"says"`
	Source string `json:"source"`
}

// Ways are how a plan is made.
type Ways struct {
	Hands   string `json:"hands"`   // adult, child=9, by commas, or names of the shop's; "": those of the shop, or one adult
	Session string `json:"session"` // how long is worked in one go, as 3h; "": without breaks
}

// planOf plans so many of a toy.
func planOf(ctx context.Context, j *Job, count int, w Ways) (*plan.Plan, error) {
	of, err := j.making(count)
	if err != nil {
		return nil, err
	}
	return app.Plan(ctx, of, app.Plans{Hands: w.Hands, Session: w.Session, Shop: j.Shop})
}

// minutesOfDay are those of a day, on which each session of a plan is.
const minutesOfDay = 24 * 60

// PlanOf plans so many of a toy.
func PlanOf(ctx context.Context, j *Job, count int, w Ways) (PlanPage, error) {
	p, err := planOf(ctx, j, count, w)
	if err != nil {
		return PlanPage{}, err
	}
	chart, err := app.PlanChart(p, j.Toy.Units, "svg", j.On(Print{}, nil))
	if err != nil {
		return PlanPage{}, err
	}
	out := PlanPage{Hash: j.Hash, Title: p.Heading(), Elapsed: plan.Clock(p.Elapsed), HandsOn: plan.Clock(p.HandsOn), Sessions: p.Sessions, Sums: p.Sums(), Hands: []PlanHand{}, Tasks: []PlanTask{}, Who: []PlanWho{},
		Advice: append([]string{}, p.Advice...), Notes: append([]string{}, p.Notes...), Chart: string(chart)}
	for _, h := range p.Hands {
		out.Hands = append(out.Hands, PlanHand{h.Name, h.Years, plan.Clock(h.HandsOn)})
	}
	for _, t := range p.Tasks {
		out.Tasks = append(out.Tasks, taskOf(p, t))
	}
	for _, w := range p.Who {
		out.Who = append(out.Who, PlanWho{w.Says(), w.Source})
	}
	return out, nil
}

func taskOf(p *plan.Plan, t plan.Task) PlanTask {
	out := PlanTask{Step: t.Step, Place: p.Number(t), Begin: plan.Clock(t.Begin), Until: plan.Clock(t.Free), Says: t.Says(), With: t.With(), Hands: strings.Join(t.Hands, " + "), Why: t.Why}
	if p.Session > 0 {
		out.Day = t.Begin/minutesOfDay + 1
	}
	switch {
	case t.Waits():
		out.Until = plan.Clock(t.End)
	case t.End > t.Free:
		out.Then = plan.Clock(t.End)
	}
	return out
}

// PlanFile is the same, drawn as pdf or svg.
func PlanFile(ctx context.Context, j *Job, count int, w Ways, format string, on Print) ([]byte, error) {
	p, err := planOf(ctx, j, count, w)
	if err != nil {
		return nil, err
	}
	return app.PlanChart(p, j.Toy.Units, format, j.On(on, nil))
}
