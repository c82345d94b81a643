package journal

import (
	"fmt"
	"os"
)

// openPlain opens a regular file for reading. A pipe would be waited for without an end, and a device has none: both are refused
// before they are opened.
func openPlain(path string) (*os.File, error) {
	info, err := os.Stat(path)
	if err == nil && !info.Mode().IsRegular() {
		err = notPlain(path)
	}
	if err != nil {
		return nil, fmt.Errorf("cannot read the journal: %w", err)
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, fmt.Errorf("cannot read the journal: %w", err)
	}
	return f, nil
}

func notPlain(path string) error {
	return fmt.Errorf("%s: is a device, a pipe or a folder, must be a file", path)
}
