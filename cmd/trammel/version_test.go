package main

import (
	"runtime/debug"
	"testing"
)

// What each way to build the program leaves in it, as Go 1.26 was seen to write it: go version -m shows a binary's.
func TestVersions(t *testing.T) {
	stamped := []debug.BuildSetting{{Key: "vcs.revision", Value: "ea7947bc0f3c2f0f5e5d8a1b9b7a4d3e2f1a0b9c"},
		{Key: "vcs.time", Value: "2026-11-30T15:12:01Z"}, {Key: "vcs.modified", Value: "false"}}
	changed := append(stamped[:2:2], debug.BuildSetting{Key: "vcs.modified", Value: "true"})
	build := func(version string, settings []debug.BuildSetting) *debug.BuildInfo {
		return &debug.BuildInfo{GoVersion: "go1.26.8", Main: debug.Module{Version: version}, Settings: settings}
	}
	for _, c := range []struct {
		how, said string
		info      *debug.BuildInfo
		program   string
		want      string
	}{
		{"a ready binary", "0.3.0", build("v0.3.0", stamped), "trammel 0.3.0", "trammel 0.3.0 (ea7947bc0f3c, 2026-11-30) go1.26.8"},
		{"a ready binary of a commit without a tag", "0.0.0-20261130151201-ea7947bc0f3c+dirty", build("(devel)", changed),
			"trammel 0.0.0-20261130151201-ea7947bc0f3c+dirty",
			"trammel 0.0.0-20261130151201-ea7947bc0f3c+dirty (ea7947bc0f3c and changes, 2026-11-30) go1.26.8"},
		{"go build in a clone", "", build("v0.0.0-20261130151201-ea7947bc0f3c", stamped), "trammel 0.0.0-20261130151201-ea7947bc0f3c",
			"trammel 0.0.0-20261130151201-ea7947bc0f3c (ea7947bc0f3c, 2026-11-30) go1.26.8"},
		{"go run", "", build("(devel)", nil), "trammel development", "trammel development (commit unknown) go1.26.8"},
		{"go install of a version", "", build("v0.3.0", nil), "trammel 0.3.0", "trammel 0.3.0 (commit unknown) go1.26.8"},
		{"a build that says nothing", "", nil, "trammel development", "trammel development"},
	} {
		if got := programOf(c.said, c.info); got != c.program {
			t.Errorf("%s: %q, want %q", c.how, got, c.program)
		}
		if got := wholeVersionOf(c.said, c.info); got != c.want {
			t.Errorf("%s: %q, want %q", c.how, got, c.want)
		}
	}
}
