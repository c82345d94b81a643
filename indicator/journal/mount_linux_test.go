package journal

import "golang.org/x/sys/unix"

// mountSmall puts a file system of 128 KB in memory at dir.
func mountSmall(dir string) error {
	return unix.Mount("tmpfs", dir, "tmpfs", 0, "size=128k")
}

func unmount(dir string) error { return unix.Unmount(dir, 0) }
