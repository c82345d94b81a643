package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
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
			_ = os.Remove(word)
		case time.Since(began) > aloneWait:
			return withHint(fmt.Errorf("%s: another program is changing it", path), "try again; where none is, remove %s", word)
		}
	}
}
