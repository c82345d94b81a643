//go:build unix

package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// A settings' file that is a link stays one: it is written behind it, and where nothing is behind it nothing is written.
func TestSettingsBehindALink(t *testing.T) {
	folder := t.TempDir()
	link, to := filepath.Join(folder, "config.toml"), filepath.Join(folder, "mine.toml")
	if err := os.Symlink("mine.toml", link); err != nil {
		t.Fatal(err)
	}
	_, _, err := keepLengths(link, "rings", []float64{60})
	if err == nil || !strings.Contains(err.Error(), "link to one that is not there") {
		t.Errorf("kept behind a link to nothing: %v, want refused", err)
	}
	if _, err := os.Stat(to); !os.IsNotExist(err) {
		t.Errorf("%s: %v, want nothing", to, err)
	}
	if err := os.WriteFile(to, nil, 0o644); err != nil {
		t.Fatal(err)
	}
	if _, _, err := keepLengths(link, "rings", []float64{60}); err != nil {
		t.Errorf("kept behind a link: %v", err)
	}
	if text, err := os.ReadFile(to); err != nil || string(text) != "rings = [60]\n" {
		t.Errorf("behind the link stands %q (%v)", text, err)
	}
	if info, err := os.Lstat(link); err != nil || info.Mode().Type() != os.ModeSymlink {
		t.Errorf("the link is %v (%v), want a link", info.Mode(), err)
	}
}
