package main

import (
	"errors"
	"io/fs"
	"syscall"
)

// kindHint says what to do about a file or a device, by what is wrong with it.
type kindHint struct {
	kind error
	hint string
}

const (
	diskFull = "the disk is full: make room on it, or name another place"
	readOnly = "nothing can be written there: name another place"
	tooLong  = "the name is too long: give it a shorter one"
)

// placeHints are tried in order, the first that fits.
var placeHints = append([]kindHint{
	{fs.ErrNotExist, "see whether the name is right"},
	{fs.ErrPermission, "see to its rights, and those of its folder, or name another place"},
	{syscall.ENOSPC, diskFull},
	{syscall.EROFS, readOnly},
	{syscall.ENAMETOOLONG, tooLong},
	{syscall.EISDIR, "it is a folder: name a file in it"},
	{syscall.ENOTDIR, "what stands before its last / is no folder: see whether the name is right"},
	{syscall.ELOOP, "its links lead round in a circle: name the file itself"},
	{syscall.EBADF, "what the program writes to is closed: begin it without >&-"},
	{syscall.EDQUOT, "your share of the disk is used up: make room in it, or name another place"},
	{syscall.EFBIG, "no file may be that large there: name another place"},
	{syscall.EIO, "the disk or the device fails: name another place"},
}, systemHints...)

func placeHint(place *fs.PathError) string {
	for _, h := range placeHints {
		if errors.Is(place.Err, h.kind) {
			return h.hint + ": " + place.Path
		}
	}
	return "see whether the name is right, and whether it may be used from here: " + place.Path
}
