package main

import (
	"bufio"
	"bytes"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode/utf8"
)

// widest is the longest a line of the code may be, in columns, a tab counted as four. A line that holds a raw string, or
// is one string and no more, may be longer: it is text that is read as it stands.
const widest = 140

// A line that runs out of a window is not read.
func TestLinesFitAWindow(t *testing.T) {
	seen := 0
	err := filepath.WalkDir(top, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() || filepath.Ext(path) != ".go" {
			return err
		}
		text, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		seen++
		for n, line := 1, bufio.NewScanner(bytes.NewReader(text)); line.Scan(); n++ {
			l := strings.ReplaceAll(line.Text(), "\t", "    ")
			if strings.Contains(l, "`") || strings.Count(l, `"`) == 2 {
				continue
			}
			if w := utf8.RuneCountInString(l); w > widest {
				t.Errorf("%s:%d is %d columns wide, need at most %d", path, n, w, widest)
			}
		}
		return nil
	})
	if err != nil || seen < 100 {
		t.Fatalf("%d files read: %v", seen, err)
	}
}
