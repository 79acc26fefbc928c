//go:build !unix

package main

func canBeNobody() bool { return false }

func becomeNobody() {}
