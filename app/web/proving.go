package web

import (
	"context"
	"log"
	"maps"
	"runtime/debug"
	"slices"
	"time"

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

// begin begins the proof of the present text with its lengths said in units. through is called once
// all quick checks are made, ended at the end.
func (l *live) begin(units string, through, ended func()) *prove.Proof {
	t, m := l.opened, l.model
	if units != "" {
		other, probs := app.OpenWith(l.state.File, l.state.Text, app.Options{Cache: l.cache, Units: units})
		if len(probs) == 0 {
			t = other
			m, probs = t.Model()
		}
		if len(probs) > 0 {
			panic("web: bug: a toy that can be read can be read in other units: " + probs.Error())
		}
	}
	l.findings[units] = &page.Findings{Hash: l.state.Hash, Checks: []string{}, Findings: []app.Finding{}, NotAsked: []prove.NotAsked{}}
	proof := prove.Of(m)
	go func(ctx context.Context, hash string) {
		defer ended()
		defer through()
		defer func() {
			if p := recover(); p != nil {
				l.mistaken(ctx, p, units)
			}
		}()
		l.prove(ctx, t, proof, units, hash, through)
	}(l.ctx, l.state.Hash)
	return proof
}

// mistaken says, in the findings told in some units or in all that there are, that dryfit itself has
// failed; the rest of the program goes on.
func (l *live) mistaken(ctx context.Context, why any, units ...string) {
	logMistake(l.toy.State().File, why)
	l.mu.Lock()
	defer l.mu.Unlock()
	if ctx.Err() != nil {
		return
	}
	if len(units) == 0 {
		units = slices.Collect(maps.Keys(l.findings))
	}
	for _, u := range units {
		so := *l.findings[u]
		so.Checks = append(slices.Clone(so.Checks), ownMistake.Check)
		so.Findings = append(slices.Clone(so.Findings), ownMistake)
		so.Quick, so.Done, so.Verdict = true, true, prove.CannotTell.String()
		l.findings[u] = &so
		l.tellIn(u, Event{Findings: &so})
	}
}

// ownMistake is found where dryfit itself has failed: what it had not told by then is not known.
var ownMistake = app.Finding{ID: "dryfit", Check: "dryfit", Verdict: prove.CannotTell, Says: "dryfit made a mistake with this toy, and nothing more can be told of it until it is changed: what went wrong stands in the window that dryfit was started in", Notes: []string{}, Places: []app.Place{}}

// logMistake writes what happened, and where, for whoever mends dryfit.
func logMistake(file string, p any) {
	log.Printf("dryfit made a mistake with %s: %v\n%s", file, p, debug.Stack())
}

// toShow is what a browser has to itself to show the findings of the quick checks: about twice what
// it takes on two cores. The slow checks would else take its cores from it.
const toShow = 40 * time.Millisecond

// prove makes the checks and tells of each as it is done.
func (l *live) prove(ctx context.Context, t *app.Toy, proof *prove.Proof, units, hash string, through func()) {
	slow, shown := make(chan struct{}), false
	rep, err := proof.Run(ctx, l.cache, prove.Options{Slow: slow, Done: func(p prove.Part) {
		l.mu.Lock()
		defer l.mu.Unlock()
		if ctx.Err() == nil {
			part := l.findings[units].Join(p)
			l.tellIn(units, Event{Findings: &part})
			if part.Quick && !shown {
				shown = true
				time.AfterFunc(toShow, func() {
					close(slow)
					through()
				})
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
