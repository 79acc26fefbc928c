package prove

import (
	"fmt"

	"dryfit/assembly"
	"dryfit/facts"
	"dryfit/geom/r3"
	"dryfit/geom/tol"
	"dryfit/geom/trig"
	"dryfit/toy"
)

// wood.season: wood takes up moisture in a damp summer and grows across its grain, and
// gives it off in a heated room. What is made when it is dry and has to turn then still
// has to turn; what is glued when it is damp must not gape then. The moistures come from
// two climates (facts.ReadYear), the movement from how each piece lies in its blank
// (seasonal.go).

const (
	// ovalMost is how far out of round a wheel may go before it is felt: 1/16 in, which is
	// a maple wheel of about 4 in (common practice, no source).
	ovalMost = 25.4 / 16
	// crossMost is the width, across the grain of one of the pieces, up to which wood is
	// glued cross-grain without a thought: 3 in (common practice, no source).
	crossMost = 3 * 25.4

	seasonTable = "geometry: room left; movement by USDA FPL-GTR-190 Wood Handbook, table 13-5"
)

var seasonCheck = Check{
	ID: "wood.season", Asks: "what does a year's moisture do to fits, wheels and cross-grain glue lines?", run: season,
	How: "The moisture of wood in two climates by the handbook's equation of equilibrium; each piece grows across its grain by size times coefficient times change of moisture, by how its board is sawn (the worse where the file does not say). Running fits and side play are taken as made at the dry end and looked at when damp, glue fits the other way round. A joint drawn without side play is meant to be stiff and is left out.",
	Limits: []Limit{
		{"dry end of the year, where neither --climate nor the file says", endOf(facts.UsualYear().Dry), facts.UsualYear().Dry.Source},
		{"damp end of the year, where neither --climate nor the file says", endOf(facts.UsualYear().Damp), facts.UsualYear().Damp.Source},
		{"room left in what turns or slides", "more than " + inMM(tol.Touch), "geometry; movement by USDA FPL-GTR-190 Wood Handbook, table 13-5"},
		{"a dowel that is glued in gapes, when dry, by less than", inMM(assembly.RunningLeast), "common practice, no source (close running)"},
		{"a wheel goes out of round by less than", inMM(ovalMost), "common practice, no source (1/16 in)"},
		{"wood glued across its grain is no wider than", inMM(crossMost), "common practice, no source (3 in)"},
	},
}

func endOf(c facts.Climate) string {
	return fmt.Sprintf("%s (%s): %.1f %% of moisture", c.Key, c.Name, c.Moisture())
}

// room is what a fit has left at the damp end of the year.
type room struct {
	about, what string
	left, sure  float64 // with the worse cut of the boards, and with the better
	places      []Place
	notes       []string
}

func season(r *run) {
	var rooms []room
	seen := map[string]bool{}
	for _, f := range r.m.Fits {
		about := r.m.Pieces[f.Rod].Part.Name + "~" + r.hole(f)
		if f.Role == "wheel" {
			about = r.m.Pieces[f.Rod].Part.Name + "~" + r.m.Pieces[f.Piece].Part.Name
		}
		if seen[about] {
			continue
		}
		seen[about] = true
		if f.Kind == assembly.Running && r.m.Slack(f) < assembly.GlueMost {
			continue // it does not turn as made: fit.dowel says so
		} else if f.Kind == assembly.Running {
			rooms = append(rooms, r.turningRoom(f, about))
		} else {
			r.gaping(f, about)
		}
	}
	for _, a := range r.m.Axles {
		if a.Held && a.Play > tol.Touch { // else fit.reach says that it is jammed
			rooms = append(rooms, r.sideRoom(a))
		}
	}
	for _, s := range r.m.Saddles {
		if !s.Spec.Glued {
			rooms = append(rooms, r.slidingRoom(s)...)
		}
	}
	for _, h := range r.m.Hinges {
		rooms = append(rooms, r.hingeRoom(h)...)
	}
	r.roomLeft(rooms)
	r.oval()
	r.crossGrain()
}

// roomLeft files what is too tight, or the tightest where nothing is.
func (r *run) roomLeft(rooms []room) {
	least, tight := -1, false
	if r.w.built {
		for _, x := range rooms {
			r.add(builtRoom(x))
		}
		return
	}
	for k, x := range rooms {
		f := Finding{Check: "wood.season", About: x.about, Value: x.left, Unit: "mm", Source: seasonTable, known: true, Margin: x.sure - tol.Touch, Places: x.places, Notes: append(x.notes, r.yearNote("made")...)}
		switch {
		case x.sure <= tol.Touch:
			f.Verdict, f.Says = Fails, fmt.Sprintf("%s seizes in %s: ", x.what, r.year().Damp.Name)+r.short(x.left)
		case x.left <= tol.Touch:
			f.Verdict = Mind
			f.Says = fmt.Sprintf("%s seizes in %s if the boards are sawn the wrong way for it: ", x.what, r.year().Damp.Name) + r.short(x.left) + "; say sawn: quarter of the stock if they are not, or give more play"
		default:
			if least < 0 || x.left < rooms[least].left-tol.Page {
				least = k
			}
			continue
		}
		tight = true
		r.add(f)
	}
	y := r.year()
	f := Finding{Check: "wood.season", About: "toy", Verdict: Holds, Unit: "mm", Source: seasonTable, Says: "nothing turns or slides that damp could seize"}
	if least >= 0 {
		x, what := rooms[least], "everything"
		if tight {
			what = "all else"
		}
		f.Value, f.Margin, f.known, f.Places, f.Notes = x.left, x.sure-tol.Touch, true, x.places, x.notes
		f.Says = fmt.Sprintf("from %.1f %% to %.1f %% of moisture %s still turns: the tightest, %s, keeps %s", y.Dry.Moisture(), y.Damp.Moisture(), what, x.what, r.len(x.left))
	} else if len(rooms) > 0 {
		return
	}
	f.Notes = append(f.Notes, r.yearNote("made")...)
	r.add(f)
}

// short says that room is missing.
func (r *run) short(left float64) string {
	if left > -tol.Touch {
		return "no room is left"
	}
	return r.len(-left) + " is missing"
}

// year is the air of the toy's year.
func (r *run) year() facts.Year { return r.w.year }

// yearOf reads the climate of a toy, and who says it: "" where the usual year is taken.
func yearOf(t *toy.Toy) (facts.Year, string) {
	if t.Climate == nil {
		return facts.UsualYear(), ""
	}
	y, bad := facts.ReadYear(t.Climate.Text)
	if bad != nil {
		panic("prove: bug: assembly.Derive has let through a climate that is none: " + bad.Error())
	}
	return y, t.Climate.From
}

// yearNote says what was assumed.
func (r *run) yearNote(done string) []string {
	y := r.year()
	notes := []string{done + " in " + y.Dry.Full() + " and used in " + y.Damp.Full()}
	if y.Dry.Moisture() < facts.CoefficientFrom || y.Damp.Moisture() > facts.CoefficientTo {
		notes = append(notes, fmt.Sprintf("beyond %g to %g %% of moisture wood moves by its total shrinkage (Wood Handbook, chapter 13, equation 13-2)", facts.CoefficientFrom, facts.CoefficientTo))
	}
	return notes
}

// turningRoom is the slack of a rod in a running hole when both have grown: the rod most
// along its rings, and it turns, so that way round meets the hole where that grows least.
func (r *run) turningRoom(f assembly.Fit, about string) room {
	rod, host := r.m.Pieces[f.Rod], r.m.Pieces[f.Piece]
	c, dir, radius := rod.Axis()
	b := host.Bore(f.Bore)
	left := r.m.Slack(f) + float64(2*b.R*r.grows(r.leastAcross(host, b.Dir))) - float64(2*radius*r.grows(r.grain(f.Rod).across()))
	return room{about: about, what: fmt.Sprintf("%s in %s", rod.ID, r.hole(f)), left: left, sure: left,
		places: []Place{r.place(f.Piece, b.Name, r.middle(f, c, dir), b.At)},
		notes:  []string{fmt.Sprintf("%s of slack as made; a dowel grows most along its rings, and can lie any way", r.len(r.m.Slack(f)))}}
}

// gaping minds a glued dowel so thick that it shrinks off its hole.
func (r *run) gaping(f assembly.Fit, about string) {
	rod, host := r.m.Pieces[f.Rod], r.m.Pieces[f.Piece]
	c, dir, radius := rod.Axis()
	b := host.Bore(f.Bore)
	gap := r.m.Slack(f) + float64(2*radius*r.grows(r.grain(f.Rod).across())) - float64(2*b.R*r.grows(r.leastAcross(host, b.Dir)))
	if gap < assembly.RunningLeast {
		return
	}
	y := r.year()
	r.add(Finding{Check: "wood.season", About: about, Verdict: Mind, Value: gap, Unit: "mm", Limit: assembly.RunningLeast, LimitOp: "<=", Source: practice, known: true, Margin: 0,
		Says:   fmt.Sprintf("%s glued in %s would gape by %s in %s: a dowel this thick works loose, so wedge it or pin it through", rod.ID, r.hole(f), r.len(gap), y.Dry.Name),
		Places: []Place{r.place(f.Piece, b.Name, r.middle(f, c, dir), b.At)}})
}

// sideRoom is the side play of an axle at the damp end: what is between its outer wheels
// grows, and each glued wheel by half of its thickness.
func (r *run) sideRoom(a assembly.Axle) room {
	play := 2 * a.Play
	worse, better := r.spanGrows(a)
	for end := range a.Wheels {
		for k, w := range a.Wheels[end] {
			p := r.m.Pieces[w]
			dir, thick := p.Pose.W, p.Made.Size.Z
			lo, hi := r.grain(w).along(dir)
			if r.gluedOn(a.Rod, w) {
				worse += float64(thick / 2 * r.grows(hi))
				better += float64(thick / 2 * r.grows(lo))
				break
			}
			worse += float64(thick * r.grows(hi))
			better += float64(thick * r.grows(lo))
			if k+1 < len(a.Wheels[end]) {
				play += a.Gap
			}
		}
	}
	rod := r.m.Pieces[a.Rod]
	x := room{about: rod.ID + " (play)", what: "the side play of " + rod.ID, left: play - worse, sure: play - better,
		places: []Place{r.place(a.Rod, "", a.Centre, a.Spec.At)},
		notes:  []string{fmt.Sprintf("%s of play as made, both sides together; what is between the wheels grows by %s", r.len(play), r.len(worse))}}
	x.notes = append(x.notes, r.sawnNote(a)...)
	return x
}

// sawnNote says which boards were assumed.
func (r *run) sawnNote(a assembly.Axle) []string {
	for _, h := range a.Hosts {
		st, _ := r.m.Toy.StockNamed(r.m.Pieces[h.Piece].Part.Stock)
		if w, _ := facts.Wood(st.Wood); st.Sawn == "" && st.Form == toy.Board && w.Kind != "panel" {
			return []string{"how " + st.Name + " is sawn is not said: taken as sawn so that it grows most"}
		}
	}
	return nil
}

// gluedOn tells whether a wheel is glued to an axle.
func (r *run) gluedOn(rod, wheel int) bool {
	for _, f := range r.m.Fits {
		if f.Rod == rod && f.Piece == wheel {
			return f.Kind == assembly.Glued
		}
	}
	return false
}

// oval minds wheels that go out of round: they grow across their grain only.
func (r *run) oval() {
	seen := map[string]bool{}
	for _, a := range r.m.Axles {
		for end := range a.Wheels {
			for _, w := range a.Wheels[end] {
				p := r.m.Pieces[w]
				if p.Part.Shape != toy.Disc || seen[p.Part.Name] {
					continue
				}
				seen[p.Part.Name] = true
				_, across := r.grain(w).along(p.Pose.V)
				_, along := r.grain(w).along(p.Pose.U)
				if hop := float64(p.Made.Size.X * (r.grows(across) - r.grows(along))); hop > ovalMost {
					c, _, _ := p.Axis()
					r.add(Finding{Check: "wood.season", About: p.Part.Name + " (round)", Verdict: Mind, Value: hop, Unit: "mm", Limit: ovalMost, LimitOp: "<=", Source: practice, known: true,
						Says:   fmt.Sprintf("%s of %s goes %s out of round between %s and %s: it grows across its grain only; plywood, or two layers with crossed grain, stay round", p.Part.Name, r.len(p.Made.Size.X), r.len(hop), r.year().Dry.Name, r.year().Damp.Name),
						Places: []Place{r.place(w, "", c, source0)}})
				}
			}
		}
	}
}

// grows is the share by which wood of a coefficient grows from the dry to the damp end.
func (r *run) grows(c float64) float64 {
	y := r.year()
	return facts.Swell(c, y.Dry.Moisture(), y.Damp.Moisture())
}

// leastAcross is the least coefficient of a piece in any direction square to a line.
func (r *run) leastAcross(p *assembly.Piece, line r3.Vec) float64 {
	return leastIn(r.grainOf(p).tensor(p.Pose), line)
}

// leastIn is the least value that a symmetrical tensor has square to a line: the smaller
// eigenvalue of what it is in that plane.
func leastIn(t [3][3]float64, line r3.Vec) float64 {
	u, v := basis(line)
	q := func(a, b r3.Vec) float64 {
		sum := 0.0
		for i := 0; i < 3; i++ {
			for j := 0; j < 3; j++ {
				sum += float64(float64(a.At(i)*t[i][j]) * b.At(j))
			}
		}
		return sum
	}
	a, b, d := q(u, u), q(u, v), q(v, v)
	return (a+d)/2 - trig.Hypot((a-d)/2, b)
}
