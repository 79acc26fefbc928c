//go:build unix

package main

import (
	"os"
	"syscall"
)

// nobody is the user without rights: 65534 on Linux and in POSIX practice.
const nobody = 65534

// canBeNobody: root can become nobody, and everyone else is refused as it is.
func canBeNobody() bool { return true }

// becomeNobody gives up the rights of root, which no mode of a file stops.
func becomeNobody() {
	if os.Geteuid() != 0 {
		return
	}
	for _, err := range []error{syscall.Setgroups(nil), syscall.Setgid(nobody), syscall.Setuid(nobody)} {
		if err != nil {
			panic(err)
		}
	}
}
