package web

import (
	"context"

	"dryfit/app"
	"dryfit/app/page"
	"dryfit/prove"
)

// The proof of a live toy, told as it is made. What it says has lengths in it: windows that want
// other units than the toy's have a proof of their own, made of the same solids.

// unitsOf is what a window wants lengths said in; "" where that is how the toy has them.
func (l *live) unitsOf(w *window) string {
	if l.view != nil && w.units == l.view.Units {
		return ""
	}
	return w.units
}

// begin begins the proof of the present text with its lengths said in units.
func (l *live) begin(units string, through func()) {
	t := l.opened
	if units != "" {
		other, probs := app.OpenWith(l.state.File, l.state.Text, app.Options{Cache: l.cache, Units: units})
		if len(probs) > 0 {
			panic("web: bug: a toy that can be read can be read in other units: " + probs.Error())
		}
		t = other
	}
	l.findings[units] = &page.Findings{Hash: l.state.Hash, Checks: []string{}, Findings: []app.Finding{}, NotAsked: []prove.NotAsked{}}
	go l.prove(l.ctx, t, units, l.state.Hash, through)
}

// prove makes the checks and tells of each as it is done. through is called once all quick ones are.
func (l *live) prove(ctx context.Context, t *app.Toy, units, hash string, through func()) {
	defer through()
	rep, err := prove.RunContext(ctx, t.Toy, l.cache, prove.Options{Done: func(p prove.Part) {
		l.mu.Lock()
		defer l.mu.Unlock()
		if ctx.Err() == nil {
			part := l.findings[units].Join(p)
			l.tellIn(units, Event{Findings: &part})
			if part.Quick {
				through()
			}
		}
	}})
	if err != nil {
		return // another text came
	}
	l.mu.Lock()
	defer l.mu.Unlock()
	if ctx.Err() != nil {
		return
	}
	end := page.End(hash, rep)
	all := *l.findings[units]
	all.Quick, all.Done, all.Verdict, all.Pieces, all.MassKg, all.NotAsked = true, true, end.Verdict, end.Pieces, end.MassKg, end.NotAsked
	l.findings[units] = &all
	l.tellIn(units, Event{Findings: &end})
	l.s.shelfHas(l.state.File, hash, t, rep)
}

// tellIn is tell for those windows that want lengths said in units.
func (l *live) tellIn(units string, e Event) {
	for w := range l.windows {
		if l.unitsOf(w) == units {
			w.send(e)
		}
	}
}
