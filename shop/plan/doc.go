// Package plan says when what of some toys is made, with which tool, and by whose hands.
//
//	p, err := plan.Make(ctx, jobs, plan.Shop{Hands: hands}, plan.Options{})
//
// The steps are those of the guide, by their numbers. Each becomes tasks: what is done to
// the pieces of one part (parts.go), glue-ups, the build in the proved order, finish and
// check (build.go). Work that is alike for all toys is one task, so that it is set up once;
// glue-ups and toys go through in lots that the clamps can hold. Who can do it, and with
// what, makes the modes of a task (modes.go); shop/schedule does the rest. Breaks between
// sessions are put in afterwards (session.go), and text.go prints it all.
//
// How long things take is facts.Durations, where the shop file does not say otherwise. The
// schedule is in tenths of a minute (perMinute); what a Plan tells is in whole minutes.
package plan
