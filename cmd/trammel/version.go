package main

import (
	"cmp"
	"fmt"
	"runtime/debug"
	"strings"
)

// version is what a ready binary was built as: .ci/release says it to the linker. Empty in every other build, for which the
// stamp of the version control speaks.
var version string

// programName names the program in journals: trammel and its version.
func programName() string {
	info, _ := debug.ReadBuildInfo()
	return programOf(version, info)
}

func programOf(said string, info *debug.BuildInfo) string {
	if info != nil && info.Main.Version != "(devel)" {
		said = cmp.Or(said, info.Main.Version)
	}
	return "trammel " + cmp.Or(strings.TrimPrefix(said, "v"), "development")
}

// wholeVersion is what --version says: the version, the commit with its day, and the Go that it was built by.
func wholeVersion() string {
	info, _ := debug.ReadBuildInfo()
	return wholeVersionOf(version, info)
}

func wholeVersionOf(said string, info *debug.BuildInfo) string {
	name := programOf(said, info)
	if info == nil {
		return name
	}
	stamp := stampOf(info)
	commit := "commit unknown" // of go run, which stamps none, and of a module from a cache
	if c := stamp["vcs.revision"]; c != "" {
		day, _, _ := strings.Cut(stamp["vcs.time"], "T")
		commit = c[:min(len(c), commitDigits)]
		if stamp["vcs.modified"] == "true" {
			commit += " and changes"
		}
		commit += ", " + cmp.Or(day, "day unknown")
	}
	return fmt.Sprintf("%s (%s) %s", name, commit, info.GoVersion)
}

// commitDigits is how many of a commit's figures are told, as many as Go's own stamp has.
const commitDigits = 12

// stampOf is what a build says of itself, by key; nothing where it says nothing.
func stampOf(info *debug.BuildInfo) map[string]string {
	stamp := map[string]string{}
	if info != nil {
		for _, s := range info.Settings {
			stamp[s.Key] = s.Value
		}
	}
	return stamp
}
