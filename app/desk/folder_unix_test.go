//go:build unix

package desk

import (
	"path/filepath"
	"syscall"
	"testing"
)

// A pipe that nobody writes to would be waited for without end.
func TestFolderPipe(t *testing.T) {
	dir, disk := folderIn(t)
	if err := syscall.Mkfifo(filepath.Join(dir, "pipe.yaml"), 0o644); err != nil {
		t.Skip(err)
	}
	if _, err := New(disk).Open("pipe.yaml"); err == nil {
		t.Error("a pipe is a toy")
	}
	if _, err := disk.Read("pipe.yaml"); err == nil {
		t.Error("a pipe is read")
	}
}
