// Package chance has what a count of many builds needs: random numbers that do
// not mind the order in which they are asked for, the distributions of inputs, exact
// intervals of counts, means and variances, and the share of each input in what varies.
// It knows nothing of toys.
//
// Everything has the same bits on every machine and for any number of goroutines:
// logarithms and exponentials are the package's own (elementary.go), products are rounded
// before they are added, and sums are made of fixed blocks, merged in order (fold.go).
package chance

// Stream gives random numbers by name instead of in turn: value number i of an input of
// a build is the same whoever asks, and when. Streams of different seeds are
// independent. The zero Stream is that of seed 0.
//
// Method: Philox4x32-10, a counter that is enciphered by ten rounds of multiplication.
// Source: Salmon, Moraes, Dror and Shaw, "Parallel random numbers: as easy as 1, 2, 3",
// Proceedings of SC11 (2011).
type Stream struct{ seed uint64 }

// NewStream returns the stream of a seed.
func NewStream(seed uint64) Stream { return Stream{seed} }

// Bits returns 64 random bits: value number value of an input of a build. None may be
// negative; input and value must be below 2^32.
func (s Stream) Bits(build, input, value int) uint64 {
	// One encipherment gives two values.
	w := philox([4]uint32{uint32(uint64(value) >> 1), uint32(input), uint32(build), uint32(uint64(build) >> 32)},
		[2]uint32{uint32(s.seed), uint32(s.seed >> 32)})
	if value&1 == 0 {
		return uint64(w[1])<<32 | uint64(w[0])
	}
	return uint64(w[3])<<32 | uint64(w[2])
}

// Uniform returns a number that is uniform on [0, 1), a multiple of 2^-53.
func (s Stream) Uniform(build, input, value int) float64 {
	return float64(float64(s.Bits(build, input, value)>>11) * (1.0 / (1 << 53)))
}

// Open returns a number that is uniform on (0, 1), without its ends: what quantiles
// need, which may be infinite there.
func (s Stream) Open(build, input, value int) float64 { return open(s.Bits(build, input, value)) }

// Normal returns a number of the standard normal distribution.
func (s Stream) Normal(build, input, value int) float64 {
	return NormalQuantile(s.Open(build, input, value))
}

// Draw returns a number of a distribution, by its quantile.
func (s Stream) Draw(d Distribution, build, input, value int) float64 {
	return d.Quantile(s.Open(build, input, value))
}

// open puts 52 of the bits in the middle of their step, so that neither 0 nor 1 comes out.
func open(bits uint64) float64 {
	return float64((float64(bits>>12) + 0.5) * (1.0 / (1 << 52)))
}

// The multipliers and the steps of the key, from the paper.
const (
	philoxM0, philoxM1 = 0xD2511F53, 0xCD9E8D57
	philoxW0, philoxW1 = 0x9E3779B9, 0xBB67AE85
)

func philox(c [4]uint32, k [2]uint32) [4]uint32 {
	for range 10 {
		a, b := uint64(philoxM0)*uint64(c[0]), uint64(philoxM1)*uint64(c[2])
		c = [4]uint32{uint32(b>>32) ^ c[1] ^ k[0], uint32(b), uint32(a>>32) ^ c[3] ^ k[1], uint32(a)}
		k[0] += philoxW0
		k[1] += philoxW1
	}
	return c
}
