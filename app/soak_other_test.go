//go:build !unix

package app

import "time"

var started = time.Now()

// spent is the time since the start, where processor time is not to be had.
func spent() time.Duration { return time.Since(started) }
