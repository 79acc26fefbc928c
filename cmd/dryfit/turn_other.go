//go:build !windows && (!unix || aix || solaris)

package main

import (
	"errors"
	"os"
)

// takeTurn cannot be done here.
func takeTurn(*os.File) (mine bool, err error) { return false, errors.ErrUnsupported }
