package measure

import (
	"math"
	"strconv"
)

// Angle is an angle in radians.
type Angle float64

// FromDegrees is the angle of so many degrees.
func FromDegrees(d float64) Angle { return Angle(float64(d*math.Pi) / 180) }

// Degrees is the angle in degrees.
func (a Angle) Degrees() float64 { return float64(float64(a)*180) / math.Pi }

// Format prints an angle for people, as in `55°`: degrees to two decimals,
// trimmed.
func (a Angle) Format() string {
	d := a.Degrees()
	if !(math.Abs(d) < farthest) {
		return strconv.FormatFloat(d, 'g', 6, 64) + "°"
	}
	return hundredths(float64(d*100)) + "°"
}

// Exact prints a finite angle in radians with all the digits it takes to read
// back the very same Angle.
func (a Angle) Exact() string {
	if a == 0 {
		a = 0 // not -0
	}
	return strconv.FormatFloat(float64(a), 'f', -1, 64) + " rad"
}
