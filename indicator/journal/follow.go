package journal

import (
	"bytes"
	"errors"
	"fmt"
	"io"
)

// Writer asks whether a program writes the journal at path at this moment, and what it has signed
// with, which is empty where it has not. It shares the lock for an instant, so a program that calls
// [Open] in that very instant gets a *[LockedError] although nobody writes: Writer tells it so, and
// it may try again.
func Writer(path string) (by string, writes bool, err error) {
	f, err := openPlain(path)
	if err != nil {
		return "", false, err
	}
	switch err = share(f); {
	case errors.Is(err, errLocked):
		return signature(path), true, f.Close()
	case err != nil:
		return "", false, both(fmt.Errorf("%s: cannot ask who writes the journal: %w", path, err), f.Close())
	}
	return "", false, both(unlock(f), f.Close())
}

// Follower reads a journal beside the program that writes it: every call of [Follower.More] hands over what has come
// since the last. It takes no lock, and looks where a service for changes of files would be told: so it works on
// every file system. It may be used by one goroutine at a time.
type Follower struct {
	path  string
	at    int64  // where the last line begins that was handed over
	last  []byte // that line as it stands in the file, line feed included; nil before the first
	count int    // lines handed over
}

// Follow returns a follower that has handed over nothing yet.
func Follow(path string) *Follower { return &Follower{path: path} }

// More returns the lines that are new, oldest first. What stands behind the last line feed is one that
// is being written, and is not handed over before it is whole.
//
// A writer takes back a line that its disk failed on, after it could be read here; then anew is true,
// and the lines are all of the journal's, from the first. A whole line that fails its check is a
// *[DamageError], which comes with the good lines before it and again at every further call.
func (f *Follower) More() (lines [][]byte, anew bool, err error) {
	file, err := openPlain(f.path)
	if err != nil {
		return nil, false, err
	}
	stands := make([]byte, len(f.last))
	if _, err = file.ReadAt(stands, f.at); err != nil && err != io.EOF {
		return nil, false, both(fmt.Errorf("%s: cannot read the journal: %w", f.path, err), file.Close())
	}
	if !bytes.Equal(stands, f.last) {
		anew, f.at, f.last, f.count = true, 0, nil, 0
	}
	if _, err = file.Seek(f.at+int64(len(f.last)), io.SeekStart); err == nil {
		lines, err = f.take(file)
	}
	return lines, anew, both(err, file.Close())
}

// take hands over the lines from where the file stands.
func (f *Follower) take(file io.Reader) ([][]byte, error) {
	got, end, err := scan(file, f.path, f.count)
	if n := len(got.Lines); n > 0 {
		from := f.at + int64(len(f.last))
		f.last = encode(got.Lines[n-1])
		f.at = from + end - int64(len(f.last))
		f.count += n
	}
	return got.Lines, both(err, got.Err())
}
