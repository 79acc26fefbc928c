//go:build unix && !aix && !solaris

package main

import (
	"os"
	"syscall"
)

// takeTurn has a file for this program alone until it is closed, if nobody else has it. mine is false
// where somebody has; err tells that the file system cannot do it.
func takeTurn(f *os.File) (mine bool, err error) {
	err = syscall.Flock(int(f.Fd()), syscall.LOCK_EX|syscall.LOCK_NB)
	if err == syscall.EWOULDBLOCK {
		return false, nil
	}
	return err == nil, err
}
