// Command licences looks at the licence of everything that is linked into the program, on any of the systems that it is built for,
// and at Go's own. The kind is told by the text itself. One that is missing, unknown or copyleft is an error, exit 1.
//
//	go run .ci/licences/main.go          a line per module: kind, module, file
//	go run .ci/licences/main.go -texts   the texts, as a ready binary has to have them beside it
//	go run .ci/licences/main.go -kind F  the kind of one file
package main

import (
	"flag"
	"fmt"
	"log"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
)

var targets = []string{"linux/amd64", "linux/arm64", "darwin/amd64", "darwin/arm64", "windows/amd64", "windows/arm64"}

// kinds are told by what each of them says and no other; the first that fits counts, so those that are refused stand first.
var kinds = []struct {
	name    string
	refused bool
	says    []string // all of it, in small letters, spaces made one
}{
	{"copyleft (GNU)", true, []string{"gnu", "general public license"}},
	{"copyleft (MPL)", true, []string{"mozilla public license"}},
	{"copyleft (EPL)", true, []string{"eclipse public license"}},
	{"copyleft (CDDL)", true, []string{"common development and distribution license"}},
	{"copyleft (EUPL)", true, []string{"european union public licence"}},
	{"copyleft (CC)", true, []string{"sharealike"}},
	{"non-commercial", true, []string{"noncommercial"}},
	{"Apache-2.0", false, []string{"apache license", "version 2.0, january 2004"}},
	{"MIT", false, []string{"permission is hereby granted, free of charge, to any person obtaining a copy", "the above copyright notice",
		`the software is provided "as is"`}},
	{"ISC", false, []string{"permission to use, copy, modify, and", "distribute this software for any purpose with or without fee"}},
	{"BSD-3-Clause", false, []string{"redistributions of source code must retain", "redistributions in binary form must reproduce",
		"neither the name"}},
	{"BSD-2-Clause", false, []string{"redistributions of source code must retain", "redistributions in binary form must reproduce"}},
	{"BSL-1.0", false, []string{"boost software license - version 1.0"}},
	{"patent grant", false, []string{"additional ip rights grant (patents)"}},
}

// elsewhere are modules, by their version, that say their licence in another file: looked at, and to be looked at again when the
// version changes. go-localereader has no more than "License: MIT" and its author in its README.
var elsewhere = map[string]struct{ file, kind, says string }{
	"github.com/mattn/go-localereader v0.0.1": {"README.md", "MIT", "## license mit"},
}

// besides are the licences, in a module's folder, of what others wrote of the packages that are linked.
var besides = map[string][]string{
	"gonum.org/v1/gonum/mathext":                 {"THIRD_PARTY_LICENSES/Probab-LICENSE"},
	"gonum.org/v1/gonum/mathext/internal/cephes": {"THIRD_PARTY_LICENSES/Cephes-LICENSE", "THIRD_PARTY_LICENSES/Boost-LICENSE"},
}

// text is one licence of a module.
type text struct{ module, file, kind string }

func main() {
	log.SetFlags(0)
	log.SetPrefix("licences: ")
	texts, one := flag.Bool("texts", false, "print the texts"), flag.String("kind", "", "tell the kind of one `file`")
	flag.Parse()
	if *one != "" {
		kind, err := kindOf(*one)
		must(err)
		fmt.Println(kind)
		return
	}
	all, err := linked()
	must(err)
	for _, t := range all {
		if !*texts {
			fmt.Printf("%-14s %s, %s\n", t.kind, t.module, filepath.Base(t.file))
			continue
		}
		body, err := os.ReadFile(t.file)
		must(err)
		fmt.Printf("\n%s\n%s, %s\n\n%s", strings.Repeat("-", 72), t.module, filepath.Base(t.file), body)
	}
}

// linked are the licences of Go and of every module with a package that is linked, for whatever target.
func linked() (all []text, err error) {
	root, err := command(nil, "env", "GOROOT")
	if err != nil {
		return nil, err
	}
	version, err := command(nil, "env", "GOVERSION")
	if err != nil {
		return nil, err
	}
	found := map[text]bool{}
	if err := add(found, "Go "+version, filepath.Join(root, "LICENSE")); err != nil {
		return nil, err
	}
	const form = "{{with .Module}}{{if not .Main}}{{.Path}} {{.Version}}\t{{.Dir}}\t{{$.Dir}}\t{{$.ImportPath}}{{end}}{{end}}"
	packages := map[string]bool{}
	for _, target := range targets {
		system, machine, _ := strings.Cut(target, "/")
		lines, err := command([]string{"GOOS=" + system, "GOARCH=" + machine, "CGO_ENABLED=0"}, "list", "-deps", "-f", form,
			"./cmd/trammel")
		if err != nil {
			return nil, err
		}
		for _, l := range strings.Split(lines, "\n") {
			packages[l] = true
		}
	}
	delete(packages, "")
	if len(packages) == 0 {
		return nil, fmt.Errorf("no package of another module is linked, which cannot be")
	}
	for _, l := range slices.Sorted(maps.Keys(packages)) {
		f := strings.Split(l, "\t")
		if err := ofPackage(found, f[0], f[1], f[2], f[3]); err != nil {
			return nil, err
		}
	}
	all = slices.Collect(maps.Keys(found))
	slices.SortFunc(all, func(a, b text) int { return strings.Compare(a.module+"\t"+a.file, b.module+"\t"+b.file) })
	return all, nil
}

// ofPackage adds the licences that a package stands under: in its folder and above it, up to the module's.
func ofPackage(found map[text]bool, module, at, folder, path string) error {
	if e, ok := elsewhere[module]; ok {
		body, err := os.ReadFile(filepath.Join(at, e.file))
		if err != nil || !strings.Contains(flat(body), e.says) {
			return fmt.Errorf("%s: %s does not say %q any more (%v)", module, e.file, e.says, err)
		}
		found[text{module, filepath.Join(at, e.file), e.kind}] = true
		return nil
	}
	any := false
	for ; ; folder = filepath.Dir(folder) {
		for _, name := range []string{"LICENSE*", "LICENCE*", "COPYING*", "NOTICE*", "PATENTS*"} {
			files, err := filepath.Glob(filepath.Join(folder, name))
			if err != nil {
				return err
			}
			for _, file := range files {
				if strings.HasPrefix(filepath.Base(file), "NOTICE") {
					found[text{module, file, "notice"}] = true
					continue
				}
				if err := add(found, module, file); err != nil {
					return err
				}
				any = any || !strings.HasPrefix(filepath.Base(file), "PATENTS")
			}
		}
		if folder == at || len(folder) <= len(at) {
			break
		}
	}
	for _, file := range besides[path] {
		if err := add(found, module, filepath.Join(at, file)); err != nil {
			return err
		}
	}
	if !any {
		return fmt.Errorf("%s: no licence in %s", module, at)
	}
	return nil
}

func add(found map[text]bool, module, file string) error {
	kind, err := kindOf(file)
	if err != nil {
		return fmt.Errorf("%s: %w", module, err)
	}
	found[text{module, file, kind}] = true
	return nil
}

// kindOf tells a licence by its text.
func kindOf(file string) (string, error) {
	body, err := os.ReadFile(file)
	if err != nil {
		return "", err
	}
	words := flat(body)
	for _, k := range kinds {
		if !slices.ContainsFunc(k.says, func(s string) bool { return !strings.Contains(words, s) }) {
			if k.refused {
				return "", fmt.Errorf("%s: %s, which is not let in", file, k.name)
			}
			return k.name, nil
		}
	}
	return "", fmt.Errorf("%s: a kind of licence that is not known here; look at it, and name it in .ci/licences/main.go", file)
}

// flat is a text in small letters with its spaces made one and its quotes plain.
func flat(body []byte) string {
	s := strings.NewReplacer("“", `"`, "”", `"`, "``", `"`, "''", `"`).Replace(string(body))
	return strings.ToLower(strings.Join(strings.Fields(s), " "))
}

func command(env []string, args ...string) (string, error) {
	c := exec.Command("go", args...)
	c.Env, c.Stderr = append(os.Environ(), env...), os.Stderr
	out, err := c.Output()
	return strings.TrimSpace(string(out)), err
}

func must(err error) {
	if err != nil {
		log.Fatal(err)
	}
}
