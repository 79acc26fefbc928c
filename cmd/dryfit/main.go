// Command dryfit proves a wooden toy before wood is cut and prints what the shop
// needs. This package is the command table and the terminal; the verbs are in
// package app.
package main

import "os"

func main() { os.Exit(run(os.Args[1:], os.Stdin, os.Stdout, os.Stderr)) }
