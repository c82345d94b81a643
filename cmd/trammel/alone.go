package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"time"
)

// beingWritten is what stands behind a file's name while a program changes it.
const beingWritten = ".busy"

const (
	// aloneWait is how long another program's change is waited for, and aloneLook the time between two looks.
	aloneWait = 5 * time.Second
	aloneLook = 10 * time.Millisecond
	// aloneStale is when whoever changed it must have been killed: a change takes some thousandths of a second.
	aloneStale = time.Minute
)

// alone changes a file while no other program does: what is read and written again would else lose what the other wrote between the
// two.
func alone(path string, change func() error) error {
	word := path + beingWritten
	for began := time.Now(); ; time.Sleep(aloneLook) {
		f, err := os.OpenFile(word, os.O_CREATE|os.O_EXCL|os.O_WRONLY, 0o600)
		if err == nil {
			defer os.Remove(word)
			return errors.Join(f.Close(), change())
		}
		if !errors.Is(err, fs.ErrExist) && !errors.Is(err, fs.ErrPermission) { // a system says so of one that is just being removed
			return err
		}
		info, gone := os.Lstat(word)
		switch {
		case gone != nil && errors.Is(err, fs.ErrPermission) && time.Since(began) > aloneWait:
			return err
		case gone == nil && time.Since(info.ModTime()) > aloneStale:
			clearStale(word)
		case time.Since(began) > aloneWait:
			return withHint(fmt.Errorf("%s: another program is changing it", path), "try again; where none is, remove %s", word)
		}
	}
}

// clearStale takes a word away that somebody who was killed has left. Several programs may come to it at once, and one of them may have
// put its own there by the time that another takes it: what is taken is looked at under a name of its own, and a fresh one put back.
func clearStale(word string) {
	stale := func(path string) bool {
		info, err := os.Lstat(path)
		return err == nil && time.Since(info.ModTime()) > aloneStale
	}
	f, err := os.CreateTemp(filepath.Dir(word), filepath.Base(word)+"-*")
	if err != nil {
		return // whoever waits says so in the end
	}
	aside := f.Name()
	defer os.Remove(aside)
	if f.Close() != nil || !stale(word) || os.Rename(word, aside) != nil {
		return
	}
	if !stale(aside) {
		_ = os.Link(aside, word)
	}
}
