package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// What cannot be kept in the settings' file is said, and the file stays as it is, byte for byte: one that is read-only, one that
// would be too large to be read again, and a link to nothing. A byte order mark is read, and stays.
func TestSettingsThatStay(t *testing.T) {
	keep := func(name string) error {
		_, _, err := keepLengths(name, "rings", []float64{60, 25.4})
		return err
	}
	large := []byte("# " + strings.Repeat("x", mostKept-12) + "\n")
	small := []byte("unit = \"mm\"\n")
	for because, text := range map[string][]byte{"is read-only": small, "bytes with them, need at most 1048576": large} {
		file := filepath.Join(t.TempDir(), "config.toml")
		rights := os.FileMode(0o644)
		if text[0] == 'u' {
			rights = 0o444
		}
		if err := os.WriteFile(file, text, rights); err != nil {
			t.Fatal(err)
		}
		if err := keep(file); err == nil || !strings.Contains(err.Error(), because) {
			t.Errorf("kept: %v, want refused: %s", err, because)
		}
		if now, err := os.ReadFile(file); err != nil || !bytes.Equal(now, text) {
			t.Errorf("%s: the file is changed (%v)", because, err)
		}
	}
	file := filepath.Join(t.TempDir(), "config.toml")
	if err := os.WriteFile(file, []byte("\ufeffunit = \"mm\"\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := keep(file); err != nil {
		t.Errorf("behind a byte order mark: %v", err)
	}
	if now, err := os.ReadFile(file); err != nil || string(now) != "\ufeffunit = \"mm\"\nrings = [60, 25.4]\n" {
		t.Errorf("the file is %q (%v)", now, err)
	}
	if all, err := readSettings(file); err != nil || all["rings"].text != "60 25.4 mm" {
		t.Errorf("read back: %+v, %v", all, err)
	}
}
