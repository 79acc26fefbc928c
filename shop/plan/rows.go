package plan

import (
	"fmt"
	"slices"
	"strings"
)

// A Row is a line of a printed plan: a task, or the same work on several lots that somebody does
// one after the other, or that waits side by side.
type Row struct {
	Session      string // a heading above it; "": none
	Begin, Until int
	Number       string // of the step
	Who, Says    string
}

// part is what of a batch a task is done to, as the lot of the task says it.
type part struct {
	lot   span // first and last of so many; units 0: all
	what  string
	k, of int // part k of so many; 0: all of the lot
}

// says is the name of some parts of one kind together.
func says(parts []part) string {
	var out []string
	if p := parts[0]; p.lot.units > 0 {
		var list []span
		for _, o := range parts {
			list = append(list, o.lot)
		}
		out = append(out, ranged(p.what, list))
	}
	if p := parts[0]; p.of > 0 {
		var list []span
		for _, o := range parts {
			list = append(list, span{from: o.k, to: o.k})
		}
		out = append(out, ranged("part", list)+fmt.Sprintf(" of %d", p.of))
	}
	return strings.Join(out, ", ")
}

// ranged names some numbers: parts 1–4, 6.
func ranged(what string, list []span) string {
	list = slices.Clone(list)
	slices.SortFunc(list, func(a, b span) int { return a.from - b.from })
	var runs []span
	for _, s := range list {
		if n := len(runs); n > 0 && s.from <= runs[n-1].to+1 {
			runs[n-1].to = max(runs[n-1].to, s.to)
			continue
		}
		runs = append(runs, s)
	}
	if len(runs) > 1 || runs[0].to > runs[0].from {
		what += "s"
	}
	for k, r := range runs {
		sep := ", "
		if k == 0 {
			sep = " "
		}
		if what += fmt.Sprintf("%s%d", sep, r.from); r.to > r.from {
			what += fmt.Sprintf("–%d", r.to)
		}
	}
	return what
}

// joins tells whether a task is the same work as another, on another part of the batch.
func (t Task) joins(o Task) bool {
	apart := t.part.of > 0 && t.part.of == o.part.of && t.part.lot == o.part.lot || t.part.of == 0 && o.part.of == 0 && t.part.lot.units > 0 && o.part.lot.units > 0
	return apart && t.Toy == o.Toy && t.Step == o.Step && t.Does == o.Does && t.Tool == o.Tool && t.Setting == o.Setting && t.SetUp == 0 && slices.Equal(t.Hands, o.Hands)
}

// Rows are the tasks as they are printed, by when they begin, under headings for the sessions.
func (p *Plan) Rows() []Row {
	var rows [][]Task
	var heads []string
	last := map[string]int{} // the row that somebody is in; "": the first row of the session
	today, session := -1, 0
	for _, t := range p.Tasks {
		head := ""
		if p.Session > 0 && !t.Waits() && t.Begin/day != today {
			today, session = t.Begin/day, session+1
			head = p.sessionHead(today, session)
			last = map[string]int{"": len(rows)}
		}
		at := -1
		for k := last[""]; k < len(rows); k++ {
			follows := !slices.ContainsFunc(t.Hands, func(h string) bool { n, ok := last[h]; return !ok || n != k })
			if follows && t.joins(rows[k][0]) {
				at = k
			}
		}
		if at < 0 {
			rows, heads, at = append(rows, nil), append(heads, head), len(rows)
		}
		rows[at] = append(rows[at], t)
		for _, h := range t.Hands {
			last[h] = at
		}
	}
	var out []Row
	for k, tasks := range rows {
		out = append(out, p.row(heads[k], tasks))
	}
	return out
}

func (p *Plan) row(head string, tasks []Task) Row {
	t := tasks[0]
	r := Row{Session: head, Begin: t.Begin, Number: p.Number(t), Who: strings.Join(t.Hands, " + "), Says: t.Does}
	var parts []part
	var ends, until []string
	for _, o := range tasks {
		parts = append(parts, o.part)
		r.Until = max(r.Until, o.Free)
		if t.Waits() {
			r.Until = max(r.Until, o.End)
		}
		until = append(until, o.Lot+" until "+Clock(o.End))
		if o.End > o.Free {
			ends = append(ends, Clock(o.End))
		}
	}
	switch {
	case t.Waits() && len(tasks) > 1:
		r.Says += " (" + strings.Join(until, ", ") + ")"
	case len(tasks) > 1:
		r.Says += " (" + says(parts) + ")"
	default:
		r.Says = t.Says()
	}
	if t.Waits() {
		r.Who = "(wait)"
		return r
	}
	if w := t.With(); w != "" {
		r.Says += " [" + w + "]"
	}
	if len(ends) > 0 {
		r.Says += "; then wait until " + strings.Join(slices.Compact(ends), ", ")
	}
	return r
}

// sessionHead heads what is done in a session, with how long everybody is at work.
func (p *Plan) sessionHead(on, session int) string {
	until := 0
	work := map[string]int{}
	for _, t := range p.Tasks {
		if !t.Waits() && t.Begin/day == on {
			until = max(until, t.Free)
			for _, h := range t.Hands {
				work[h] += t.Free - t.Begin
			}
		}
	}
	var hands []string
	for _, h := range p.Hands {
		if work[h.Name] > 0 {
			hands = append(hands, h.Name+" "+Clock(work[h.Name]))
		}
	}
	return fmt.Sprintf("Session %d of %d, day %d, %s to %s: %s", session, p.Sessions, on+1, Clock(on*day), Clock(until), strings.Join(hands, ", "))
}
