package prove

import (
	"slices"

	"dryfit/measure/source"
)

// IDs lists the checks that are made, in the order of the table.
func IDs() []string {
	var ids []string
	for _, c := range Checks {
		ids = append(ids, c.ID)
	}
	return ids
}

// NotYet lists the checks of the design that are not made with a proof.
func NotYet() []string { return slices.Clone(notYet) }

// Named returns the check of an id. Where there is none of that id, near is the
// check whose id is most like it, "" if none is.
func Named(id string) (c Check, near string, ok bool) {
	for _, c := range Checks {
		if c.ID == id {
			return c, "", true
		}
	}
	return Check{}, source.Nearest(id, append(IDs(), notYet...)), false
}
