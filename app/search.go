package app

import (
	"context"
	"errors"
	"time"

	"dryfit/shop/boards"
	"dryfit/toy"
)

// firstLook is how long a layout is sought before the first is handed on: whoever waits sees
// plain rows soon, and what is better after.
const firstLook = 500 * time.Millisecond

// BetterLayouts looks for layouts over and over, each time twice as long as before and from
// another seed, and hands on each that is better than all before it, until the time of the effort
// is over or the context ends. What it returns is the last that was handed on.
func BetterLayouts(ctx context.Context, of []Making, s *toy.Shop, e boards.Effort, found func(*boards.Plan)) (*boards.Plan, error) {
	if e.Time <= 0 {
		return nil, errors.New("a layout is sought for some time: expected more than 0 seconds")
	}
	end := time.Now().Add(e.Time)
	one := e
	one.Time, one.Rounds = firstLook, 1
	var best *boards.Plan
	for ; ; one.Time, one.Rounds, one.Seed = 2*one.Time, 2*one.Rounds, one.Seed+1 {
		one.Time = min(one.Time, time.Until(end))
		if one.Time <= 0 || ctx.Err() != nil {
			break
		}
		p, err := Layout(ctx, of, s, one)
		if err != nil {
			return nil, err
		}
		if best == nil || p.Better(best) {
			best = p
			found(p)
		}
	}
	if best == nil {
		return nil, ctx.Err()
	}
	return best, nil
}
