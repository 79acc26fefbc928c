// Package strength has the formulas by which round wood, glue lines and sections
// of wood are held against loads. Lengths are millimetres, forces newtons, twists
// newton millimetres, so stresses are newtons per square millimetre (MPa).
// Source: any textbook of the strength of materials; what is particular to wood
// names its own.
package strength

import "math"

// Round is the section of a round rod.
type Round struct{ Dia float64 }

// Area returns pi d²/4.
func (r Round) Area() float64 { return float64(math.Pi / 4 * float64(r.Dia*r.Dia)) }

// Modulus returns the section modulus against bending, pi d³/32.
func (r Round) Modulus() float64 { return float64(math.Pi / 32 * float64(float64(r.Dia*r.Dia)*r.Dia)) }

// Bending returns the greatest stress of a round rod under a bending moment, M/Z.
func (r Round) Bending(moment float64) float64 { return moment / r.Modulus() }

// Twisting returns the greatest shear stress of a round rod under a twist, 16 T/(pi d³).
func (r Round) Twisting(twist float64) float64 { return twist / (2 * r.Modulus()) }

// DoubleShear returns the mean shear stress of a pin that is held on both sides of
// what pulls on it, P/(2 A).
func (r Round) DoubleShear(force float64) float64 { return force / (2 * r.Area()) }

// SingleShear returns the greatest shear stress of a pin that is held on one side,
// that of a round beam, 4 P/(3 A).
func (r Round) SingleShear(force float64) float64 { return 4 * force / (3 * r.Area()) }

// Cantilever returns the moment at the mouth of a force at the end of an arm, P L.
func Cantilever(force, arm float64) float64 { return float64(force * arm) }

// Spread returns the greatest moment of a beam on two supports with a force spread evenly
// over a stretch in its middle, P (2 L - b)/8: P L/4 at a point, w L²/8 over all of it.
func Spread(force, span, over float64) float64 { return force * (float64(2*span) - over) / 8 }

// BuiltIn returns the greatest moment of a beam that is held stiffly at both ends, with a
// force in its middle, P L/8.
func BuiltIn(force, span float64) float64 { return float64(force*span) / 8 }

// PullOut returns the force that draws a glued dowel of diameter d out of a hole that
// it fills over a length, tau pi d L.
func PullOut(tau, d, length float64) float64 { return float64(tau * math.Pi * float64(d*length)) }

// PullRound returns the twist that turns a glued dowel in its hole: its pull-out force at
// half its diameter.
func PullRound(tau, d, length float64) float64 { return PullOut(tau, d, length) * d / 2 }

// TearOut returns the force that n dowels in a row, s apart (or s from the end), tear out
// along the grain of wood t thick, n tau t s. Source: AWC NDS appendix E, row tear-out.
func TearOut(n int, tau, t, s float64) float64 { return float64(float64(n) * tau * float64(t*s)) }

// Split returns the force across the grain that splits the wood between a hole and the
// edge e away over a length t of the hole, sigma t e (common practice, no source).
func Split(across, t, e float64) float64 { return float64(across * float64(t*e)) }

// Hankinson returns the strength at an angle to the grain whose cosine is cos, from
// that along and that across: P Q/(P sin² + Q cos²).
// Source: USDA FPL-GTR-190 Wood Handbook, chapter 5, with n = 2 (1.5 to 2 for bending and tension).
func Hankinson(along, across, cos float64) float64 {
	c := math.Min(1, cos*cos)
	return float64(along*across) / (float64(along*(1-c)) + float64(across*c))
}
