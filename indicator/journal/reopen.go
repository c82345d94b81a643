package journal

import (
	"bytes"
	"errors"
	"fmt"
	"hash/crc32"
	"io"
	"io/fs"
	"os"
)

// Reopen goes on after a failed [Journal.Append], once the disk does: a full one has room again, a
// card is back. It opens the file anew under the lock and checks that every acknowledged byte is
// still there. What the failed append has left is cut off, even where it is the whole line: after a
// failed sync the system may show bytes that the disk does not have, so the line counts only when
// it has been written and synced anew, by the next Append. Where nothing has failed it does
// nothing.
//
// When the fault is still there, the lines have changed, or another program has taken the lock, the
// journal stays stopped and Reopen may be tried again.
func (j *Journal) Reopen() error {
	j.mu.Lock()
	defer j.mu.Unlock()
	switch {
	case j.closed:
		return fs.ErrClosed
	case j.stopped == nil:
		return nil
	}
	_ = j.letGo() // what it says is about a disk that has failed already
	f, err := openRegular(j.abs, os.O_RDWR, os.Stat)
	if err != nil {
		return fmt.Errorf("cannot open the journal again: %w", err)
	}
	held, err := hold(f, j.path)
	if err != nil {
		return err
	}
	j.f, j.unlock = f, held.unlock
	if j.wrap != nil {
		j.f = j.wrap(f)
	}
	if err := j.verify(f); err != nil {
		return fmt.Errorf("%s: cannot go on: %w", j.path, both(err, j.letGo()))
	}
	j.stopped, j.failed = nil, nil
	return nil
}

// letGo gives up the lock and the file.
func (j *Journal) letGo() error {
	if j.f == nil {
		return nil
	}
	err := both(j.unlock(), j.f.Close())
	j.f = nil
	return err
}

// verify holds the file to begin with what was acknowledged, and cuts off what is left of the line
// that was not. A tail of something else without a line feed is set aside; any other is another program's and refused.
func (j *Journal) verify(f io.Reader) error {
	sum := crc32.New(castagnoli())
	n, err := io.Copy(sum, io.LimitReader(f, j.end))
	switch {
	case err != nil:
		return err
	case n < j.end:
		return fmt.Errorf("file holds %d bytes, need the %d that were written", n, j.end)
	case sum.Sum32() != j.sum:
		return errors.New("its lines are not those that were written")
	}
	tail, err := io.ReadAll(io.LimitReader(f, maxLine+1))
	if err != nil {
		return err
	}
	switch {
	case bytes.HasPrefix(j.failed, tail): // an empty one too
		return both(j.f.Truncate(j.end), j.f.Sync())
	case bytes.IndexByte(tail, '\n') < 0 && len(tail) <= maxLine:
		_, err := j.mend(tail)
		return err
	}
	return fmt.Errorf("%d bytes more than were written: another program has changed it", len(tail))
}
