package chance

import (
	"math"
	"testing"
)

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s: %.12g, want %.12g within %g", what, got, want, within)
	}
}

// Source: the known answers that go with the paper (Salmon et al. 2011), philox4x32, 10
// rounds.
func TestPhiloxKnownAnswers(t *testing.T) {
	for _, c := range []struct {
		counter [4]uint32
		key     [2]uint32
		want    [4]uint32
	}{
		{[4]uint32{}, [2]uint32{}, [4]uint32{0x6627e8d5, 0xe169c58d, 0xbc57ac4c, 0x9b00dbd8}},
		{[4]uint32{0xffffffff, 0xffffffff, 0xffffffff, 0xffffffff}, [2]uint32{0xffffffff, 0xffffffff}, [4]uint32{0x408f276d, 0x41c83b0e, 0xa20bc7c6, 0x6d5451fd}},
		{[4]uint32{0x243f6a88, 0x85a308d3, 0x13198a2e, 0x03707344}, [2]uint32{0xa4093822, 0x299f31d0}, [4]uint32{0xd16cfe09, 0x94fdcceb, 0x5001e420, 0x24126ea1}},
	} {
		if got := philox(c.counter, c.key); got != c.want {
			t.Errorf("philox(%x, %x) = %x, want %x", c.counter, c.key, got, c.want)
		}
	}
}

// Every name has a number of its own, and seeds do not share them.
func TestStreamNames(t *testing.T) {
	seen := map[uint64]bool{}
	for seed := range uint64(3) {
		for build := range 20 {
			for input := range 20 {
				for value := range 6 {
					b := NewStream(seed).Bits(build, input, value)
					if seen[b] {
						t.Fatalf("the bits of seed %d, build %d, input %d, value %d were there before", seed, build, input, value)
					}
					seen[b] = true
				}
			}
		}
	}
	if NewStream(1).Bits(1<<32, 0, 0) == NewStream(1).Bits(0, 0, 0) {
		t.Error("builds beyond 2^32 repeat")
	}
}

// Uniform numbers fill 100 classes as chance does: chi-square of 99 degrees of freedom
// lies between its points of 0.0005 and 0.9995, 56.6 and 152 (from the cube-root approximation of
// Wilson and Hilferty, 1931). Neighbours in all three names are not correlated.
func TestUniform(t *testing.T) {
	s, n := NewStream(7), 100000
	for name, at := range map[string]func(i int) float64{
		"builds": func(i int) float64 { return s.Uniform(i, 3, 0) },
		"inputs": func(i int) float64 { return s.Uniform(5, i, 0) },
		"values": func(i int) float64 { return s.Uniform(5, 3, i) },
	} {
		var class [100]float64
		lag := 0.0
		for i := range n {
			u := at(i)
			if u < 0 || u >= 1 {
				t.Fatalf("%s: %g is not in [0, 1)", name, u)
			}
			class[int(u*100)]++
			lag += (u - 0.5) * (at(i+1) - 0.5) * 12
		}
		chi := 0.0
		for _, c := range class {
			chi += (c - 1000) * (c - 1000) / 1000
		}
		near(t, name+": chi-square", chi, 104.3, 47.7)
		near(t, name+": correlation of neighbours", lag/float64(n), 0, 4/math.Sqrt(float64(n)))
	}
	if o := open(0); !(o > 0) {
		t.Errorf("the smallest open number is %g", o)
	}
	if o := open(math.MaxUint64); !(o < 1) {
		t.Errorf("the largest open number is %g", o)
	}
}

// What was given once is given always: bits of the numbers, on every machine.
func TestStreamBits(t *testing.T) {
	s := NewStream(2026)
	in, err := ClopperPearson(418, 10000, 0.95)
	if err != nil {
		t.Fatal(err)
	}
	shares, err := Sobol(t.Context(), Study{Inputs: 8, Groups: each(8), Samples: 300, Seed: 4}, gFunction)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		what string
		got  float64
		want uint64
	}{
		{"uniform", s.Uniform(1, 2, 3), 0x3fd2de8cf5442c1e},
		{"normal", s.Normal(1, 2, 3), 0xbfe14219bab786a3},
		{"truncated", s.Draw(NewTruncated(0, 1, 2), 1, 2, 3), 0xbfe065fa9648cdbd},
		{"half-normal", s.Draw(HalfNormal{1}, 1, 2, 3), 0x3fd836f99bb92ff1},
		{"triangular", s.Draw(Triangular{-1, 0, 2}, 1, 2, 3), 0xbfae799285975610},
		{"far normal", NormalQuantile(1e-20), 0xc022865170b43a4b},
		{"normal share", NormalCDF(-1.5) + NormalCDF(-7), 0x3fb11a46d897b028},
		{"interval", in.Low + in.High, 0x3fb5787b3b320128},
		{"variance", shares[0].Variance, 0x3fddbb7fd4754d0f},
		{"first order", shares[0].First[1].Value + shares[0].First[1].Error, 0x3fce9e78b9ca8e42},
		{"total", shares[0].Total[2].Value + shares[0].Total[2].Error, 0x3fa2b57530d6703a},
		{"beta", betaInc(3, 8, 0.2), 0x3fd49eeebc378887},
	} {
		if got := math.Float64bits(c.got); got != c.want {
			t.Errorf("%s: bits %#x of %g, want %#x", c.what, got, c.got, c.want)
		}
	}
}

func BenchmarkUniform(b *testing.B) {
	for i := range b.N {
		NewStream(1).Uniform(i, 1, 0)
	}
}

func BenchmarkNormal(b *testing.B) {
	for i := range b.N {
		NewStream(1).Normal(i, 1, 0)
	}
}

func BenchmarkTruncated(b *testing.B) {
	d := NewTruncated(0, 1, 3)
	for i := range b.N {
		NewStream(1).Draw(d, i, 1, 0)
	}
}
