package journal

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
)

// Recovery says what Open had to mend.
type Recovery struct {
	Torn     int    // bytes of an unfinished last line that were cut off; 0 when there were none
	TornPath string // the file that keeps those bytes
}

// maxTornFiles bounds the search for a free name. Each of them is a power cut.
const maxTornFiles = 100

// mend keeps the torn bytes in a file of their own and cuts them off the journal. They are on
// disk in their new place before they leave the old one; when they cannot be kept, the journal
// stays as it is.
func (j *Journal) mend(torn []byte) (Recovery, error) {
	kept, err := setAside(j.path, torn)
	if err != nil {
		return Recovery{}, fmt.Errorf("%s: unfinished last line cannot be set aside: %w", j.path, err)
	}
	if err := both(j.f.Truncate(j.end), j.f.Sync()); err != nil {
		return Recovery{}, fmt.Errorf("%s: unfinished last line cannot be cut off: %w", j.path, err)
	}
	return Recovery{Torn: len(torn), TornPath: kept}, nil
}

// setAside writes the torn bytes of the journal at path beside it, to the first free name of
// path.torn, path.torn.2, path.torn.3 and so on.
func setAside(path string, torn []byte) (string, error) {
	for n := 1; n <= maxTornFiles; n++ {
		name := path + ".torn"
		if n > 1 {
			name = fmt.Sprintf("%s.%d", name, n)
		}
		f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
		if errors.Is(err, fs.ErrExist) {
			continue
		}
		if err != nil {
			return "", err
		}
		_, err = f.Write(torn)
		if err == nil {
			err = toDisk.file(f)
		}
		if err = both(err, f.Close()); err == nil {
			err = toDisk.dir(filepath.Dir(name))
		}
		if err != nil {
			return "", both(err, os.Remove(name))
		}
		return name, nil
	}
	return "", fmt.Errorf("%s.torn and %d more exist, need a free name: move them elsewhere", path, maxTornFiles-1)
}
