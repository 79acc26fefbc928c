// Package mutants keeps the tests honest: list.txt names, for every check, small
// faults that could slip into its formula, and the tests must catch each of them. A
// mutant that lives on means that a test is missing.
//
// make mutants builds the code with each fault in turn, runs the tests of the checks
// and writes caught.md, which says what caught it. make test only looks whether the
// list still fits the code.
package mutants
