package prove

import "dryfit/facts"

// What the checks for a child share: they screen a drawing, and decide nothing.

// screening ends every finding about a child.
const screening = "screening of the drawing: only a test of the made toy decides"

// reaches tells whether a limit counts for the youngest child that the toy is for.
func (r *run) reaches(l facts.Limit) bool { return l.Reaches(r.m.Toy.Ages.FromMonths) }

func (r *run) underThree() bool { return r.m.Toy.Ages.FromMonths < threeYears }
