package layout

import (
	"fmt"
	"strconv"

	"dryfit/geom/r2"
)

// All that this package letters on a page.

// advice is lettered beside the lower check bar, in two lines.
var advice = [2]string{"Print at actual size (100 %),", "then measure both bars"}

const (
	pageOf = "%s   page %d of %d"
	tileOf = "tile %d.%d: row %d of %d, column %d of %d"
)

// What is lettered along a seam, the first that has room: to the tile that is laid
// under the other one, and to the tile that is cut and laid on it.
var (
	layOther = []string{"lay %s to this line", "lay %s here", "%s"}
	layOn    = []string{"cut here, lay on %s", "lay on %s", "on %s"}
)

// corrected says on the page what it was made up for.
func corrected(measured r2.Vec) string {
	mm := func(x float64) string {
		if x == 0 {
			x = 100
		}
		return strconv.FormatFloat(x, 'f', -1, 64)
	}
	return fmt.Sprintf("Made only for the printer whose 100 mm bars measured %s mm across and %s mm up. From it, these bars come out true: measure them.",
		mm(measured.X), mm(measured.Y))
}
