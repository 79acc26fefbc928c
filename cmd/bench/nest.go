package main

import (
	"context"
	"fmt"
	"math"
	"path/filepath"
	"runtime"
	"time"

	"dryfit/geom/r2"
	"dryfit/shop/nest"
)

// shapeInstance is what is read of an instance of strips or boards; what it says of optima
// is not.
type shapeInstance struct {
	Strip  float64 `json:"strip_height"`
	Width  float64 `json:"board_width"`
	Height float64 `json:"board_height"`
	Items  []struct {
		ID        int          `json:"id"`
		Demand    int          `json:"demand"`
		Rotations []float64    `json:"rotations_deg"`
		Polygon   [][2]float64 `json:"polygon"`
	} `json:"items"`
}

// stripResult is what is written of a strip. An item is placed by turning its polygon by R
// degrees about the origin, counter-clockwise, and then moving it by X and Y.
type stripResult struct {
	Instance   string      `json:"instance"`
	Length     float64     `json:"length"`
	Density    float64     `json:"density_pct"`
	Placements []placement `json:"placements"`
	Value      float64     `json:"value"` // the length again
	Bound      float64     `json:"bound"` // no strip is shorter
	Seconds    float64     `json:"seconds"`
}

type placement struct {
	Item  int     `json:"item"`
	Board int     `json:"board,omitempty"` // from 0
	R     float64 `json:"r"`
	X     float64 `json:"x"`
	Y     float64 `json:"y"`
}

// boardsResult is what is written of equal boards.
type boardsResult struct {
	Instance   string      `json:"instance"`
	Placements []placement `json:"placements"`
	Value      int         `json:"value"` // boards used
	Bound      int         `json:"bound"`
	Seconds    float64     `json:"seconds"`
}

// near is what rounding may leave between pieces that touch, as a share of the board.
const near = 1e-7

// readShapes reads the items of an instance; ok is false for a file that is none.
func readShapes(dir, name string) (x shapeInstance, p nest.Problem, ok bool, err error) {
	if err := readJSON(dir, name, &x); err != nil || len(x.Items) == 0 {
		return x, p, false, err
	}
	for _, it := range x.Items {
		item := nest.Item{Name: fmt.Sprint(it.ID), Count: it.Demand}
		for _, q := range it.Polygon {
			item.Shape.Outer = append(item.Shape.Outer, r2.Vec{X: q[0], Y: q[1]})
		}
		for _, r := range it.Rotations {
			item.Turns = append(item.Turns, nest.Turn{Angle: r * math.Pi / 180})
		}
		p.Items = append(p.Items, item)
	}
	return x, p, true, nil
}

func board(w, h float64) nest.Shape {
	return nest.Shape{Outer: []r2.Vec{{}, {X: w}, {X: w, Y: h}, {Y: h}}}
}

func (x *shapeInstance) placements(l nest.Layout) (out []placement) {
	for _, at := range l.Places {
		p := placement{Item: x.Items[at.Item].ID, Board: at.Board, X: settled(at.At.X), Y: settled(at.At.Y)}
		if r := x.Items[at.Item].Rotations; len(r) > 0 {
			p.R = r[at.Turn]
		}
		out = append(out, p)
	}
	return out
}

// settled rids a place of what rounding left, which makes some geometry libraries see two
// sides that lie on each other cross.
func settled(x float64) float64 { return math.Round(x*1e9) / 1e9 }

// layout reads placements back; an item or a turn that the instance does not have is an error.
func (x *shapeInstance) layout(list []placement) (l nest.Layout, err error) {
	for k, p := range list {
		at := nest.Place{Item: -1, Board: p.Board, Turn: -1, At: r2.Vec{X: p.X, Y: p.Y}}
		for i, it := range x.Items {
			if it.ID == p.Item {
				at.Item = i
			}
		}
		if at.Item < 0 {
			return l, fmt.Errorf("placement %d: there is no item %d", k+1, p.Item)
		}
		turns := x.Items[at.Item].Rotations
		if len(turns) == 0 {
			turns = []float64{0}
		}
		for t, r := range turns {
			if math.Mod(math.Mod(r-p.R, 360)+360, 360) == 0 {
				at.Turn = t
			}
		}
		if at.Turn < 0 {
			return l, fmt.Errorf("placement %d: item %d must not be turned by %g degrees", k+1, p.Item, p.R)
		}
		l.Places = append(l.Places, at)
	}
	for _, it := range x.Items {
		n := it.Demand
		for _, p := range list {
			if p.Item == it.ID {
				n--
			}
		}
		if n != 0 {
			return l, fmt.Errorf("item %d: %d are missing", it.ID, n)
		}
	}
	return l, nil
}

// eachShape runs solve on every instance of a folder that has items.
func eachShape(name string, args []string, solve func(context.Context, *job, string, shapeInstance, nest.Problem) error) error {
	j, err := parse(name, args)
	if err != nil {
		return err
	}
	names, err := instances(j.dir)
	if err != nil {
		return err
	}
	for _, n := range names {
		x, p, ok, err := readShapes(j.dir, n)
		if err != nil {
			return err
		}
		if !ok {
			continue
		}
		ctx, stop := context.WithTimeout(context.Background(), j.limit)
		err = solve(ctx, j, n, x, p)
		stop()
		if err != nil {
			return fmt.Errorf("%s: %w", filepath.Join(j.dir, n+".json"), err)
		}
	}
	return nil
}

func (j *job) effort() nest.Effort {
	return nest.Effort{Seed: uint64(j.seed), Hands: runtime.GOMAXPROCS(0)}
}

// strips lays each instance of a folder on a strip.
func strips(args []string) error {
	return eachShape("nest", args, func(ctx context.Context, j *job, name string, x shapeInstance, p nest.Problem) error {
		began := time.Now()
		l, length, err := nest.Strip(ctx, p, x.Strip, j.effort())
		if err != nil {
			return err
		}
		area := 0.0
		for _, it := range p.Items {
			area += float64(it.Count) * it.Shape.Area()
		}
		r := stripResult{Instance: name, Length: length, Density: 100 * area / (x.Strip * length), Placements: x.placements(l), Value: length, Bound: area / x.Strip, Seconds: time.Since(began).Seconds()}
		fmt.Printf("%-12s %10.4f long, %6.2f %%, %6.1f s\n", name, r.Length, r.Density, r.Seconds)
		return writeJSON(j.out, name, r)
	})
}

func checkStrips(dir, out string) error {
	return checkShapes(dir, out, func(name string, x shapeInstance, p nest.Problem) (nest.Layout, error) {
		var r stripResult
		if err := readJSON(out, name, &r); err != nil {
			return nest.Layout{}, err
		}
		if r.Length != r.Value || r.Bound > r.Value*(1+near) {
			return nest.Layout{}, fmt.Errorf("length %g, value %g and bound %g do not go together", r.Length, r.Value, r.Bound)
		}
		p.Boards = append(p.Boards, nest.Board{Name: "strip", Shape: board(r.Length, x.Strip)})
		l, err := x.layout(r.Placements)
		if err != nil {
			return l, err
		}
		return l, p.Check(l, near*math.Max(r.Length, x.Strip))
	})
}

// bins lays each instance of a folder on as few equal boards as it can.
func bins(args []string) error {
	return eachShape("bins", args, func(ctx context.Context, j *job, name string, x shapeInstance, p nest.Problem) error {
		began := time.Now()
		area := 0.0
		for _, it := range p.Items {
			area += float64(it.Count) * it.Shape.Area()
			for range it.Count {
				p.Boards = append(p.Boards, nest.Board{Name: fmt.Sprint(len(p.Boards)), Shape: board(x.Width, x.Height), Cost: 1})
			}
		}
		l, value, err := nest.Boards(ctx, p, j.effort())
		if err != nil {
			return err
		}
		for i, n := range l.Left {
			if n > 0 {
				return fmt.Errorf("item %d does not go on a board", x.Items[i].ID)
			}
		}
		r := boardsResult{Instance: name, Placements: x.placements(l), Value: int(value), Bound: int(math.Ceil(area/(x.Width*x.Height) - near)), Seconds: time.Since(began).Seconds()}
		fmt.Printf("%-12s %3d boards, at least %3d, %6.1f s\n", name, r.Value, r.Bound, r.Seconds)
		return writeJSON(j.out, name, r)
	})
}

func checkBins(dir, out string) error {
	return checkShapes(dir, out, func(name string, x shapeInstance, p nest.Problem) (nest.Layout, error) {
		var r boardsResult
		if err := readJSON(out, name, &r); err != nil {
			return nest.Layout{}, err
		}
		used := map[int]bool{}
		for _, at := range r.Placements {
			used[at.Board] = true
		}
		if len(used) != r.Value || r.Bound > r.Value {
			return nest.Layout{}, fmt.Errorf("value %d and bound %d, but %d boards are used", r.Value, r.Bound, len(used))
		}
		l, err := x.layout(r.Placements)
		if err != nil {
			return l, err
		}
		for range l.Places {
			p.Boards = append(p.Boards, nest.Board{Name: fmt.Sprint(len(p.Boards)), Shape: board(x.Width, x.Height)})
		}
		return l, p.Check(l, near*math.Max(x.Width, x.Height))
	})
}

// checkShapes checks the results of a folder.
func checkShapes(dir, out string, check func(string, shapeInstance, nest.Problem) (nest.Layout, error)) error {
	names, err := instances(dir)
	if err != nil {
		return err
	}
	good := 0
	for _, n := range names {
		x, p, ok, err := readShapes(dir, n)
		if err != nil {
			return err
		}
		if !ok {
			continue
		}
		if _, err := check(n, x, p); err != nil {
			return fmt.Errorf("%s: %w", filepath.Join(out, n+".json"), err)
		}
		good++
	}
	fmt.Printf("%d results are valid\n", good)
	return nil
}
