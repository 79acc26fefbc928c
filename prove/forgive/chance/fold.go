package chance

import (
	"context"
	"runtime"
	"sync"
)

// Block is how many numbers Fold gives to one call: enough that handing out costs
// nothing, few enough that all goroutines are busy to the end and a stop is quick.
const Block = 64

// Fold does work on the numbers 0 to n-1 in blocks of Block, on as many goroutines as
// workers says (0: one a processor), and gives what comes of each block to merge, in the order
// of the blocks and one at a time: so the result is the same for any number of workers.
//
// The first error, in the order of the blocks, ends it and is returned. The end of ctx ends
// it too, between blocks, and its cause is returned.
func Fold[T any](ctx context.Context, n, workers int, block func(from, to int) (T, error), merge func(T)) error {
	if workers <= 0 {
		workers = runtime.GOMAXPROCS(0)
	}
	f := folder[T]{ctx: ctx, n: n, block: block, merge: merge, waiting: map[int]T{}}
	var wg sync.WaitGroup
	for range min(workers, (n+Block-1)/Block) {
		wg.Go(f.work)
	}
	wg.Wait()
	return f.err
}

type folder[T any] struct {
	ctx   context.Context
	n     int
	block func(from, to int) (T, error)
	merge func(T)

	sync.Mutex
	given   int       // blocks handed out
	merged  int       // blocks merged
	waiting map[int]T // blocks done before one that comes earlier
	err     error     // of the earliest block that has one
	errAt   int
}

func (f *folder[T]) work() {
	for {
		f.Lock()
		b := f.given
		if f.err == nil && f.ctx.Err() != nil {
			f.err, f.errAt = context.Cause(f.ctx), b
		}
		if f.err != nil || b*Block >= f.n {
			f.Unlock()
			return
		}
		f.given++
		f.Unlock()

		v, err := f.block(b*Block, min((b+1)*Block, f.n))

		f.Lock()
		if err == nil {
			f.waiting[b] = v
		} else if f.err == nil || b < f.errAt {
			f.err, f.errAt = err, b
		}
		for f.err == nil {
			v, ready := f.waiting[f.merged]
			if !ready {
				break
			}
			delete(f.waiting, f.merged)
			f.merged++
			f.merge(v)
		}
		f.Unlock()
	}
}
