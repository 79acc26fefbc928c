package chance

// direction has the primitive polynomial of a dimension of the Sobol' sequence, by
// its degree (the number of values m) and the bits a of its middle coefficients, and
// the first direction numbers.
type direction struct {
	a uint32
	m []uint32
}

// directions has dimensions 2 to 37; the first needs none.
//
// Source: Joe and Kuo, "Constructing Sobol sequences with better two-dimensional
// projections", SIAM Journal on Scientific Computing 30 (2008), their set for criterion
// D(6); written down from memory. The tests hold it against what the paper says of it: the
// polynomials are the primitive ones in order, and property A holds.
var directions = [36]direction{
	{0, []uint32{1}},
	{1, []uint32{1, 3}},
	{1, []uint32{1, 3, 1}},
	{2, []uint32{1, 1, 1}},
	{1, []uint32{1, 1, 3, 3}},
	{4, []uint32{1, 3, 5, 13}},
	{2, []uint32{1, 1, 5, 5, 17}},
	{4, []uint32{1, 1, 5, 5, 5}},
	{7, []uint32{1, 1, 7, 11, 19}},
	{11, []uint32{1, 1, 5, 1, 1}},
	{13, []uint32{1, 1, 1, 3, 11}},
	{14, []uint32{1, 3, 5, 5, 31}},
	{1, []uint32{1, 3, 3, 9, 7, 49}},
	{13, []uint32{1, 1, 1, 15, 21, 21}},
	{16, []uint32{1, 3, 1, 13, 27, 49}},
	{19, []uint32{1, 1, 1, 15, 7, 5}},
	{22, []uint32{1, 3, 1, 15, 13, 25}},
	{25, []uint32{1, 1, 5, 5, 19, 61}},
	{1, []uint32{1, 3, 7, 11, 23, 15, 103}},
	{4, []uint32{1, 3, 7, 13, 13, 15, 69}},
	{7, []uint32{1, 1, 3, 13, 7, 35, 63}},
	{8, []uint32{1, 3, 5, 9, 1, 25, 53}},
	{14, []uint32{1, 3, 1, 13, 9, 35, 107}},
	{19, []uint32{1, 3, 1, 5, 27, 61, 31}},
	{21, []uint32{1, 1, 5, 11, 19, 41, 61}},
	{28, []uint32{1, 3, 5, 3, 3, 13, 69}},
	{31, []uint32{1, 1, 7, 13, 1, 19, 1}},
	{32, []uint32{1, 3, 7, 5, 13, 19, 59}},
	{37, []uint32{1, 1, 3, 9, 25, 29, 41}},
	{41, []uint32{1, 3, 5, 13, 23, 1, 55}},
	{42, []uint32{1, 3, 7, 3, 13, 59, 17}},
	{50, []uint32{1, 3, 1, 3, 5, 53, 69}},
	{55, []uint32{1, 1, 5, 5, 23, 33, 13}},
	{56, []uint32{1, 1, 7, 7, 1, 61, 123}},
	{59, []uint32{1, 1, 7, 9, 13, 61, 49}},
	{62, []uint32{1, 3, 3, 5, 3, 55, 33}},
}

// numbers has the direction numbers of all dimensions, as binary fractions of 32 bits.
var numbers = func() (v [len(directions) + 1][32]uint32) {
	for j := range 32 {
		v[0][j] = 1 << (31 - j)
	}
	for d, dir := range directions {
		s := len(dir.m)
		for j := range 32 {
			if j < s {
				v[d+1][j] = dir.m[j] << (31 - j)
				continue
			}
			x := v[d+1][j-s] ^ v[d+1][j-s]>>s
			for k := 1; k < s; k++ {
				if dir.a>>(s-1-k)&1 == 1 {
					x ^= v[d+1][j-k]
				}
			}
			v[d+1][j] = x
		}
	}
	return v
}()

// sobolBits returns coordinate dim of point i of the sequence, in the order of the Gray
// code, as a fraction of 32 bits. Source: Antonov and Saleev, USSR Computational Mathematics
// and Mathematical Physics 19 (1979).
func sobolBits(dim int, i uint32) (x uint32) {
	for j, g := 0, i^i>>1; g != 0; j, g = j+1, g>>1 {
		if g&1 == 1 {
			x ^= numbers[dim][j]
		}
	}
	return x
}
