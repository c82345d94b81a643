package main

import (
	"errors"
	"io/fs"
	"syscall"
)

// placeHints say what to do about a file or a device, by what is wrong with it; the first that fits.
var placeHints = []struct {
	kind error
	hint string
}{
	{fs.ErrNotExist, "see whether the name is right"},
	{fs.ErrPermission, "see to its rights, and those of its folder, or name another place"},
	{syscall.ENOSPC, "the disk is full: make room on it, or name another place"},
	{syscall.EROFS, "nothing can be written there: name another place"},
	{syscall.ENAMETOOLONG, "the name is too long: give it a shorter one"},
	{syscall.EISDIR, "it is a folder: name a file in it"},
	{syscall.ENOTDIR, "what stands before its last / is no folder: see whether the name is right"},
	{syscall.ELOOP, "its links lead round in a circle: name the file itself"},
	{syscall.EBADF, "what the program writes to is closed: begin it without >&-"},
}

func placeHint(place *fs.PathError) string {
	for _, h := range placeHints {
		if errors.Is(place.Err, h.kind) {
			return h.hint + ": " + place.Path
		}
	}
	return "see whether the name is right, and whether it may be used from here: " + place.Path
}
