package main

import (
	"os"
	"syscall"
	"unsafe"
)

// Of LockFileEx and its errors, from the documentation of the system.
const (
	lockfileFailImmediately = 1
	lockfileExclusive       = 2
	errorLockViolation      = syscall.Errno(33)
)

var lockFileEx = syscall.NewLazyDLL("kernel32.dll").NewProc("LockFileEx")

// takeTurn has a file for this program alone until it is closed, if nobody else has it. mine is false
// where somebody has; err tells that the file system cannot do it.
func takeTurn(f *os.File) (mine bool, err error) {
	ok, _, err := lockFileEx.Call(f.Fd(), lockfileExclusive|lockfileFailImmediately, 0, 1, 0, uintptr(unsafe.Pointer(new(syscall.Overlapped))))
	switch {
	case ok != 0:
		return true, nil
	case err == errorLockViolation:
		return false, nil
	}
	return false, err
}
