// Package schedule says when what is done, with which tool and by whose hands: the
// resource-constrained project scheduling problem with modes and set-ups. It knows
// tasks and resources, nothing of toys.
//
//	plan, err := schedule.Solve(ctx, project, schedule.Options{Seed: 1})
//
// Solve makes the makespan small first, then the number of set-ups, and says how
// far a schedule could at best be shorter (Plan.Bound); Check tells whether a plan
// is possible, by code of its own.
//
// Times are whole numbers of whatever unit the caller likes, seconds or minutes.
//
// # What is modelled
//
// A task is done once and without a pause, after its predecessors, in one of its
// modes (adult alone; child, with an adult watching). A mode holds units of
// renewable resources from the start of the task, each until its end or released
// earlier (Use.For): in a glue-up the hands are free after ten minutes, the clamps
// when the glue has cured. A mode without uses takes time alone.
//
// A resource of capacity one may have families of set-up (bits in the drill). A
// task whose family is not the one fitted has a set-up directly before it, which
// takes Resource.SetUp, begins when the predecessors of the task are done, and
// holds all that the task holds, hands too: who drills has fitted the bit.
//
// # Methods
//
// All from the open literature; no program was copied.
//   - Serial and parallel schedule generation: R. Kolisch, "Serial and parallel
//     resource-constrained project scheduling methods revisited", European Journal
//     of Operational Research 90 (1996) 320-333.
//   - Justification to the right and to the left: V. Valls, F. Ballestin, S.
//     Quintanilla, "Justification and RCPSP", EJOR 165 (2005) 375-386.
//   - A population of activity lists, two-point crossover: S. Hartmann, "A
//     competitive genetic algorithm for resource-constrained project scheduling",
//     Naval Research Logistics 45 (1998) 733-750.
//   - Lower bounds, destructive improvement: R. Klein, A. Scholl, "Computing lower
//     bounds by destructive improvement", EJOR 112 (1999) 322-346. Energy in
//     intervals: P. Baptiste, C. Le Pape, W. Nuijten, "Satisfiability tests and
//     time-bound adjustments for cumulative scheduling problems", Annals of
//     Operations Research 92 (1999) 305-333. One machine with heads and tails:
//     J. Carlier, EJOR 11 (1982) 42-47.
//   - Proof by learned nogoods over bounds: O. Ohrimenko, P. Stuckey, M. Codish,
//     "Propagation via lazy clause generation", Constraints 14 (2009) 357-391;
//     A. Schutt, T. Feydy, P. Stuckey, M. Wallace, "Explaining the cumulative
//     propagator", Constraints 16 (2011) 250-282.
//
// References are from memory. Results: docs/bench.md.
package schedule
